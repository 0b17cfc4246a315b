using System.Globalization;
using Microsoft.Data.Sqlite;
using PackCare.Store.Opening;

namespace PackCare.Store.Schema;

/// <summary>The numbered steps from an empty file to the present structure; SQLite's user_version says how far a file has come.</summary>
internal static class Migrations
{
    /// <summary>Marks a SQLite file as a history ("PaCk" in ASCII).</summary>
    public const int ApplicationId = 0x5061436B;

    public const int Latest = 3;

    /// <summary>Brings a file up to date in one transaction. Where another program was faster, nothing is left to do.</summary>
    /// <param name="connection">The file.</param>
    /// <param name="before">Runs once the file is locked, before anything is changed.</param>
    /// <param name="target">The version to reach.</param>
    public static void Apply(SqliteConnection connection, Action before, int target = Latest)
    {
        using SqliteTransaction change = connection.BeginTransaction(deferred: false);
        long version = Opener.Pragma(connection, "user_version");
        if (version >= target)
        {
            return;
        }

        before();
        for (long next = version + 1; next <= target; next++)
        {
            Script.Run(connection, Text(next));
        }

        Script.Run(connection, string.Create(
            CultureInfo.InvariantCulture,
            $"PRAGMA application_id = {ApplicationId}; PRAGMA user_version = {target};"));
        change.Commit();
    }

    private static string Text(long number)
    {
        string name = string.Create(CultureInfo.InvariantCulture, $"{number:0000}.sql");
        using Stream stream = typeof(Migrations).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"Migration {name} is not in the assembly.");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
