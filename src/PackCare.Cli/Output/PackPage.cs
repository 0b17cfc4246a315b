using System.Globalization;
using PackCare.Analysis.Assessments;
using PackCare.Cli.Hosting;
using PackCare.Core.Estimates;

namespace PackCare.Cli.Output;

/// <summary>All that is concluded about one pack, for a person at a terminal.</summary>
internal static class PackPage
{
    /// <summary>Writes it.</summary>
    public static void Write(Host host, PackAssessment assessment)
    {
        host.Out.WriteLine(Printable.OneLine($"{assessment.Pack.Label}, {PackText.Describe(assessment.Pack)}"));
        if (assessment.Pack.Retirement is { } retirement)
        {
            host.Paragraph($"Out of use since {Figures.Day(retirement.At)}: {retirement.Reason}. {Cautions.Disposal}");
        }

        host.Paragraph($"Standing on {Figures.Moment(assessment.Assessed)}: {Words.Of(assessment.Standing)} - {StandingText.Meaning(assessment.Standing)}.");
        if (assessment.Findings.Count > 0)
        {
            host.Out.WriteLine();
            PlainTable findings = PlainTable.Make([2], "level", "finding", "what, and what to do");
            foreach (Finding finding in assessment.Findings)
            {
                findings.AddRow(
                    PlainTable.Cell(Words.Of(finding.Level)),
                    PlainTable.Cell(Words.Of(finding.Code)),
                    PlainTable.Cell($"{finding.Text} {finding.Action}"));
            }

            host.Show(findings);
        }

        host.Out.WriteLine();
        host.Show(MakeFacts(assessment));
        WriteCells(host, assessment);
        host.Out.WriteLine();
        host.Paragraph(Cautions.Charging);
    }

    private static PlainTable MakeFacts(PackAssessment assessment)
    {
        PlainTable facts = PlainTable.MakeBare([1], 2);
        ImbalanceAssessment imbalance = assessment.Imbalance;
        FullChargeAssessment full = assessment.FullCharge;
        ResistanceAssessment resistance = assessment.Resistance;
        CapacityAssessment capacity = assessment.Capacity;
        UsageAssessment usage = assessment.Usage;

        Fact(facts, "Cells level", imbalance.RestSpreadMillivolts is { } spread
            ? $"rest spread {Figures.Number(spread, 0)} mV on {Figures.Day(imbalance.Measured)}; {CauseText(imbalance.Cause)}"
            : "no rest was seen");
        Fact(facts, "Drift", DriftText(imbalance));
        Fact(facts, "Full", FullText(full));
        Fact(facts, "Capacity", CapacityText(capacity));
        Fact(facts, "Capacity limit", LimitText.Sentence($"{Figures.Number(capacity.ActPercent, 0)} %", capacity.LimitReached));
        Fact(facts, "Leads", resistance.LeadMilliohms is { } lead ? Figures.Of(lead, 1, " mOhm") : "not measured: it takes pack voltage, cell voltages and current in one log");
        Fact(facts, "Usage", $"{Figures.Count(usage.Sessions, "session", "sessions")} from {Figures.Day(usage.First)} to {Figures.Day(usage.Last)}, throughput {Figures.Of(usage.ThroughputAh, 1, " Ah")}, equivalent full cycles {(usage.EstimatedCycles is { } cycles ? Figures.Of(cycles, 1, string.Empty) : Figures.Of(usage.EquivalentFullCycles, 1, string.Empty))}");
        return facts;
    }

    private static void WriteCells(Host host, PackAssessment assessment)
    {
        ResistanceAssessment resistance = assessment.Resistance;
        if (resistance.Cells.Count == 0)
        {
            return;
        }

        host.Out.WriteLine();
        string lag = resistance.LagSeconds is { } seconds ? $" {Figures.Number(seconds, 0)} s after a current step" : string.Empty;
        host.Paragraph($"Cell by cell: distance from the median at rest, charge offset, resistance{lag} corrected to {Figures.Number(resistance.ReferenceCelsius, 0)} degC and its multiple of the first sessions; 95 % intervals in brackets. Rest and offset are of the latest reading at rest, n sessions stand behind the resistance:");
        PlainTable cells = PlainTable.Make([], "cell", "rest mV", "offset %", "mOhm", "x first", "n");
        foreach (CellResistance cell in resistance.Cells)
        {
            int index = cell.Cell - 1;
            double? deviation = index < assessment.Imbalance.DeviationMillivolts.Count ? assessment.Imbalance.DeviationMillivolts[index] : null;
            Estimate? offset = index < assessment.Imbalance.ChargeOffsetPercent.Count ? assessment.Imbalance.ChargeOffsetPercent[index] : null;
            cells.AddRow(
                PlainTable.Cell(cell.Cell.ToString(CultureInfo.InvariantCulture)),
                PlainTable.Cell(Signed(deviation, 0, string.Empty)),
                PlainTable.Cell(Figures.Tight(offset, 1)),
                PlainTable.Cell(Figures.Tight(cell.Milliohms, 1)),
                PlainTable.Cell(Figures.Tight(cell.Ratio, 2)),
                PlainTable.Cell(Figures.Sessions(cell.Milliohms)));
        }

        host.Show(cells);
        host.Out.WriteLine();
        string limit = $"{Figures.Number(resistance.ActRatio, 1)} times the first sessions' resistance";
        foreach (IGrouping<string, CellResistance> alike in resistance.Cells.GroupBy(cell => LimitText.Sentence(limit, cell.LimitReached)))
        {
            string which = string.Join(", ", alike.Select(cell => cell.Cell.ToString(CultureInfo.InvariantCulture)));
            host.Paragraph($"{(alike.Count() == 1 ? "Cell" : "Cells")} {which}: {alike.Key}.");
        }
    }

