using PackCare.Simulation;

namespace PackCare.SampleLogs;

/// <summary>One pack through the months: everything that is done to it, logged or not, in order of time.</summary>
internal sealed class PackLife
{
    private readonly Randomness _random;
    private readonly SampleSet _set;
    private DateTime _time;

    /// <summary>A pack on the day it was bought.</summary>
    /// <param name="set">Where its files, checks and entries go.</param>
    /// <param name="details">What its owner states.</param>
    /// <param name="model">What it truly is.</param>
    public PackLife(SampleSet set, FleetPack details, PackModel model)
    {
        _set = set;
        _random = Randomness.For(set.Seed, details.Label);
        Details = details;
        Pack = new SimulatedPack(model);
        _time = details.Bought.ToDateTime(new TimeOnly(12, 0));
        set.Packs.Add(details);
    }

    /// <summary>What its owner states.</summary>
    public FleetPack Details { get; }

    /// <summary>The pack itself.</summary>
    public SimulatedPack Pack { get; }

    /// <summary>The moment up to which it was lived.</summary>
    public DateTime Today => _time;

    private double RatedAh => Details.CapacityMah / 1000.0;

    private RestCurve Curve => Pack.Model.Cells[0].Curve;

    /// <summary>Lets time pass at the cupboard's temperature.</summary>
    /// <param name="local">Until when.</param>
    public void Until(DateTime local)
    {
        if (local < _time)
        {
            throw new InvalidOperationException($"{Details.Label}: {local:s} lies before {_time:s}.");
        }

        while (_time < local)
        {
            // A month at a time at most, so that the seasons count.
            var next = local - _time > TimeSpan.FromDays(10) ? _time.AddDays(10) : local;
            Pack.Rest((next - _time).TotalDays, Climate.Cupboard(_time));
            _time = next;
        }
    }

    /// <summary>Charges the pack full.</summary>
    /// <param name="local">When.</param>
    /// <param name="station">Where; null where nobody logged it.</param>
    /// <param name="c">Current in multiples of the rated capacity per hour.</param>
    /// <param name="balance">Whether the balance lead is plugged in.</param>
    /// <param name="named">Whether the pack's name was given.</param>
    public void Charge(DateTime local, Station? station, double c = 1, bool balance = true, bool named = true) =>
        Work(local, station, Climate.Room(local), named, session =>
        {
            session.Rest(_random.NextBetween(20, 60));
            session.Charge(new ChargePlan
            {
                Amperes = c * RatedAh,
                EndVolts = Details.Chemistry == "liion" ? 4.15 : Curve.FullVolts,
                EndAmperes = 0.05 * RatedAh,
                BleedAmperes = balance ? 0.25 : 0,
            });
            session.Rest(_random.NextBetween(120, 300));
        });

    /// <summary>Brings the pack to storage level, up or down.</summary>
    /// <param name="local">When.</param>
    /// <param name="station">Where; null where nobody logged it, then the diary says so.</param>
    /// <param name="c">Current in multiples of the rated capacity per hour.</param>
    public void Store(DateTime local, Station? station, double c = 0.5)
    {
        Work(local, station, Climate.Room(local), true, session =>
        {
            session.Rest(_random.NextBetween(20, 60));
            var mean = Enumerable.Range(0, Pack.CellCount).Average(cell => Pack.Truth(cell).RestVolts);
            if (mean < Curve.StorageVolts)
            {
                session.Charge(new ChargePlan { Amperes = c * RatedAh, EndVolts = Curve.StorageVolts, EndAmperes = 0.1 * RatedAh, BleedAmperes = 0 });
            }
            else
            {
                session.DischargeTo(c * RatedAh, Curve.StorageVolts, 0.1 * RatedAh);
            }

            session.Rest(_random.NextBetween(90, 240));
        });
        if (station is null)
        {
            Entry(_time, "storage", text: "to storage level, not logged");
        }
    }

    /// <summary>Measures the capacity: a discharge from full at a constant current until a cell is low.</summary>
    /// <param name="local">When.</param>
    /// <param name="station">Where.</param>
    /// <param name="c">Current in multiples of the rated capacity per hour.</param>
    public void Measure(DateTime local, Station station, double c = 0.8) =>
        Work(local, station, Climate.Room(local), true, session =>
        {
            session.Rest(_random.NextBetween(30, 60));
            session.Discharge(c * RatedAh, Details.Chemistry == "liion" ? 3.30 : 3.45);
            session.Rest(300);
        });

