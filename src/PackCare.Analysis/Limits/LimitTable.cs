using System.Collections.Frozen;
using PackCare.Core.Packs;

namespace PackCare.Analysis.Limits;

/// <summary>All limits in force for one pack.</summary>
public sealed class LimitTable
{
    private const string Practice = "common practice, no source";
    private const string Ours = "ours, no source";
    private const string Literature = "convention in the literature";
    private const string Prevention = "NFPA and USFA advice to the public: 32-105 F; IEC 62133-2 annex A: 10-45 C (from memory)";

    private readonly FrozenDictionary<LimitKey, Limit> _limits;

    private LimitTable(IEnumerable<Limit> limits) => _limits = limits.ToFrozenDictionary(limit => limit.Key);

    /// <summary>All limits in order of their keys.</summary>
    public IEnumerable<Limit> All => _limits.Values.OrderBy(limit => limit.Key);

    /// <summary>The value of a limit, in the unit of the table.</summary>
    public double this[LimitKey key] => _limits[key].Value;

    /// <summary>One limit with its basis.</summary>
    public Limit Of(LimitKey key) => _limits[key];

    /// <summary>The limits that hold for a chemistry unless they are set otherwise.</summary>
    public static LimitTable Default(Chemistry chemistry)
    {
        (double low, double caution, double stop) = LowCells(chemistry);
        (double over, double overStop) = chemistry switch
        {
            Chemistry.LiHv => (4.40, 4.50),
            Chemistry.LiFePo4 => (3.70, 3.90),
            _ => (4.25, 4.35),
        };
        string overBasis = chemistry is Chemistry.LiPo or Chemistry.LiIon ? "IEC 62133-2 annex A (from memory)" : Practice;
        return new LimitTable(
        [
            new(LimitKey.RestSpreadWatch, "rest-spread-watch-mV", 15, "mV", 2, 1000, Practice),
            new(LimitKey.RestSpreadRetire, "rest-spread-retire-mV", 50, "mV", 2, 1000, Practice),
            new(LimitKey.RestSpreadStop, "rest-spread-stop-mV", 100, "mV", 2, 2000, Practice),
            new(LimitKey.ChargeOffsetWatch, "charge-offset-watch-percent", 3, "%", 0.5, 50, Ours),
            new(LimitKey.SelfDischargeWatch, "self-discharge-watch-percent-per-week", 0.3, "%/week", 0.05, 20, Ours),
            new(LimitKey.SelfDischargeRetire, "self-discharge-retire-percent-per-week", 2, "%/week", 0.05, 50, Ours),
            new(LimitKey.CapacityMismatchWatch, "capacity-mismatch-watch-percent", 5, "%", 1, 50, Ours),
            new(LimitKey.CapacityMismatchRetire, "capacity-mismatch-retire-percent", 15, "%", 1, 80, Ours),
            new(LimitKey.FullSpellDue, "full-spell-due-days", 1, "d", 0.1, 60, Practice),
            new(LimitKey.FullSpellOverdue, "full-spell-overdue-days", 3, "d", 0.1, 90, Practice),
            new(LimitKey.FullSpellPast, "full-spell-past-days", 14, "d", 1, 365, Ours),
            new(LimitKey.ResistanceWatch, "resistance-watch-ratio", 1.5, "ratio", 1.05, 10, Literature),
            new(LimitKey.ResistanceRetire, "resistance-retire-ratio", 2, "ratio", 1.05, 20, Literature),
            new(LimitKey.CapacityWatch, "capacity-watch-percent", 85, "%", 10, 100, Literature),
            new(LimitKey.CapacityRetire, "capacity-retire-percent", 80, "%", 10, 100, Literature),
            new(LimitKey.LowCellWatch, "low-cell-watch-V", low, "V", 0.5, 4, Practice),
            new(LimitKey.LowCellCaution, "low-cell-caution-V", caution, "V", 0.5, 4, "makers' data sheets, 2.7-3.0 V for LiPo; " + Practice),
            new(LimitKey.LowCellStop, "low-cell-stop-V", stop, "V", 0.5, 4, Practice),
            new(LimitKey.OverVoltageWatch, "over-voltage-watch-V", over, "V", 3, 5, overBasis),
            new(LimitKey.OverVoltageStop, "over-voltage-stop-V", overStop, "V", 3, 5, Practice),
            new(LimitKey.ChargeTemperatureLow, "charge-temperature-low-C", 0, "degC", -20, 20, Prevention),
            new(LimitKey.ChargeTemperatureHigh, "charge-temperature-high-C", 40, "degC", 25, 60, Prevention),
            new(LimitKey.UseTemperatureWatch, "use-temperature-watch-C", 60, "degC", 30, 90, "makers' data sheets; " + Practice),
            new(LimitKey.UseTemperatureStop, "use-temperature-stop-C", 75, "degC", 30, 120, Ours),
            new(LimitKey.LeadResistanceWatch, "lead-resistance-watch-ratio", 1.5, "ratio", 1.05, 10, Ours),
            new(LimitKey.LeadResistanceRetire, "lead-resistance-act-ratio", 2, "ratio", 1.05, 20, Ours),
            new(LimitKey.CheckOverdue, "check-overdue-days", 60, "d", 1, 730, Practice),
        ]);
    }

    /// <summary>The same table with some values changed.</summary>
    /// <param name="values">New values, each within the range of its limit.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside its limit's range.</exception>
    public LimitTable With(IReadOnlyDictionary<LimitKey, double> values)
    {
        foreach ((LimitKey key, double value) in values)
        {
            if (!(value >= _limits[key].Lowest && value <= _limits[key].Highest))
            {
                throw new ArgumentOutOfRangeException(nameof(values), value, $"{_limits[key].Name} must lie between {_limits[key].Lowest} and {_limits[key].Highest}.");
            }
        }

        return new LimitTable(_limits.Values.Select(limit => values.TryGetValue(limit.Key, out double value) ? limit with { Value = value, Basis = "set by the user" } : limit));
    }

    private static (double Low, double Caution, double Stop) LowCells(Chemistry chemistry) => chemistry switch
    {
        Chemistry.LiIon => (3.0, 2.7, 2.3),
        Chemistry.LiFePo4 => (2.9, 2.5, 2.0),
        _ => (3.3, 3.0, 2.5),
    };
}
