using PackCare.Core.Sessions;

namespace PackCare.Core.Tests;

public sealed class SessionSummaryTests
{
    [Fact]
    public void The_rest_spread_is_taken_after_the_current_where_that_was_seen()
    {
        SessionSummary summary = Summary(Cell(1, start: 3.700, end: 4.180), Cell(2, start: 3.760, end: 4.195));

        Assert.Equal(15, summary.RestSpreadMillivolts!.Value, 1e-9);
    }

    [Fact]
    public void The_rest_spread_is_taken_before_the_current_where_nothing_else_was_seen()
    {
        SessionSummary summary = Summary(Cell(1, start: 3.700, end: null), Cell(2, start: 3.760, end: 4.195));

        Assert.Equal(60, summary.RestSpreadMillivolts!.Value, 1e-9);
    }

    [Fact]
    public void There_is_no_rest_spread_where_a_cell_has_no_resting_voltage_or_no_cell_was_logged()
    {
        Assert.Null(Summary(Cell(1, null, 4.18), Cell(2, 3.76, null)).RestSpreadMillivolts);
        Assert.Null(Summary().RestSpreadMillivolts);
        Assert.Null(Summary().EndSpreadMillivolts);
    }

    [Fact]
    public void Net_charge_and_energy_are_in_less_out_and_unknown_without_a_current()
    {
        SessionSummary summary = Summary() with { ChargeInAh = 1.5, ChargeOutAh = 0.25, EnergyInWh = 20, EnergyOutWh = 30 };

        Assert.Equal(1.25, summary.NetChargeAh);
        Assert.Equal(-10, summary.NetEnergyWh);
        Assert.Null(Summary().NetChargeAh);
        Assert.Null(Summary().NetEnergyWh);
    }

    [Fact]
    public void A_session_ends_with_its_last_sample()
    {
        var started = new DateTimeOffset(2025, 3, 30, 1, 30, 0, TimeSpan.FromHours(1));
        var session = new SessionRecord(1, null, "log.csv", started, TimeQuality.Exact, Summary() with { DurationSeconds = 5400 });

        Assert.Equal(started.AddMinutes(90), session.Ended);
        Assert.Equal(started.Offset, session.Ended.Offset);
    }

    private static CellSummary Cell(int cell, double? start, double? end) => new(cell, null, end, start, end, null, null);

    private static SessionSummary Summary(params CellSummary[] cells) => new(
        1, SessionKind.Charge, 60, 7, 10, null, null, null, null, null, null, null, null, null, null, null, false, null, cells);
}
