using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;

namespace PackCare.Import.Tests;

public class DialectPropertyTests
{
    /// <summary>Seeds of logs that were once read wrong, or refused though they prove themselves.</summary>
    public static TheoryData<int> KeptSeeds => [24, 373, 644, 1033, 1067, 1738, 1888, 2250, 5636, 9713, 10256, 10384, 11080, 13772, 14008, 14966, 15640, 26833, 26914, 27837, 512578, 3000975];

    [Theory]
    [MemberData(nameof(KeptSeeds))]
    public void A_log_that_once_came_back_otherwise_comes_back_identical(int seed) => WriteAndRead(seed);

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
    private static string? Difference(GeneratedSession session, LogWriter writer, SampleSeries read, string[] told)
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
            ?? (writer.Layout == 1 || (read[ChannelKey.Charge] is null && Undecidable.MayLeaveOutCharge(session, writer, told)) ? null : Compare(read, ChannelKey.Charge, session.ChargeMilliAmpereHours, 1000))
            ?? (writer.Layout == 0 ? Compare(read, ChannelKey.PackVoltage, [.. Enumerable.Range(0, session.Rows).Select(r => session.CellMillivolts.Sum(cell => cell[r]))], 1000) : null)
            ?? (writer.Layout == 1 || (read[ChannelKey.Temperature(1)] is null && Undecidable.MayLeaveOutTemperature(writer, told)) ? null : Compare(read, ChannelKey.Temperature(1), session.TenthsCelsius, 10));
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

    /// <summary>A session and a form to write it in; every other one in a rarer form, every sixth with a small current.</summary>
    internal static (GeneratedSession Session, LogWriter Writer) Make(int seed)
    {
        var random = new Random(seed);
        var rarer = new Random(~seed);
        GeneratedSession session = GeneratedSession.Make(random, rarer.Next(6) == 0 ? rarer.Next(20, 1000) : null);
        LogWriter writer = LogWriter.Make(random);
        return (session, rarer.Next(2) == 0 ? writer.Vary(rarer) : writer);
    }

    private static void WriteAndRead(int seed)
    {
        (GeneratedSession session, LogWriter writer) = Make(seed);
        byte[] bytes = writer.Write(session, out _);

        ReadResult result = Logs.ReadBytes(bytes);

        Assert.True(result.Ledger.Balances);
        if (result.Refused && result.Problems.First(problem => problem.Level == ProblemLevel.Refusal).Code is string code && Undecidable.MayRefuse(session, writer, code))
        {
            return;
        }

        Assert.False(result.Refused, $"seed {seed}: {writer}\n{string.Join("\n", result.Problems)}\n{Start(bytes)}");
        SessionLog read = Assert.Single(result.Sessions);
        string? difference = Difference(session, writer, read.Samples, [.. result.Problems.Select(problem => problem.Code)]);
        Assert.True(difference is null, $"seed {seed}: {difference}\n{writer}\n{Start(bytes)}");
    }
}
