using PackCare.Core.Reading;
using PackCare.Core.Samples;
using static PackCare.Import.Tests.TestSession;

namespace PackCare.Import.Tests;

/// <summary>The direction of a current that has one sign throughout, told by what the cells do; or the log is refused, or its reader told.</summary>
public class UnsignedCurrentTests
{
    private const string Header = "time [s],current [A],cell 1 [V],cell 2 [V],cell 3 [V]";

    // A load that is never the same for long and never leaps: no step shows, every change does.
    private static List<Row> Flight(int rows = 60, double from = 4.0) => Of(rows, 0.3, from, i => -(9 + (5 * Math.Sin(i * 0.9)) + (3 * Math.Sin(i * 0.37))));

    [Fact]
    public void A_load_that_slides_is_told_by_the_sag_of_each_change()
    {
        string log = Log(Header, Flight(), (row, _) => $"{row.T},{row.Size},{row.V}");

        ReadResult result = Logs.ReadText(log);

        Assert.All(Assert.Single(result.Sessions).Samples.Values(ChannelKey.Current)!, amps => Assert.True(amps < 0));
        Assert.Empty(result.Problems);
    }

    [Fact]
    public void A_signed_load_that_slides_keeps_its_sign()
    {
        // The load falls off in the main, and the cells rise: that is no charge.
        string log = Log(Header, Of(40, 0.3, 4.0, i => -(14 - (0.25 * i) + (2 * Math.Sin(i * 0.9)))), (row, _) => $"{row.T},{row.I},{row.V}");

        Assert.All(Assert.Single(Logs.ReadText(log).Sessions).Samples.Values(ChannelKey.Current)!, amps => Assert.True(amps < 0));
    }

    [Theory]
    [InlineData(1, 40)]
    [InlineData(-1, 40)]
    [InlineData(-1, 70_000)]
    public void A_charge_that_is_logged_at_constant_voltage_only_is_one_under_either_sign(int sign, int rows)
    {
        // The middle cell is held on the millivolt; those beside it are still coming up.
        double slow = rows / 40.0;
        string log = Log(Header, Of(rows, 30, 4.0, i => 4 * Math.Exp(-i / (12.0 * slow))), (row, i) => FormattableString.Invariant(
            $"{row.T},{sign * row.Amps:F2},{4.17 - (0.03 * Math.Exp(-i / (9.0 * slow))):F3},{4.2 + (0.001 * (i % 2)):F3},{4.16 - (0.05 * Math.Exp(-i / (9.0 * slow))):F3}"));

        Assert.All(Assert.Single(Logs.ReadText(log).Sessions).Samples.Values(ChannelKey.Current)!, amps => Assert.True(amps > 0));
    }

    [Fact]
    public void A_charge_among_the_discharges_of_a_log_without_a_sign_is_refused_where_it_begins()
    {
        List<Row> discharge = Discharge(60, 10);
        List<Row> charge = Of(60, 10, 3.7, _ => 1.5);
        string log = Log(Header, discharge.Concat(charge.Select(row => row with { Seconds = row.Seconds + 90_000 })), (row, _) => $"{row.T},{row.Size},{row.V}");

        InputProblem problem = Logs.ReadText(log).Problems[0];

        Assert.Equal(("direction-unclear", 62), (problem.Code, problem.Line));
    }

    [Fact]
    public void A_charge_after_a_rest_in_a_log_without_a_sign_is_refused_though_it_is_short()
    {
        string log = Log(Header, Of(60, 10, 3.9, i => i switch { < 5 => 0, < 30 => -4, < 52 => 0, _ => 3 }), (row, _) => $"{row.T},{row.Size},{row.V}");

        InputProblem problem = Logs.ReadText(log).Problems[0];

        Assert.Equal(("direction-unclear", 54), (problem.Code, problem.Line));
    }

