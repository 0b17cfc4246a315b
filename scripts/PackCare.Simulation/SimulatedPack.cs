namespace PackCare.Simulation;

/// <summary>
/// A pack in time: an ohmic resistance and one RC pair a cell, one temperature for the whole pack, self-discharge and ageing.
/// Current into the pack is positive. Not thread-safe; one instance per simulated life.
/// </summary>
/// <example>
/// A charge as an instrument sees it, and the truth to hold an estimate against:
/// <code>
/// var cell = new CellModel { Curve = RestCurve.LiPo, CapacityAh = 5, OhmicOhms = 0.003, SlowOhms = 0.002 };
/// var pack = new SimulatedPack(new PackModel { Cells = [cell, cell, cell], RatedAh = 5, HeatJoulesPerKelvin = 375 });
/// pack.Rest(30, 20);
/// var session = new SimulatedSession(pack, new Instrument(), Randomness.For(1, "pack 17"), ambientCelsius: 22);
/// session.Rest(60);
/// session.Charge(new ChargePlan { Amperes = 5, EndVolts = 4.20, EndAmperes = 0.25 });
/// SimulatedLog log = session.Finish();
/// CellTruth truth = pack.Truth(0);
/// </code>
/// </example>
public sealed class SimulatedPack
{
    private const double GasConstant = 8.314462618;
    private const double KelvinAtZero = 273.15;
    private const double ReferenceKelvin = 298.15;

    private readonly Cell[] _cells;
    private double _factorCelsius = double.NaN;
    private double _decaySeconds = double.NaN;

    /// <summary>A new pack at 25 degrees Celsius.</summary>
    /// <param name="model">What it is.</param>
    public SimulatedPack(PackModel model)
    {
        ArgumentNullException.ThrowIfNull(model);
        Model = model;
        LeadOhms = model.LeadOhms;
        _cells = [.. model.Cells.Select(cell => new Cell(cell))];
    }

    /// <summary>What it was when new.</summary>
    public PackModel Model { get; }

    /// <summary>Cells in series.</summary>
    public int CellCount => _cells.Length;

    /// <summary>Temperature in degrees Celsius.</summary>
    public double Celsius { get; private set; } = 25;

    /// <summary>Resistance of leads and connector in ohms; a worn connector is one whose value is raised.</summary>
    public double LeadOhms { get; set; }

    /// <summary>Charge moved in either direction since new, in ampere hours.</summary>
    public double ThroughputAh { get; private set; }

    /// <summary>Equivalent full cycles since new: charge moved over twice the rated capacity.</summary>
    public double Cycles => ThroughputAh / (2 * Model.RatedAh);

    /// <summary>Heat given off inside the cells since new, in joules.</summary>
    public double HeatJoules { get; private set; }

    /// <summary>What a cell truly is now.</summary>
    /// <param name="cell">Cell from 0.</param>
    public CellTruth Truth(int cell)
    {
        var c = _cells[cell];
        return new CellTruth(c.CapacityAh, c.OhmicOhms, c.SlowOhms, c.Model.SlowSeconds, c.StateOfCharge, c.RestVolts);
    }

    /// <summary>Voltage of a cell in volts while a current flows.</summary>
    /// <param name="cell">Cell from 0.</param>
    /// <param name="amperes">Current into the cell in amperes.</param>
    public double CellVolts(int cell, double amperes) => SourceVolts(cell) + (amperes * OhmicOhmsNow(cell));

    /// <summary>Voltage behind the ohmic resistance of a cell: rest voltage plus that of the RC pair, in volts.</summary>
    /// <param name="cell">Cell from 0.</param>
    public double SourceVolts(int cell) => _cells[cell].RestVolts + _cells[cell].SlowVolts;

    /// <summary>Ohmic resistance of a cell as it is now, with temperature and charge, in ohms.</summary>
    /// <param name="cell">Cell from 0.</param>
    public double OhmicOhmsNow(int cell)
    {
        Refresh();
        return _cells[cell].OhmicNow;
    }

    /// <summary>Energy held in the RC pairs as in a capacitor of tau / R1, in joules.</summary>
    public double SlowJoules
    {
        get
        {
            Refresh();
            return _cells.Sum(c => 0.5 * c.Model.SlowSeconds / c.SlowNow * c.SlowVolts * c.SlowVolts);
        }
    }

