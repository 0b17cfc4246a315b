namespace PackCare.Simulation;

/// <summary>Works on a pack and logs it, from the first sample to <see cref="Finish"/>. Steps of one second unless told otherwise.</summary>
public sealed class SimulatedSession
{
    private readonly SimulatedPack _pack;
    private readonly Instrument _instrument;
    private readonly Randomness _random;
    private readonly double _step;
    private readonly List<double> _seconds = [];
    private readonly List<double> _amperes = [];
    private readonly List<double> _packVolts = [];
    private readonly List<double>[] _cellVolts;
    private readonly List<double> _chargeAh = [];
    private readonly List<double> _celsius = [];
    private readonly double[] _bleed;
    private double _countedAh;
    private double _nextSample;

    /// <summary>Connects an instrument; the first sample is taken at once, at rest.</summary>
    /// <param name="pack">The pack.</param>
    /// <param name="instrument">The instrument.</param>
    /// <param name="random">Its noise.</param>
    /// <param name="ambientCelsius">Temperature around in degrees Celsius.</param>
    /// <param name="stepSeconds">Simulation step in seconds.</param>
    public SimulatedSession(SimulatedPack pack, Instrument instrument, Randomness random, double ambientCelsius, double stepSeconds = 1)
    {
        ArgumentNullException.ThrowIfNull(pack);
        ArgumentNullException.ThrowIfNull(instrument);
        ArgumentNullException.ThrowIfNull(random);
        _pack = pack;
        _instrument = instrument;
        _random = random;
        _step = stepSeconds;
        AmbientCelsius = ambientCelsius;
        _cellVolts = [.. Enumerable.Range(0, pack.CellCount).Select(_ => new List<double>())];
        _bleed = new double[pack.CellCount];
        Sample(0);
    }

    /// <summary>Temperature around in degrees Celsius.</summary>
    public double AmbientCelsius { get; }

    /// <summary>Time since the first sample in seconds.</summary>
    public double Seconds { get; private set; }

    /// <summary>True charge moved into the pack since the first sample, in ampere hours.</summary>
    public double TrueChargeAh { get; private set; }

    /// <summary>Lowest cell at this moment at a current, in volts.</summary>
    /// <param name="amperes">Current into the pack in amperes.</param>
    public double LowestVolts(double amperes)
    {
        var lowest = double.MaxValue;
        for (var cell = 0; cell < _pack.CellCount; cell++)
        {
            lowest = Math.Min(lowest, _pack.CellVolts(cell, amperes));
        }

        return lowest;
    }

    /// <summary>No current for a while.</summary>
    /// <param name="seconds">How long, in seconds.</param>
    public void Rest(double seconds) => Flow(0, seconds);

    /// <summary>A constant current for a while.</summary>
    /// <param name="amperes">Current into the pack in amperes.</param>
    /// <param name="seconds">How long, in seconds.</param>
    public void Flow(double amperes, double seconds)
    {
        var end = Seconds + seconds;
        while (Seconds < end - 1e-6)
        {
            Advance(amperes);
        }
    }

    /// <summary>A load profile, ended early once a cell falls below a voltage.</summary>
    /// <param name="steps">The stretches in order.</param>
    /// <param name="cutoffVolts">Voltage under load at which it ends, in volts.</param>
    /// <returns>True where it was ended by a low cell.</returns>
    public bool Run(IEnumerable<LoadStep> steps, double cutoffVolts)
    {
        ArgumentNullException.ThrowIfNull(steps);
        foreach (var step in steps)
        {
            var end = Seconds + step.Seconds;
            while (Seconds < end - 1e-6)
            {
                Advance(step.Amperes);
                if (step.Amperes < 0 && LowestVolts(step.Amperes) < cutoffVolts)
                {
                    return true;
                }
            }
        }

        return false;
    }

    /// <summary>Discharges at a constant current until a cell is low.</summary>
    /// <param name="amperes">Current out of the pack in amperes, positive.</param>
    /// <param name="cutoffVolts">Voltage under load at which it ends, in volts.</param>
    public void Discharge(double amperes, double cutoffVolts)
    {
        while (LowestVolts(-amperes) > cutoffVolts)
        {
            Advance(-amperes);
        }
    }

    /// <summary>Discharges to a mean voltage a cell, the current fading at the end as in a charge.</summary>
    /// <param name="amperes">Largest current out of the pack in amperes, positive.</param>
    /// <param name="meanVolts">Mean voltage a cell to reach, in volts.</param>
    /// <param name="endAmperes">Current at which it is done, in amperes, positive.</param>
    public void DischargeTo(double amperes, double meanVolts, double endAmperes)
    {
        var flow = Math.Min(amperes, -HoldingAmperes(meanVolts));
        while (flow > endAmperes)
        {
            Advance(-flow);
            flow = Math.Min(amperes, -HoldingAmperes(meanVolts));
        }
    }

