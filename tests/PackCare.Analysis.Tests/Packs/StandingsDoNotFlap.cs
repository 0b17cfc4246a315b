using PackCare.Analysis.Assessments;
using PackCare.Analysis.Imbalance;
using PackCare.Analysis.Standings;
using PackCare.Analysis.Statistics;
using PackCare.Analysis.Tests.Support;
using PackCare.Core.Packs;

namespace PackCare.Analysis.Tests.Packs;

/// <summary>A figure that hovers about its limit raises its finding once and keeps it until it is clearly back.</summary>
public sealed class StandingsDoNotFlap
{
    [Fact]
    public void A_latch_goes_on_at_the_limit_and_off_only_below_the_release()
    {
        double[] rising = [1.0, 1.1, 1.2, 1.52, 1.54, 1.51, 1.53, 1.52];
        double[] hovering = [.. rising, 1.48, 1.49, 1.47, 1.43, 1.46, 1.45, 1.48];
        double[] back = [.. hovering, 1.3, 1.3, 1.3, 1.3];

        Assert.True(Latch.Holds(rising, 1.5, 1));
        Assert.True(Latch.Holds(hovering, 1.5, 1));
        Assert.False(Latch.Holds(back, 1.5, 1));
        Assert.False(Latch.Holds([1.4, 1.48, 1.49, 1.48, 1.47], 1.5, 1));
    }

    [Fact]
    public void A_figure_that_falls_with_harm_is_held_the_same_way()
    {
        Assert.True(Latch.Holds([95, 90, 84, 84, 84.5, 85.5, 86, 86, 86], 85, 100));
        Assert.False(Latch.Holds([95, 90, 84, 84, 84.5, 88, 89, 90, 90, 90], 85, 100));
    }

    [Theory]
    [InlineData(1.0, true)]
    [InlineData(0.85, true)]
    [InlineData(0.75, false)]
    public void What_was_significant_stands_until_it_is_clearly_under_its_limit(double now, bool stands)
    {
        Hold Of(double value) => new(Estimates.FromNormal(value, 0.1, 4), 0.4);

        Assert.Equal(stands, Hold.Stands(Of(now), [Of(0.95), Of(1.05)], limit: 1));
        Assert.Equal(now >= 1, Hold.Stands(Of(now), [Of(0.95), Of(0.97)], limit: 1));
    }

    [Fact]
    public void Resistance_about_its_limit_changes_the_finding_at_most_once()
    {
        PackHistory life = new SimulatedLife().Repeat(30, one => one.Charge().Discharge().Store().Rest(5)).History;
        // Cell 2 rises to 1.5 times and then swings about it by 2 %.
        double Factor(int i) => i < 20 ? 1 : i < 45 ? 1 + (0.52 * (i - 20) / 25) : 1.5 + (0.03 * Math.Sin(i));
        PackHistory history = life with
        {
            Sessions = [.. life.Sessions.Select((session, i) => session with
            {
                Summary = session.Summary with
                {
                    Cells = [.. session.Summary.Cells.Select(cell => cell.Cell == 2 && cell.Resistance is { } r ? cell with { Resistance = r with { Ohms = r.Ohms * Factor(i) } } : cell)],
                },
            })],
        };

        Assert.InRange(Changes(history, FindingCode.Resistance), 1, 1);
    }

    [Fact]
    public void A_cell_about_the_low_limit_is_named_until_it_was_charged()
    {
        var life = new SimulatedLife().Repeat(2, one => one.Charge().Discharge().Store().Rest(5));
        DateTimeOffset from = life.Now;
        double[] lowest = [3.31, 3.299, 3.301, 3.298, 3.303, 3.31, 3.32];
        PackHistory low = With(life.History, from, lowest);
        PackHistory charged = With(life.History, from, [.. lowest, 3.8]);

        Assert.Equal(1, Changes(low, FindingCode.LowCell));
        Assert.Equal(2, Changes(charged, FindingCode.LowCell));
    }

    private static PackHistory With(PackHistory history, DateTimeOffset from, double[] lowest) => history with
    {
        SpotChecks = [.. lowest.Select((volts, i) => new SpotCheck(i + 1, from.AddDays(i), [volts, volts + 0.002, volts + 0.002, volts + 0.002], 22, []))],
    };

    // How often a finding comes or goes as the record grows.
    private static int Changes(PackHistory history, FindingCode code)
    {
        DateTimeOffset[] moments = [.. history.Sessions.Select(session => session.Ended).Concat(history.SpotChecks.Select(check => check.At)).Order()];
        bool[] there = [.. moments.Select(moment => PackAnalyzer.Analyze(history, moment.AddMinutes(1)).Findings.Any(finding => finding.Code == code))];
        return there.Zip(there.Skip(1), (a, b) => a == b ? 0 : 1).Sum();
    }
}