    private static string CauseText(ImbalanceCause cause) => cause switch
    {
        ImbalanceCause.None => "the cells do not differ beyond the limit",
        ImbalanceCause.ChargeOffset => "cause: a charge offset, which balancing mends",
        ImbalanceCause.Capacity => "cause: a cell that holds less",
        ImbalanceCause.SelfDischarge => "cause: a cell that loses charge at rest",
        ImbalanceCause.Resistance => "cause: a cell with more resistance",
        ImbalanceCause.Undetermined => "cause: the evidence does not decide",
        _ => throw new ArgumentOutOfRangeException(nameof(cause)),
    };

    private static string DriftText(ImbalanceAssessment imbalance) => imbalance.TrendMillivolts switch
    {
        Trend.TooLittleData little => "too little data: " + little.Reason,
        Trend.Fitted fitted when imbalance.TrendCell is { } cell =>
            $"cell {cell.ToString(CultureInfo.InvariantCulture)} by {Signed(fitted.SlopePerDay.Value * 30, 2, string.Empty)} ({Signed(fitted.SlopePerDay.Low * 30, 2, string.Empty)} to {Signed(fitted.SlopePerDay.High * 30, 2, string.Empty)}) mV in 30 d, n {fitted.SlopePerDay.Count.ToString(CultureInfo.InvariantCulture)}",
        _ => Figures.None,
    };

    private static string CapacityText(CapacityAssessment capacity)
    {
        if (capacity.LatestAh is null)
        {
            return capacity.TrendAh is Trend.TooLittleData little ? "too little data: " + little.Reason : "not measured";
        }

        string against = capacity.HealthPercent is { } health
            ? $"; {Figures.Number(health.Value, 1)} ({Figures.Number(health.Low, 1)} to {Figures.Number(health.High, 1)}) % of the {(capacity.FirstMeasuredAh is { } first ? $"first measured {Figures.Of(first, 2, " Ah")}" : $"rated {Figures.Of(capacity.ReferenceAh, 2, " Ah")}")}"
            : string.Empty;
        return Figures.Of(capacity.LatestAh, 3, " Ah") + against;
    }

    private static string FullText(FullChargeAssessment full) => full.Spells.Count == 0
        ? $"no spell at {Figures.Number(full.ThresholdVoltsPerCell, 2)} V a cell or above on record"
        : $"{Figures.Number(full.DaysConfirmed, 1)} d confirmed, {Figures.Number(full.DaysPossible, 1)} d possible at {Figures.Number(full.ThresholdVoltsPerCell, 2)} V a cell or above{CurrentSpell(full)}{ExtraLoss(full)}";

    private static string CurrentSpell(FullChargeAssessment full) => full.CurrentSpell is { } spell
        ? $"; full since {Figures.Moment(spell.From)}, {Figures.Number(spell.Days, 1)} d{(spell.Confirmed ? string.Empty : " as far as is known")}"
        : string.Empty;

    private static string ExtraLoss(FullChargeAssessment full) => full is { ExtraLossPercentLow: { } low, ExtraLossPercentHigh: { } high }
        ? $"; thought to have cost {Figures.Number(low, 1)} to {Figures.Number(high, 1)} % of capacity beyond storage level ({Figures.Count(full.Spells.Count, "spell", "spells")}, two published sources)"
        : string.Empty;

    private static string Signed(double? value, int decimals, string unit)
    {
        if (value is not { } figure)
        {
            return Figures.None;
        }

        string text = Figures.Number(figure, decimals);
        bool zero = text.Trim('0', '.').Length == 0;
        return (figure > 0 && !zero ? "+" : string.Empty) + text + unit;
    }

    private static void Fact(PlainTable facts, string name, string text) => facts.AddRow(PlainTable.Cell(name), PlainTable.Cell(text));

}
