using System.Globalization;
using Dapper;
using Microsoft.Data.Sqlite;

namespace PackCare.Store.Opening;

/// <summary>Copies a history while it is in use. A copy stands under its name only when it is whole and on the disk.</summary>
internal static class Copies
{
    /// <summary>Copies what the source holds at this moment to a file that is replaced where it exists.</summary>
    /// <param name="source">The open history.</param>
    /// <param name="target">Where the copy goes.</param>
    /// <param name="verify">Looks at the copy before it gets its name; throws where it is not good enough.</param>
    public static void Write(SqliteConnection source, string target, Action<SqliteConnection>? verify = null)
    {
        Finish(WritePart(source, target, verify), target);
    }

    /// <summary>Gives a finished part its name.</summary>
    public static void Finish(string part, string target)
    {
        try
        {
            File.Move(part, target, overwrite: true);
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            Remove(part);
            throw Faults.NotWritable(target, error);
        }
    }

    /// <summary>Makes the copy under a passing name beside the target, and returns that name.</summary>
    public static string WritePart(SqliteConnection source, string target, Action<SqliteConnection>? verify)
    {
        string part = target + ".part";
        try
        {
            Remove(part);
            Database.Guard(target, () =>
            {
                using SqliteConnection copy = Opener.Connection(part, SqliteOpenMode.ReadWriteCreate);
                copy.Open();
                source.BackupDatabase(copy);

                // One file that needs no helper files beside it, wherever it is put.
                copy.Execute("PRAGMA journal_mode = DELETE");
                verify?.Invoke(copy);
                return true;
            });
            using FileStream file = new(part, FileMode.Open, FileAccess.ReadWrite);
            file.Flush(flushToDisk: true);
            return part;
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            Remove(part);
            throw Faults.NotWritable(target, error);
        }
        catch
        {
            Remove(part);
            throw;
        }
    }

    /// <summary>Puts a finished part in the place of a file, which is kept under another name.</summary>
    public static void Exchange(string part, string target, string aside)
    {
        try
        {
            // Helper files that could not be folded in belong to the old file; beside the new one they would spoil it.
            MoveIfThere(target + "-wal", aside + "-wal");
            File.Delete(target + "-shm");
            MoveIfThere(target + "-journal", aside + "-journal");
            File.Replace(part, target, aside);
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            throw Faults.NotWritable(target, error);
        }
    }

    /// <summary>A name beside the file that is not taken, with what it is for and the time in it.</summary>
    public static string Aside(string path, string purpose, DateTimeOffset now)
    {
        string stem = $"{path}.{purpose}-{now.UtcDateTime.ToString("yyyyMMdd'T'HHmmss'Z'", CultureInfo.InvariantCulture)}";
        string name = stem;
        for (int i = 2; File.Exists(name); i++)
        {
            name = string.Create(CultureInfo.InvariantCulture, $"{stem}-{i}");
        }

        return name;
    }

    private static void MoveIfThere(string from, string to)
    {
        if (File.Exists(from))
        {
            File.Move(from, to);
        }
    }

    public static void Remove(string part)
    {
        foreach (string end in (string[])["", "-wal", "-shm", "-journal"])
        {
            try
            {
                File.Delete(part + end);
            }
            catch (DirectoryNotFoundException)
            {
            }
        }
    }
}