    /// <summary>Lets a constant current flow for a short time.</summary>
    /// <param name="seconds">How long, in seconds; short against the RC pair for a smooth curve, exact for it at any length.</param>
    /// <param name="amperes">Current into the pack in amperes.</param>
    /// <param name="ambientCelsius">Temperature around in degrees Celsius.</param>
    /// <param name="bleedAmperes">Current led past each cell by a balancer in amperes, not negative; empty for none.</param>
    public void Step(double seconds, double amperes, double ambientCelsius, ReadOnlySpan<double> bleedAmperes = default)
    {
        Refresh();
        if (seconds != _decaySeconds)
        {
            _decaySeconds = seconds;
            foreach (var cell in _cells)
            {
                cell.Decay = Math.Exp(-seconds / cell.Model.SlowSeconds);
            }
        }

        var hours = seconds / 3600;
        var joules = 0.0;
        for (var i = 0; i < _cells.Length; i++)
        {
            var flow = bleedAmperes.IsEmpty ? amperes : amperes - bleedAmperes[i];
            joules += _cells[i].Step(flow, seconds, hours);
        }

        HeatJoules += joules;
        ThroughputAh += Math.Abs(amperes) * hours;
        var loss = (Celsius - ambientCelsius) / Model.CoolingSeconds * seconds;
        Celsius += (joules / Model.HeatJoulesPerKelvin) - loss;
    }

    /// <summary>Lets the pack lie: the RC pairs settle, it takes the temperature around, loses charge and ages.</summary>
    /// <param name="days">How long, in days, not negative.</param>
    /// <param name="ambientCelsius">Mean temperature around in degrees Celsius.</param>
    public void Rest(double days, double ambientCelsius)
    {
        var seconds = days * 86400;
        foreach (var cell in _cells)
        {
            cell.Rest(days, Math.Exp(-seconds / cell.Model.SlowSeconds), ambientCelsius, Cycles);
        }

        Celsius = ambientCelsius + ((Celsius - ambientCelsius) * Math.Exp(-seconds / Model.CoolingSeconds));
        _factorCelsius = double.NaN;
    }

    /// <summary>Puts the pack at a temperature, for instance in another place.</summary>
    /// <param name="celsius">Temperature in degrees Celsius.</param>
    public void SetTemperature(double celsius) => Celsius = celsius;

    /// <summary>Sets the self-discharge of one cell from now on: a leak fault.</summary>
    /// <param name="cell">Cell from 0.</param>
    /// <param name="fractionPerMonth">Fraction of the charge held per 30 days.</param>
    public void SetSelfDischarge(int cell, double fractionPerMonth) => _cells[cell].SelfDischargePerMonth = fractionPerMonth;

    /// <summary>Sets how fast one cell wears from now on.</summary>
    /// <param name="cell">Cell from 0.</param>
    /// <param name="fadePerCycle">Capacity lost per equivalent full cycle, as a fraction of the capacity when new.</param>
    /// <param name="growthPerCycle">Resistance gained per equivalent full cycle, as a fraction of the resistance when new.</param>
    public void SetWear(int cell, double fadePerCycle, double growthPerCycle) => _cells[cell].SetWear(fadePerCycle, growthPerCycle, Cycles);

    /// <summary>Harms one cell at once.</summary>
    /// <param name="cell">Cell from 0.</param>
    /// <param name="capacityLoss">Capacity lost, as a fraction of the capacity when new.</param>
    /// <param name="resistanceGrowth">Resistance gained, as a fraction of the resistance when new.</param>
    public void Damage(int cell, double capacityLoss, double resistanceGrowth) => _cells[cell].Damage(capacityLoss, resistanceGrowth);

    private void Refresh()
    {
        // A hundredth of a kelvin is 0.02 % of resistance; asking exp() less often is what makes long studies quick.
        if (Math.Abs(Celsius - _factorCelsius) <= 0.01)
        {
            return;
        }

        _factorCelsius = Celsius;
        foreach (var cell in _cells)
        {
            cell.SetFactor(Math.Exp(cell.Model.ActivationJoulesPerMole / GasConstant * ((1 / (Celsius + KelvinAtZero)) - (1 / ReferenceKelvin))));
        }
    }

