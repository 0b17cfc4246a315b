using PackCare.Core.Reading;
using PackCare.Import.Sessions;

namespace PackCare.Import.Meanings;

/// <summary>A log while it is settled what flows into and out of its pack: its columns, time, sessions and voltages.</summary>
/// <param name="columns">The columns.</param>
/// <param name="axis">Time, not yet multiplied where its unit is open.</param>
/// <param name="map">Sessions.</param>
/// <param name="time">The column of the time.</param>
internal sealed class FlowLog(LogColumns columns, TimeAxis axis, SessionMap map, ColumnRole time)
{
    // Volts.
    private const double CoarseDigit = 0.005;

    // Of the sum of the cells.
    private const double MostOffSum = 0.04;

    // Several threads ask for it.
    private readonly Lazy<ColumnRole?> _finerPack = new(() => FinerPack(columns));

    internal LogColumns Columns => columns;

    internal TimeAxis Axis => axis;

    internal SessionMap Map => map;

    internal ColumnRole Time => time;

    /// <summary>Cells, or the pack voltage where there are none.</summary>
    internal List<ColumnRole> Voltages { get; } = columns.Cells.Count > 0 ? columns.Cells : [.. columns.OfMeaning(ColumnMeaning.PackVoltage).Take(1)];

    /// <summary>The unit of elapsed time, once settled; seconds of any other time.</summary>
    internal Unit TimeUnit { get; set; } = time.Meaning == ColumnMeaning.ElapsedTime && time.Profile is not null ? time.Hint.Unit : Unit.Second;

    /// <summary>Seconds for one unit of the axis, once that of the time is settled.</summary>
    internal double SecondsOfAxis => time.Hint.Unit == Unit.None ? UnitMarks.Factor(TimeUnit) : 1;

    /// <summary>The middle of the range of the voltages, added up.</summary>
    internal double MeanVolts => Voltages.Sum(v => (v.Profile!.Min + v.Profile.Max) / 2 * v.Factor);

    /// <summary>How many cells the voltage of <see cref="FlowRows"/> is that of: one, or as many as a pack without cells needs at least.</summary>
    internal double CellsInVoltage => columns.Cells.Count > 0 ? 1 : Math.Max(1, Math.Ceiling(MeanVolts / VoltageFinder.HighestCell));

    /// <summary>The pack voltage alone, or all cells.</summary>
    internal List<ColumnRole> PackOrCells() => columns.Single(ColumnMeaning.PackVoltage) is { } pack ? [pack] : columns.Cells;

    /// <summary>Columns of numbers that no header and nothing else has named yet.</summary>
    internal List<ColumnRole> Unknown() =>
        [.. columns.Roles.Where(role => !role.IsUsed && role.Profile is { Count: > 0 } && role.Hint is { Quantity: Quantity.Unknown, IsDerived: false })];

    /// <summary>What a current, a counter and the voltages say of each other.</summary>
    internal Flow Measure(ColumnRole current, ColumnRole? charge) => Flow.Measure(axis, map, Voltages, current, charge);

    /// <summary>Rows of a current, or of what may be one, with the voltage of a cell and what the modes say.</summary>
    internal FlowRows RowsOf(ColumnRole current, ColumnRole? mode) =>
        _finerPack.Value is { } pack ? new(axis, map, [pack], 1.0 / columns.Cells.Count, current, mode) : new(axis, map, Voltages, 1, current, mode);

    // Of cells in hundredths of a volt the sum shows movements that none of them does, unless it was damaged.
    private static ColumnRole? FinerPack(LogColumns columns)
    {
        List<ColumnRole> cells = columns.Cells;
        double coarse = cells.Count > 1 ? cells.Max(role => role.LastDigit) : 0;
        return coarse >= CoarseDigit && columns.Single(ColumnMeaning.PackVoltage) is { Profile.Missing: 0 } pack && pack.LastDigit / cells.Count < coarse / 2 && KeepsToSum(pack, cells) ? pack : null;
    }

    private static bool KeepsToSum(ColumnRole pack, List<ColumnRole> cells)
    {
        double[] gaps = LogColumns.Values(pack, 0, pack.Factor);
        double[] sums = new double[gaps.Length];
        foreach (ColumnRole cell in cells)
        {
            double[] volts = cell.FirstValues;
            RowMath.Subtract(gaps, volts);
            RowMath.Add(sums, volts);
        }

        double least = cells.Sum(role => role.LastDigit);
        return !gaps.Where((gap, i) => Math.Abs(gap) > least + (MostOffSum * sums[i])).Any();
    }

    /// <summary>The same with each cell by itself.</summary>
    internal IEnumerable<FlowRows> RowsOfEach(ColumnRole current) => Voltages.Select(cell => new FlowRows(axis, map, [cell], 1, current));

    /// <summary>How far a counter strays from the integral of a current times a factor.</summary>
    internal double Stray(ColumnRole current, ColumnRole charge, double factor) => Flow.Stray(axis, map, current, charge, factor);

    /// <summary>Leaves out a charge counter. That of discharging means nothing without that of charging.</summary>
    internal void LeaveOutCounter(ColumnRole charge, string why)
    {
        if (charge.Meaning == ColumnMeaning.ChargeIn)
        {
            columns.Single(ColumnMeaning.ChargeOut)?.Take(ColumnMeaning.Ignored, Unit.None, null, "left out with the counter of charging");
        }

        charge.Take(ColumnMeaning.Ignored, Unit.None, null, why);
    }
}
