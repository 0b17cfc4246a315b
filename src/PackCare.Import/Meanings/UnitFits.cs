namespace PackCare.Import.Meanings;

/// <summary>The units of time, current and charge that do not contradict each other, where headers leave some of them open.</summary>
internal sealed class UnitFits
{
    private const double LikelyAmperes = 600;
    private const double MostAmpereHours = 150;
    private const double LeastAmperes = 0.005;

    // The smallest LiPo packs hold about 20 mAh; common practice, no source.
    private const double SmallestPackAmpereHours = 0.015;
    private const double LargeDrift = 0.35;

    private readonly FlowLog _log;
    private readonly OpenTimeUnit _time;
    private readonly ColumnRole _current;
    private readonly ColumnRole? _charge;
    private readonly Flow _flow;
    private readonly Unit[] _times;
    private readonly Unit[] _currents;
    private readonly Unit[] _charges;

    internal UnitFits(FlowLog log, OpenTimeUnit time, ColumnRole current, ColumnRole? charge, Flow flow, Unit? byPower)
    {
        (_log, _time, _current, _charge, _flow) = (log, time, current, charge, flow);
        Counts = charge is not null && CounterFit.CountsEnough(charge, flow);
        Counted = Counts ? flow.CounterPath * 3600 / flow.CountedIntegral : double.NaN;
        _times = log.TimeUnit != Unit.None ? [log.TimeUnit] : [Unit.Second, Unit.Millisecond, Unit.Minute, Unit.Hour];
        _currents = current.Hint.Unit != Unit.None ? [current.Hint.Unit] : byPower is { } proved ? [proved] : [Unit.Ampere, Unit.Milliampere];
        _charges = charge is null ? [Unit.None] : charge.Hint.Unit != Unit.None ? [charge.Hint.Unit] : [Unit.AmpereHour, Unit.MilliampereHour];
        Fits = [.. _times.SelectMany(unit => _currents.SelectMany(amps => _charges.Select(hours => (unit, amps, hours)))).Where(IsPossible)];
    }

    /// <summary>What fits.</summary>
    internal List<(Unit Time, Unit Current, Unit Charge)> Fits { get; }

    /// <summary>Whether the counter moved by enough digits to be compared with the current.</summary>
    internal bool Counts { get; }

    /// <summary>How many of its units the counter went by for one unit of the current times 3600 of the time.</summary>
    internal double Counted { get; }

    internal bool TimeIsOpen => _times.Length > 1;

    internal bool CurrentIsOpen => _currents.Length > 1;

    internal bool ChargeIsOpen => _charges.Length > 1;

    /// <summary>How many times as fast the counter runs as the current fills it, in some units of all three.</summary>
    internal double Speed(Unit time, Unit current, Unit charge) => Counted * UnitMarks.Factor(charge) / (UnitMarks.Factor(current) * Seconds(time));

    // The axis is in seconds already when the unit of time is known.
    private double Seconds(Unit time) => _log.TimeUnit != Unit.None ? 1 : UnitMarks.Factor(time);

    private bool IsPossible((Unit Time, Unit Current, Unit Charge) units)
    {
        double amps = UnitMarks.Factor(units.Current);
        double hours = UnitMarks.Factor(units.Charge);
        return (!Counts || Speed(units.Time, units.Current, units.Charge) is > 0.5 and < 2) && IsPlausible(amps, Seconds(units.Time))
            && (_charge is null || ((_charge.Hint.Unit != Unit.None || _charge.Profile!.LargestMagnitude * hours <= MostAmpereHours)
                && (Counts || CanHaveCounted(_charge, amps * Seconds(units.Time) / hours))));
    }

    private bool IsPlausible(double amps, double time)
    {
        if (!TimeIsOpen && !CurrentIsOpen)
        {
            return true;
        }

        double most = _current.Profile!.LargestMagnitude * amps;
        if (CurrentIsOpen && !_current.Profile.IsConstantZero && (most > LikelyAmperes || most < LeastAmperes))
        {
            return false;
        }

        // Cells that went through a third of their range were filled or emptied by more than the smallest pack holds.
        if (CurrentIsOpen && IsTooLittle(amps * time))
        {
            return false;
        }

        if (_flow.AbsoluteIntegral * amps * time / 3600 / _log.Map.Count > MostAmpereHours)
        {
            return false;
        }

        double step = _flow.Seconds * time / Math.Max(1, _current.Profile.Count - 1);
        // Readings of a pack in store come every few hours.
        bool isHours = time == 1 && step <= 100_000 && _time.UsualStep(step) % 3600 == 0;
        return !TimeIsOpen || (step >= 0.005 && (step <= 4000 || isHours));
    }

    // Net of what the resistance does, for the first and the last row may be under load.
    private bool IsTooLittle(double factor) =>
        Math.Abs(_flow.DriftWhilePositive) + Math.Abs(_flow.DriftWhileNegative) > LargeDrift && _flow.AbsoluteIntegral * factor / 3600 < SmallestPackAmpereHours / 3;

    // A counter that went by n digits was filled by more than n - 1 of them, whatever was cut off or rounded.
    private bool CanHaveCounted(ColumnRole charge, double counterUnits)
    {
        double digit = Math.Pow(10, -charge.Column.MaxDecimals);
        // What flickers about zero fills nothing.
        double filled = (_flow.CounterPath == 0 ? Math.Min(_flow.CountedIntegral, Math.Abs(_flow.Integral)) : _flow.CountedIntegral) / 3600 * counterUnits;
        return _flow.CounterPath - (1.01 * digit) <= 2 * filled && filled <= 2 * (_flow.CounterPath + (1.01 * digit));
    }
}
