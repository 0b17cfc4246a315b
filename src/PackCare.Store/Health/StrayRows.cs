using Microsoft.Data.Sqlite;
using PackCare.Core.Samples;
using PackCare.Store.Tables;

namespace PackCare.Store.Health;

/// <summary>Tells to which table a row belongs that was found without its tree, and adds it where it is not there yet.</summary>
internal sealed class StrayRows : IDisposable
{
    private const int MostAdded = 2;

    private readonly List<(bool Numbered, Func<object?[], bool> Fits, int Columns, Insertion Insertion)> _tables = [];

    public StrayRows(SqliteConnection target)
    {
        // In order of columns: i integer, t text, r real (stored as an integer where it is whole), a capital may be NULL.
        Add(target, "pack", "itt" + "iit" + "RRTTTTT" + "ti" + "ii", row => IsTime(row[13]));
        Add(target, "retirement", "iititi", row => IsTime(row[2]));
        Add(target, "file", "ittitittti", row => row[1] is string { Length: 64 } && IsTime(row[4]));
        Add(target, "session", "iiiITtitiii", row => IsTime(row[5]));
        Add(target, "spot_check", "iitiRi", row => IsTime(row[2]));
        Add(target, "diary_entry", "iititiiRTi", row => IsTime(row[2]));
        Add(target, "spot_check_cell", "iiRR", _ => true, numbered: false);
        Add(target, "sample_block", "iiiiiibb", IsBlock);
    }

    public void Keep(bool numbered, object?[] row)
    {
        foreach ((bool ofNumbers, Func<object?[], bool> fits, int columns, Insertion insertion) in _tables)
        {
            // Rows from before columns were added are shorter by those columns.
            object?[] whole = numbered && row.Length < columns && row.Length >= columns - MostAdded ? [.. row, .. Enumerable.Repeat<object?>(0L, columns - row.Length)] : row;
            if (ofNumbers == numbered && whole.Length == columns && fits(whole))
            {
                insertion.TryRun(whole);
                return;
            }
        }
    }

    public void Dispose()
    {
        foreach ((_, _, _, Insertion insertion) in _tables)
        {
            insertion.Dispose();
        }
    }

    private static bool IsTime(object? value) => value is string { Length: 28 } text && text[10] == 'T' && text[^1] == 'Z';

    // The checksum leaves no doubt.
    private static bool IsBlock(object?[] row) =>
        row[6] is byte[] encoded
        && row[7] is byte[] checksum
        && row[1] is long session && row[2] is long and >= 0 and < 256 and var kind && row[3] is long and >= 0 and < 256 and var index
        && row[4] is long ordinal && row[5] is long count
        && SampleBlocks.Checksum(session, new ChannelKey((ChannelKind)kind, (int)index), ordinal, count, encoded).AsSpan().SequenceEqual(checksum);

    private static bool Matches(char form, object? value) => form switch
    {
        'i' => value is long,
        't' => value is string,
        'b' => value is byte[],
        'I' => value is null or long,
        'T' => value is null or string,
        _ => value is null or long or double,
    };

    private void Add(SqliteConnection target, string table, string form, Func<object?[], bool> sense, bool numbered = true)
    {
        string[] columns = Salvager.Columns(target, table);
        if (columns.Length != form.Length)
        {
            throw new InvalidOperationException($"{table} has {columns.Length} columns, its form {form.Length}.");
        }

        _tables.Add((
            numbered,
            row => row.Zip(form).All(pair => Matches(pair.Second, pair.First)) && sense(row),
            columns.Length,
            new Insertion(target, table, columns, "OR IGNORE")));
    }
}
