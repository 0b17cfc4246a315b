using Dapper;
using Microsoft.Data.Sqlite;
using PackCare.Store.Opening;
using PackCare.Store.Schema;

namespace PackCare.Store.Health;

/// <summary>Examines a history and, when asked, puts it right; the file as it was is always kept.</summary>
internal static class Doctor
{
    public static HealthReport Examine(string path)
    {
        try
        {
            using Database database = Opener.Open(path, create: false, Opener.UsualPatience);
            return database.Read(Examiner.Examine);
        }
        catch (HistoryException error) when (error.Fault == HistoryFault.Damaged)
        {
            return new HealthReport(0, 0, 0, [new Complaint(ComplaintKind.Pages, error.Message)], [], []);
        }
    }

    public static HealthReport Repair(string path, DateTimeOffset now)
    {
        string full = Opener.FullPath(path);
        HealthReport before = Examine(full);
        if (before.Sound)
        {
            return before;
        }

        string aside = Copies.Aside(full, "damaged", now);
        IReadOnlyList<Complaint> losses = [];
        if (before.Complaints.Any(complaint => complaint.Kind == ComplaintKind.Pages))
        {
            losses = Rebuild(full, aside, now);
        }
        else
        {
            using Database database = Opener.Open(full, create: false, Opener.UsualPatience);
            database.Write(connection =>
            {
                using SqliteConnection source = Opener.Connection(full, SqliteOpenMode.ReadOnly);
                source.Open();
                Copies.Write(source, aside);
                Repairer.Repair(connection, now);
            });
        }

        HealthReport after = Examine(full);
        HashSet<Complaint> left = [.. after.Complaints];
        return after with
        {
            Complaints = [.. losses, .. after.Complaints],
            Repaired = [.. before.Complaints.Where(complaint => !left.Contains(complaint))],
            KeptAside = aside,
        };
    }

    // From a copy: reading the file itself by other means than SQLite would take away the locks that this process holds on it.
    private static void AddStrayRows(string path, SqliteConnection source, SqliteConnection target)
    {
        string copy = path + ".pages";
        try
        {
            using (SqliteConnection pages = Opener.Connection(copy, SqliteOpenMode.ReadWriteCreate))
            {
                pages.Open();
                source.BackupDatabase(pages);
            }

            using FileStream file = File.OpenRead(copy);
            using var stray = new StrayRows(target);
            foreach ((bool numbered, object?[] row) in new PageScanner(file).Rows())
            {
                stray.Keep(numbered, row);
            }
        }
        catch (Exception error) when (error is SqliteException or EndOfStreamException or InvalidDataException)
        {
            // Too little is left for a copy of the pages; what the trees led to is all there is.
        }
        finally
        {
            Copies.Remove(copy);
        }
    }

    private static IReadOnlyList<Complaint> Rebuild(string path, string aside, DateTimeOffset now)
    {
        string part = path + ".part";
        Copies.Remove(part);
        IReadOnlyList<Complaint> losses = Database.Guard(path, () =>
        {
            using SqliteConnection source = Opener.OpenUnchanged(path);

            // Lets SQLite read on where the file is shorter than it says.
            source.Execute("PRAGMA writable_schema = ON");
            using SqliteConnection target = Opener.Connection(part, SqliteOpenMode.ReadWriteCreate);
            target.Open();
            Migrations.Apply(target, () => { });
            target.Execute("PRAGMA foreign_keys = OFF");
            using (SqliteTransaction change = target.BeginTransaction(deferred: false))
            {
                IReadOnlyList<Complaint> found = new Salvager(source, target).Run();
                AddStrayRows(path, source, target);
                Repairer.Repair(target, now);
                change.Commit();
                return found;
            }
        });
        Replacement.Put(part, path, aside);
        return losses;
    }
}
