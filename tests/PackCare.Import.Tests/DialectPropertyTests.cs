using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;

namespace PackCare.Import.Tests;

public class DialectPropertyTests
{
    [Fact]
    public void Any_session_in_any_dialect_comes_back_identical()
    {
        foreach (int seed in Seeds.OfThisRun(usual: 300))
        {
            WriteAndRead(seed);
        }
    }

    internal static string Start(byte[] bytes) => System.Text.Encoding.Latin1.GetString(bytes.AsSpan(0, Math.Min(600, bytes.Length)));

    /// <summary>Where a read session differs from what was written; null if nowhere.</summary>
    internal static string? Difference(GeneratedSession session, LogWriter writer, SampleSeries read)
    {
        if (read.CellCount != session.Cells)
        {
            return $"{read.CellCount} cells of {session.Cells}";
        }

        if (read.Count != session.Rows)
        {
            return $"{read.Count} rows of {session.Rows}";
        }

        return Compare(read, ChannelKey.Time, session.TimeSeconds, 1)
            ?? Compare(read, ChannelKey.Current, session.MilliAmperes, 1000)
            ?? Enumerable.Range(0, session.Cells).Select(c => Compare(read, ChannelKey.Cell(c + 1), session.CellMillivolts[c], 1000)).FirstOrDefault(text => text is not null)
            ?? (writer.Layout == 1 ? null : Compare(read, ChannelKey.Charge, session.ChargeMilliAmpereHours, 1000))
            ?? (writer.Layout == 0 ? Compare(read, ChannelKey.PackVoltage, [.. Enumerable.Range(0, session.Rows).Select(r => session.CellMillivolts.Sum(cell => cell[r]))], 1000) : null)
            ?? (writer.Layout == 1 || writer.Header < 0 ? null : Compare(read, ChannelKey.Temperature(1), session.TenthsCelsius, 10));
    }

    private static string? Compare(SampleSeries read, ChannelKey key, int[] truth, int divisor)
    {
        decimal?[]? values = read[key]?.ToDecimals().ToArray();
        if (values is null)
        {
            return $"no {key}";
        }

        for (int r = 0; r < truth.Length; r++)
        {
            if (values[r] != (decimal)truth[r] / divisor)
            {
                return $"{key} in row {r + 1}: {values[r]} where {(decimal)truth[r] / divisor} was written";
            }
        }

        return null;
    }

    private static void WriteAndRead(int seed)
    {
        var random = new Random(seed);
        GeneratedSession session = GeneratedSession.Make(random);
        LogWriter writer = LogWriter.Make(random);
        byte[] bytes = writer.Write(session, out _);

        ReadResult result = Logs.ReadBytes(bytes);

        Assert.True(result.Ledger.Balances);
        if (writer.Header < 0 && result.Problems.Any(problem => problem.Code == "ambiguous-current"))
        {
            // Without a header a session of a few mAh may leave two columns that could each be the current.
            return;
        }

        Assert.False(result.Refused, $"seed {seed}: {writer}\n{string.Join("\n", result.Problems)}\n{Start(bytes)}");
        SessionLog read = Assert.Single(result.Sessions);
        string? difference = Difference(session, writer, read.Samples);
        Assert.True(difference is null, $"seed {seed}: {difference}\n{writer}\n{Start(bytes)}");
    }
}