    private sealed class Cell
    {
        private double _chargeAh;
        private double _fadePerCycle;
        private double _growthPerCycle;
        private double _cyclesSeen;
        private double _storedLoss;
        private double _storedGrowth;
        private double _wornLoss;
        private double _wornGrowth;
        private double _factor = 1;

        public Cell(CellModel model)
        {
            Model = model;
            SelfDischargePerMonth = model.SelfDischargePerMonth;
            _fadePerCycle = model.FadePerCycle;
            _growthPerCycle = model.GrowthPerCycle;
            CapacityAh = model.CapacityAh;
            OhmicOhms = model.OhmicOhms;
            SlowOhms = model.SlowOhms;
            _chargeAh = model.InitialStateOfCharge * CapacityAh;
            Settle();
        }

        public CellModel Model { get; }

        public double CapacityAh { get; private set; }

        public double OhmicOhms { get; private set; }

        public double SlowOhms { get; private set; }

        public double SelfDischargePerMonth { get; set; }

        public double StateOfCharge { get; private set; }

        public double RestVolts { get; private set; }

        public double SlowVolts { get; private set; }

        public double OhmicNow { get; private set; }

        public double SlowNow { get; private set; }

        public double Decay { get; set; }

        public void SetFactor(double factor)
        {
            _factor = factor;
            SetOhms();
        }

        public void SetWear(double fadePerCycle, double growthPerCycle, double cycles)
        {
            Wear(cycles);
            (_fadePerCycle, _growthPerCycle) = (fadePerCycle, growthPerCycle);
        }

        public void Damage(double capacityLoss, double resistanceGrowth)
        {
            _wornLoss += capacityLoss;
            _wornGrowth += resistanceGrowth;
            ApplyAge();
        }

        public double Step(double amperes, double seconds, double hours)
        {
            // Heat of R0, and of R1 with its voltage integrated exactly over the step.
            var target = amperes * SlowNow;
            var gap = SlowVolts - target;
            var tau = Model.SlowSeconds;
            var squared = (target * target * seconds) + (2 * target * gap * tau * (1 - Decay)) + (0.5 * gap * gap * tau * (1 - (Decay * Decay)));
            var joules = (amperes * amperes * OhmicNow * seconds) + (squared / SlowNow);

            SlowVolts = target + (gap * Decay);
            _chargeAh += (amperes - (SelfDischargePerMonth * _chargeAh / 720)) * hours;
            Settle();
            return joules;
        }

        public void Rest(double days, double decay, double celsius, double cycles)
        {
            SlowVolts *= decay;
            Wear(cycles);
            _storedLoss = Ageing.Advance(_storedLoss, Model.StoredAgeing * Ageing.CapacityRate(RestVolts, celsius), days);
            _storedGrowth = Ageing.Advance(_storedGrowth, Model.StoredAgeing * Ageing.ResistanceRate(RestVolts, celsius), days);
            _chargeAh *= Math.Exp(-SelfDischargePerMonth * days / 30);
            ApplyAge();
        }

        private void Wear(double cycles)
        {
            _wornLoss += _fadePerCycle * (cycles - _cyclesSeen);
            _wornGrowth += _growthPerCycle * (cycles - _cyclesSeen);
            _cyclesSeen = cycles;
        }

        private void ApplyAge()
        {
            // A cell that shrinks keeps its state of charge: its rest voltage does not jump.
            var before = CapacityAh;
            CapacityAh = Model.CapacityAh * (1 - _storedLoss - _wornLoss);
            _chargeAh *= CapacityAh / before;
            OhmicOhms = Model.OhmicOhms * (1 + _storedGrowth + _wornGrowth);
            SlowOhms = Model.SlowOhms * (1 + _storedGrowth + _wornGrowth);
            Settle();
        }

        private void Settle()
        {
            StateOfCharge = _chargeAh / CapacityAh;
            RestVolts = Model.Curve.Volts(StateOfCharge);
            SetOhms();
        }

        private void SetOhms()
        {
            // Towards empty the ohmic part rises, to about twice at zero; common practice, no source.
            var towardsEmpty = StateOfCharge >= 0.3 ? 1 : 1 + (Math.Pow(1 - (Math.Max(StateOfCharge, 0) / 0.3), 4) * 1.2);
            OhmicNow = OhmicOhms * _factor * towardsEmpty;
            SlowNow = SlowOhms * _factor;
        }
    }
}
