using Microsoft.Data.Sqlite;
using PackCare.Store.Exchange;
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
        string full = Opener.FullPath(target);
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
        string full = Opener.FullPath(path);
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
        using (SqliteConnection source = Opener.OpenUnchanged(Opener.FullPath(backup)))
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

    /// <summary>
    /// Writes all that stands in a history to a new folder of open files, which docs/export.md describes. The same history
    /// gives the same bytes.
    /// </summary>
    /// <param name="history">What to export: its state at this moment, whatever others write meanwhile.</param>
    /// <param name="folder">The folder; it must not be there yet, or be empty.</param>
    public static ExportReport Export(History history, string folder)
    {
        string full = Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder));
        if (File.Exists(full) || (Directory.Exists(full) && Directory.EnumerateFileSystemEntries(full).Any()))
        {
            throw Faults.Exists(full);
        }

        string part = full + ".part";
        try
        {
            RemoveFolder(part);
            Directory.CreateDirectory(part);
            ExportReport report = history.Read(connection => new Exporter(connection, part).Run());
            if (Directory.Exists(full))
            {
                Directory.Delete(full);
            }

            Directory.Move(part, full);
            return report;
        }
        catch (Exception error)
        {
            RemoveFolder(part);
            if (error is IOException or UnauthorizedAccessException)
            {
                throw Faults.NotWritable(full, error);
            }

            throw;
        }
    }

    /// <summary>Whether a path is a folder that an export was written to.</summary>
    public static bool IsExport(string path) => File.Exists(Path.Combine(path, Exporter.FormName)) && File.Exists(Path.Combine(path, HashedFolder.ListName));

    /// <summary>Makes a history of an exported folder. Only a folder whose every file is as it was exported is taken in, and wholly.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="path">Where the history goes; nothing may be there.</param>
    public static void Import(string folder, string path)
    {
        string full = Opener.FullPath(path);
        if (File.Exists(full) || Directory.Exists(full))
        {
            throw Faults.Exists(full);
        }

        if (!Directory.Exists(folder))
        {
            throw Faults.NotAnExport(folder, "there is no such folder");
        }

        string part = full + ".part";
        try
        {
            Copies.Remove(part);
            using (Database database = Opener.Open(part, create: true, Opener.UsualPatience))
            {
                database.Write(connection =>
                {
                    new Importer(connection, folder).Run();

                    // What came from an export is the beginning; there is nothing before it to go back to.
                    Script.Run(connection, "DELETE FROM change; UPDATE pack SET revision = 1");
                });
                Script.Run(database.Connection, "PRAGMA journal_mode = DELETE");
            }

            Copies.Finish(part, full);
        }
        catch (Exception error)
        {
            Copies.Remove(part);
            switch (error)
            {
                case FormatException or HistoryException { Fault: HistoryFault.Conflict }:
                    throw Faults.NotAnExport(folder, error.Message.TrimEnd('.'), error);
                case IOException or UnauthorizedAccessException:
                    throw Faults.NotAnExport(folder, "it could not be read", error);
                default:
                    throw;
            }
        }
    }

    private static void RemoveFolder(string folder)
    {
        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }
    }

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