    [Fact]
    public void A_session_that_tells_nothing_beside_one_that_does_is_pointed_at()
    {
        List<Row> silent = Of(30, 10, 3.7, _ => 0.2);
        string log = Log(Header, Discharge(60, 10).Concat(silent.Select(row => row with { Seconds = row.Seconds + 90_000 })), (row, _) => $"{row.T},{row.Size},{row.V}");

        Assert.Equal(("sign-assumed", 62), Logs.ReadText(log).Problems.Select(problem => (problem.Code, problem.Line ?? 0)).First());
    }

    [Fact]
    public void Noise_under_a_steady_current_is_no_evidence()
    {
        string log = Log(Header, Of(8, 5, 3.8, _ => 2.2), (row, i) => FormattableString.Invariant($"{row.T},{row.I},{3.803 + (0.001 * (i * 5 % 3)):F3},{3.757 + (0.001 * (i * 7 % 4)):F3},{3.771 + (0.001 * (i * 3 % 4)):F3}"));

        Assert.Contains(Logs.ReadText(log).Problems, problem => problem.Code is "sign-by-little" or "sign-assumed");
    }

    [Fact]
    public void Cells_in_hundredths_of_a_volt_are_told_by_the_pack_voltage()
    {
        string log = Log($"{Header},pack [V]", Of(50, 10, 3.9, _ => 1.2), (row, _) => FormattableString.Invariant($"{row.T},{row.I},{row.Cells[0]:F2},{row.Cells[1]:F2},{row.Cells[2]:F2},{row.Pack}"));

        ReadResult result = Logs.ReadText(log);

        Assert.Equal(SessionSign.Charging, Sign(result));
        Assert.DoesNotContain(result.Problems, problem => problem.Code == "sign-assumed");
    }

    [Fact]
    public void Packs_of_unlike_sizes_in_one_log_are_each_looked_at_by_themselves()
    {
        List<Row> small = Flight();
        string log = Log("time [s],pack,current [A],cell 1 [V],cell 2 [V],cell 3 [V]", small, (row, _) => FormattableString.Invariant(
            $"{row.T},large,{row.Amps * 10:F1},{3.9 + (row.Amps * 0.004):F3},{3.91 + (row.Amps * 0.004):F3},{3.9 + (row.Amps * 0.004):F3}\n{row.T},small,{row.Amps:F1},{row.V}"));

        ReadResult result = Logs.ReadText(log);

        Assert.Equal(2, result.Sessions.Count);
        Assert.Equal(SessionSign.Discharging, Sign(result));
    }

    [Fact]
    public void A_session_in_which_neither_counter_moves_is_pointed_at()
    {
        string log = Log("time [s],pack,current [A],charge in [Ah],charge out [Ah],cell 1 [V],cell 2 [V],cell 3 [V]", Charge().Concat(Discharge().Select(row => row with { Seconds = row.Seconds + 90_000 })).Concat(Of(20, 1, 4, _ => 0.5).Select(row => row with { Seconds = row.Seconds + 190_000 })),
            (row, i) => FormattableString.Invariant($"{row.T},{(i < 120 ? "one" : "two")},{row.Size},{(i < 60 ? row.Charge : i < 120 ? 2.4 : 0):F2},{(i is >= 60 and < 120 ? -row.Charge : 0):F2},{row.V}"));

        Assert.Contains(Logs.ReadText(log).Problems, problem => problem is { Code: "sign-assumed", Line: 122 });
    }

    private enum SessionSign
    {
        Charging,
        Discharging,
        Both,
    }

    private static SessionSign Sign(ReadResult result)
    {
        double[] amps = [.. result.Sessions.SelectMany(session => session.Samples.Values(ChannelKey.Current)!)];
        return Array.TrueForAll(amps, one => one >= 0) ? SessionSign.Charging : Array.TrueForAll(amps, one => one <= 0) ? SessionSign.Discharging : SessionSign.Both;
    }
}
