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
        string full = Path.GetFullPath(path);
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
                Repairer.Repair(target, now);
                change.Commit();
                return found;
            }
        });
        Replacement.Put(part, path, aside);
        return losses;
    }
}
