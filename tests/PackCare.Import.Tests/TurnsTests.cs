using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Core.Samples;

namespace PackCare.Import.Tests;

/// <summary>Two invented packs of two cells, logged row by row in turns.</summary>
public class TurnsTests
{
    private const int Rows = 24;
    private const double Amps = 1.5;

    [Theory]
    [InlineData("pack;time s;cell 1 V;cell 2 V;current A;charge in Ah;charge out Ah", false)]
    [InlineData("pack;time s;cell 1 V;cell 2 V;charge current A;discharge current A;charge in Ah;charge out Ah", true)]
    public void Counters_of_one_pack_sign_no_current_of_the_other(string header, bool isSplit)
    {
        string log = Log(header, 0, (pack, row) => string.Create(CultureInfo.InvariantCulture, $"{(row < 3 ? 0 : Amps * (pack + 1)):F2};{(isSplit ? "0.00;" : "")}{Charge(row) * (pack + 1):F3};0.000"));

        ReadResult result = Logs.ReadText(log);

        Assert.Equal(2, result.Sessions.Count);
        Assert.All(result.Sessions, (session, pack) => Assert.Equal((decimal)Amps * (pack + 1), session.Samples[ChannelKey.Current]!.ToDecimals().Last()));
    }

    [Fact]
    public void Both_begin_when_the_log_does()
    {
        ReadResult result = Logs.ReadText("# start: 2026-05-01T10:00:00Z\n" + Log("pack;time s;cell 1 V;cell 2 V;current A", 0, (_, row) => row < 3 ? "0.00" : "1.50"));

        Assert.Equal([new DateTimeOffset(2026, 5, 1, 10, 0, 0, TimeSpan.Zero), new DateTimeOffset(2026, 5, 1, 10, 0, 0, TimeSpan.Zero)], result.Sessions.Select(session => session.Started));
    }

    [Theory]
    [InlineData(7200)]
    [InlineData(-100)]
    public void A_pause_or_a_fresh_start_cuts_both(int jump)
    {
        ReadResult result = Logs.ReadText("# start: 2026-05-01T10:00:00Z\n" + Log("pack;time s;cell 1 V;cell 2 V;current A", jump, (_, row) => row % 12 < 3 ? "0.00" : "1.50"));

        Assert.Equal(["Heron", "Teal", "Heron", "Teal"], result.Sessions.Select(session => session.PackHint));
        Assert.All(result.Sessions, session => Assert.Equal(12, session.Samples.Count));
        Assert.Equal(result.Sessions[0].Started, result.Sessions[1].Started);
        Assert.Equal(result.Sessions[2].Started, result.Sessions[3].Started);
        Assert.True(result.Sessions[2].Started > result.Sessions[0].Started);
    }

    private static double Charge(int row) => Math.Max(0, row - 3) * 10 * Amps / 3600;

    private static string Log(string header, int jump, Func<int, int, string> more)
    {
        IEnumerable<string> rows =
            from row in Enumerable.Range(0, Rows)
            from pack in Enumerable.Range(0, 2)
            let seconds = jump < 0 ? row % 12 * 10 : (row * 10) + (row < 12 ? 0 : jump)
            let volts = 3.70 - (0.08 * pack) + (0.002 * row) + (row < 3 ? 0 : 0.012)
            select string.Create(CultureInfo.InvariantCulture, $"{(pack == 0 ? "Heron" : "Teal")};{seconds};{volts:F3};{volts + 0.004:F3};{more(pack, row)}");
        return header + "\n" + string.Join('\n', rows) + "\n";
    }
}