    /// <summary>Charges.</summary>
    /// <param name="plan">How.</param>
    /// <returns>True where it ran to its end and was not stopped by the clock.</returns>
    public bool Charge(ChargePlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var started = Seconds;
        var balancing = plan.BleedAmperes > 0;
        var holding = false;
        while (Seconds - started < plan.LongestSeconds)
        {
            // Chargers come up over a few seconds.
            var ramp = plan.Amperes * Math.Min(1, (Seconds - started + _step) / 3);
            var limit = balancing ? HighestCellAmperes(plan.EndVolts) : HoldingAmperes(plan.EndVolts);
            var flow = Math.Clamp(limit, 0, ramp);
            holding |= limit < plan.Amperes;
            var content = !balancing || !holding;
            if (balancing && holding)
            {
                content = SetBleed(plan, flow);
            }

            if (holding && content && flow <= plan.EndAmperes)
            {
                Array.Clear(_bleed);
                return true;
            }

            Advance(flow);
        }

        Array.Clear(_bleed);
        return false;
    }

    /// <summary>The log so far.</summary>
    public SimulatedLog Finish() => new(
        [.. _seconds], [.. _amperes], [.. _packVolts], [.. _cellVolts.Select(cell => cell.ToArray())], [.. _chargeAh], [.. _celsius]);

    private bool SetBleed(ChargePlan plan, double flow)
    {
        // Judged as if nothing bled: what bleeding itself takes off a cell would have the balancer hunt.
        var (lowest, highest) = (double.MaxValue, double.MinValue);
        for (var cell = 0; cell < _pack.CellCount; cell++)
        {
            var volts = _pack.CellVolts(cell, flow);
            lowest = Math.Min(lowest, volts);
            highest = Math.Max(highest, volts);
        }

        var content = highest - lowest <= plan.BalancedVolts;
        for (var cell = 0; cell < _pack.CellCount; cell++)
        {
            _bleed[cell] = !content && _pack.CellVolts(cell, flow) > lowest + (0.5 * plan.BalancedVolts) ? plan.BleedAmperes : 0;
        }

        return content;
    }

    /// <summary>Current at which the highest cell would stand at a voltage.</summary>
    private double HighestCellAmperes(double volts)
    {
        var amperes = double.MaxValue;
        for (var cell = 0; cell < _pack.CellCount; cell++)
        {
            amperes = Math.Min(amperes, ((volts - _pack.SourceVolts(cell)) / _pack.OhmicOhmsNow(cell)) + _bleed[cell]);
        }

        return amperes;
    }

    /// <summary>Current at which the pack, as its instrument sees it, would stand at a mean voltage a cell.</summary>
    private double HoldingAmperes(double volts)
    {
        var (source, ohms) = (0.0, _pack.LeadOhms);
        for (var cell = 0; cell < _pack.CellCount; cell++)
        {
            source += _pack.SourceVolts(cell);
            ohms += _pack.OhmicOhmsNow(cell);
        }

        return ((volts * _pack.CellCount) - source) / ohms;
    }

    private void Advance(double amperes)
    {
        _pack.Step(_step, amperes, AmbientCelsius, _bleed);
        Seconds += _step;
        TrueChargeAh += amperes * _step / 3600;
        _countedAh += amperes * _instrument.AmpereGain * _step / 3600;
        if (Seconds >= _nextSample - 1e-6)
        {
            Sample(amperes);
        }
    }

    private void Sample(double amperes)
    {
        _nextSample += _instrument.IntervalSeconds;
        _seconds.Add(Seconds);
        var sum = 0.0;
        for (var cell = 0; cell < _pack.CellCount; cell++)
        {
            var volts = _pack.CellVolts(cell, amperes - _bleed[cell]);
            sum += volts;
            var offset = cell < _instrument.VoltOffsets.Count ? _instrument.VoltOffsets[cell] : 0;
            _cellVolts[cell].Add(Instrument.Rounded(volts + offset + (_instrument.VoltNoise * _random.NextNormal()), _instrument.VoltResolution));
        }

        var pack = sum + (amperes * _pack.LeadOhms) + (2 * _instrument.VoltNoise * _random.NextNormal());
        _packVolts.Add(Instrument.Rounded(pack, _instrument.VoltResolution));

        // Instruments show a plain zero when nothing flows.
        var shown = amperes == 0 ? 0 : (amperes * _instrument.AmpereGain) + (_instrument.AmpereNoise * _random.NextNormal());
        _amperes.Add(Instrument.Rounded(shown, _instrument.AmpereResolution));
        _chargeAh.Add(_countedAh);
        _celsius.Add(Instrument.Rounded(_pack.Celsius + (_instrument.CelsiusNoise * _random.NextNormal()), _instrument.CelsiusResolution));
    }
}
