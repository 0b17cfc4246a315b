using Microsoft.Data.Sqlite;
using PackCare.Store.Health;
using PackCare.Store.Opening;

namespace PackCare.Store;

/// <summary>What is done with a history file as a whole. Every member throws <see cref="HistoryException"/> where a file fails.</summary>
public static class HistoryFile
{
    /// <summary>Copies a history while it is in use, and verifies the copy before it gets its name.</summary>
    /// <param name="history">What to copy: its state at this moment.</param>
    /// <param name="target">The copy, one file that needs nothing beside it.</param>
    /// <param name="replace">Whether a file of that name may be replaced.</param>
    /// <returns>What the examination of the copy found: where samples in it are damaged, they were so in the history.</returns>
    public static HealthReport Backup(History history, string target, bool replace)
    {
        string full = Path.GetFullPath(target);
        if (Directory.Exists(full))
        {
            throw Faults.IsAFolder(full);
        }

        if (File.Exists(full) && !replace)
        {
            throw Faults.Exists(full);
        }

        HealthReport? report = null;
        history.CopyTo(full, copy => report = Verify(full, copy));
        return report!;
    }

    /// <summary>Puts a backup in the place of a history; the backup itself is not changed.</summary>
    /// <param name="backup">A backup, or any other history that is not damaged in its pages.</param>
    /// <param name="path">Where it goes.</param>
    /// <param name="replace">Whether a history there may be replaced; it is kept beside it under another name.</param>
    /// <param name="now">The present time, for that name.</param>
    /// <returns>Where the replaced file is kept, or null where there was none.</returns>
    public static string? Restore(string backup, string path, bool replace, DateTimeOffset now)
    {
        string full = Path.GetFullPath(path);
        if (Directory.Exists(full))
        {
            throw Faults.IsAFolder(full);
        }

        bool exists = File.Exists(full);
        if (exists && !replace)
        {
            throw Faults.Exists(full);
        }

        string part;
        using (SqliteConnection source = Opener.OpenUnchanged(Path.GetFullPath(backup)))
        {
            Opener.MakeFolder(full);
            part = Copies.WritePart(source, full, copy => Verify(backup, copy));
        }

        if (!exists)
        {
            Copies.Finish(part, full);
            return null;
        }

        string aside = Copies.Aside(full, "replaced", now);
        Replacement.Put(part, full, aside);
        return aside;
    }

    /// <summary>Looks for everything that could be wrong with a history, and changes nothing in it.</summary>
    public static HealthReport Examine(string path) => Doctor.Examine(path);

    /// <summary>
    /// Examines a history and puts right what can be. No readable sample is lost: readings whose owner is gone get a stand-in,
    /// damaged blocks are set aside and read as missing, and the file as it was is kept beside it.
    /// </summary>
    /// <param name="path">The history.</param>
    /// <param name="now">The present time, for names and stand-ins.</param>
    public static HealthReport Repair(string path, DateTimeOffset now) => Doctor.Repair(path, now);

    private static HealthReport Verify(string path, SqliteConnection copy)
    {
        List<Complaint> pages = [.. Examiner.Pages(copy)];
        return pages.Count > 0
            ? throw Faults.Damaged(path, pages[0].Text.TrimEnd('.'))
            : Opener.Pragma(copy, "user_version") < Schema.Migrations.Latest
                ? new HealthReport(0, 0, 0, [], [], [])
                : Examiner.Examine(copy);
    }
}