    /// <summary>A survey run on the river: cruising, bursts against the stream, and stops to take a sample.</summary>
    /// <param name="local">When.</param>
    /// <param name="logged">Whether the boat wrote a log; the diary has the run either way.</param>
    /// <param name="share">Share of the rated capacity after which the boat turns in.</param>
    /// <param name="cruiseC">Cruising current in multiples of the rated capacity per hour.</param>
    /// <param name="burstC">Current of a burst likewise.</param>
    /// <param name="text">What the diary says.</param>
    public void Run(DateTime local, bool logged, double share = 0.72, double cruiseC = 1.6, double burstC = 4.5, string? text = null)
    {
        var hottest = Work(local, logged ? Stations.OnBoard : null, Climate.River(local), true, session =>
        {
            session.Rest(_random.NextBetween(20, 50));
            var floor = Details.Chemistry == "liion" ? 3.0 : 3.3;
            while (-session.TrueChargeAh < share * RatedAh && session.LowestVolts(-burstC * RatedAh) > floor)
            {
                session.Run(
                    [
                        new LoadStep(Math.Round(_random.NextBetween(30, 70)), -RatedAh * cruiseC * _random.NextBetween(0.8, 1.2)),
                        new LoadStep(Math.Round(_random.NextBetween(8, 16)), -RatedAh * burstC * _random.NextBetween(0.85, 1.1)),
                        new LoadStep(Math.Round(_random.NextBetween(14, 30)), -RatedAh * cruiseC * _random.NextBetween(0.8, 1.2)),
                        new LoadStep(Math.Round(_random.NextBetween(15, 35)), -0.25),
                    ],
                    2.8);
            }

            session.Rest(_random.NextBetween(120, 200));
        });
        Entry(_time, "run", maxCelsius: Math.Round(hottest), text: text);
    }

    /// <summary>Works on the pack and keeps the log if there is a station.</summary>
    /// <returns>The highest temperature in degrees Celsius.</returns>
    public double Work(DateTime local, Station? station, double ambient, bool named, Action<SimulatedSession> work)
    {
        Until(local);
        // Packs lie where they are worked on for an hour before.
        Pack.SetTemperature(ambient + _random.NextBetween(-0.5, 0.5));
        var session = new SimulatedSession(Pack, (station ?? Stations.BenchA).Instrument, _random, ambient);
        work(session);
        var log = session.Finish();
        var started = _time;
        _time = NextFiveMinutes(_time.AddSeconds(session.Seconds + 60));
        if (station is not null)
        {
            _set.Add(station, named ? Details.Label : "", BerlinTime.At(started), log);
        }

        return log.Celsius.Max();
    }

    /// <summary>Cell voltages read with a hand meter, in whole millivolts, with 1 mV of noise.</summary>
    /// <param name="local">When.</param>
    /// <param name="warm">Whether the temperature was written down.</param>
    /// <param name="ohms">Whether resistances were read with a 1 kHz meter.</param>
    public void Check(DateTime local, bool warm = true, bool ohms = false)
    {
        Until(local);
        var cells = Enumerable.Range(0, Pack.CellCount).ToArray();
        _set.Checks.Add(new FleetCheck(
            Details.Label,
            BerlinTime.At(_time),
            [.. cells.Select(cell => Math.Round(Pack.Truth(cell).RestVolts + (0.001 * _random.NextNormal()), 3))],
            warm ? Math.Round(Pack.Celsius, 1) : null,
            // At 1 kHz a cell shows little more than its ohmic part.
            ohms ? [.. cells.Select(cell => Math.Round((Pack.OhmicOhmsNow(cell) * 850) + (0.05 * _random.NextNormal()), 1))] : null));
    }

    /// <summary>Writes something down.</summary>
    public void Entry(DateTime local, string kind, bool swollen = false, double? maxCelsius = null, string? text = null)
    {
        Until(local);
        _set.Entries.Add(new FleetEntry(Details.Label, BerlinTime.At(_time), kind, swollen, false, maxCelsius, text));
    }

    // People write down round times.
    private static DateTime NextFiveMinutes(DateTime local) => local.Date.AddMinutes(5 * Math.Ceiling((local - local.Date).TotalMinutes / 5));
}
