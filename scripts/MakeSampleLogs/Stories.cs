using PackCare.Simulation;

namespace PackCare.SampleLogs;

/// <summary>The scenario: a school's river-survey team with small drone boats, September 2025 to the end of October 2026. All invented.</summary>
internal static class Stories
{
    /// <summary>Every pack's story.</summary>
    public static IReadOnlyList<Story> All { get; } =
    [
        new("Heron", "healthy and cared for; matches Egret", Heron),
        new("Egret", "healthy and cared for; matches Heron", Egret),
        new("Curlew", "healthy lithium-ion pack, charged to 4.15 V a cell", Curlew),
        new("Kingfisher", "cell 2 has discharged itself at 18 % a month since 1 February 2026", Kingfisher),
        new("Moorhen", "charged full on 26 June 2026 and left until 11 September", Moorhen),
        new("Osprey", "resistance rises in all cells, most in cell 4", Osprey),
        new("Grebe", "capacity has fallen below 80 % of what is printed on it", Grebe),
        new("Coot", "always charged without its balance lead", Coot),
        new("Dipper", "cell 1 was over-discharged on 3 July 2026", Dipper),
        new("Bittern", "the connector wears out", Bittern),
        new("Wagtail", "seen to be swollen on 18 September 2026", Wagtail),
        new("Teal", "healthy, but charged full on 29 October 2026 and still so", Teal),
        new("Sandpiper", "bought on 12 October 2026, too new to tell", Sandpiper),
    ];

    private static PackLife Heron(SampleSet set)
    {
        var life = new PackLife(set, Details("Heron", 4, "lipo", 5000, 50, "2025-09-03", 54.90m, "Ripple", "XT60"), Model(set, "Heron", RestCurve.LiPo, 4, 5.0, 1.022, 2.6, 1.6));
        Year(life, 0, Stations.BenchA, [0, 2, 4, 6], spotOhms: true);
        life.Check(Day("2026-10-30", 15, 20), ohms: true);
        return life;
    }

    private static PackLife Egret(SampleSet set)
    {
        var life = new PackLife(set, Details("Egret", 4, "lipo", 5000, 50, "2025-09-03", 54.90m, "Ripple", "XT60"), Model(set, "Egret", RestCurve.LiPo, 4, 5.0, 1.018, 2.64, 1.6));
        Year(life, 1, Stations.BenchA, [1, 3, 5, 7], spotOhms: true);
        life.Check(Day("2026-10-30", 15, 25), ohms: true);
        return life;
    }

    private static PackLife Curlew(SampleSet set)
    {
        var details = Details("Curlew", 6, "liion", 7000, 3, "2025-09-08", 118.00m, "Lantern", "XT60") with { Parallel = 2 };
        var model = Model(set, "Curlew", RestCurve.LiIon, 6, 7.0, 1.005, 11.5, 6.5, tau: 40, gramsPerAh: 13.7, selfDischarge: 0.008);
        var life = new PackLife(set, details, model);
        Year(life, 2, Stations.Boathouse, [1, 4, 6], chargeC: 0.5, cruiseC: 0.8, burstC: 1.8);
        life.Check(Day("2026-10-30", 15, 30));
        return life;
    }

    private static PackLife Kingfisher(SampleSet set)
    {
        var life = new PackLife(set, Details("Kingfisher", 3, "lipo", 2200, 35, "2025-09-10", 21.50m, "Skiff 1", "XT60"), Model(set, "Kingfisher", RestCurve.LiPo, 3, 2.2, 1.01, 5.4, 3.2));
        Year(life, 3, Stations.Workshop, [0, 3, 5], onDay: day =>
        {
            if (day >= Day("2026-02-01") && life.Today < Day("2026-02-01"))
            {
                life.Until(Day("2026-02-01"));
                life.Pack.SetSelfDischarge(1, 0.18);
            }
        });
        life.Check(Day("2026-10-30", 15, 35));
        return life;
    }

    private static PackLife Moorhen(SampleSet set)
    {
        var life = new PackLife(set, Details("Moorhen", 4, "lipo", 4000, 40, "2025-09-04", 43.00m, "Drifter", "XT60"), Model(set, "Moorhen", RestCurve.LiPo, 4, 4.0, 1.015, 3.2, 1.9));
        foreach (var week in Weeks.Where(week => week < Day("2026-06-20")))
        {
            Outing(life, week.AddDays(4), Stations.FieldCase, logged: true, logRun: week.Month is 9 or 4 or 5, measure: week == Weeks[0] || week == Weeks[5]);
            MidTerm(life, week.AddDays(4));
        }

        // The run of 26 June was rained off, and then came the holidays.
        life.Charge(Day("2026-06-26", 8, 40), Stations.FieldCase);
        life.Entry(Day("2026-06-26", 12, 10), "note", text: "thunderstorm, no run today");
        life.Run(AfterLog(life, Day("2026-09-11", 9, 0), Stations.FieldCase), logged: true);
        life.Store(Day("2026-09-11", 16, 5), Stations.FieldCase);
        Outing(life, Day("2026-09-25"), Stations.FieldCase, logged: true, logRun: true);
        Outing(life, Day("2026-10-23"), Stations.FieldCase, logged: true, measure: true);
        life.Check(Day("2026-10-30", 15, 40));
        return life;
    }

    private static PackLife Osprey(SampleSet set)
    {
        var life = new PackLife(set, Details("Osprey", 6, "lipo", 5200, 45, "2025-09-02", 96.00m, "Tug", "XT90"), Model(set, "Osprey", RestCurve.LiPo, 6, 5.2, 1.01, 2.4, 1.5));
        for (var cell = 0; cell < 6; cell++)
        {
            life.Pack.SetWear(cell, 0.0016, cell == 3 ? 0.029 : 0.0155 + (0.0004 * cell));
        }

        Year(life, 0, Stations.Boathouse, [0, 2, 3, 5, 7], burstC: 6, extraRuns: true);
        life.Check(Day("2026-10-30", 15, 45));
        return life;
    }

    private static PackLife Grebe(SampleSet set)
    {
        var life = new PackLife(set, Details("Grebe", 3, "lipo", 5000, 30, "2025-09-05", 38.50m, "Skiff 2", "XT60"), Model(set, "Grebe", RestCurve.LiPo, 3, 5.0, 0.985, 3.0, 1.8));
        for (var cell = 0; cell < 3; cell++)
        {
            life.Pack.SetWear(cell, 0.0045 + (0.0002 * cell), 0.004);
        }

        Year(life, 1, Stations.Workshop, [1, 4], share: 0.58, extraRuns: true, unnamed: Day("2026-05-12"));
        life.Check(Day("2026-10-30", 15, 50));
        return life;
    }

    private static PackLife Coot(SampleSet set)
    {
        var model = Model(set, "Coot", RestCurve.LiPo, 4, 3.3, 1.01, 3.8, 2.3);
        double[] offsets = [0.012, 0.0, -0.028, 0.004];
        model = model with
        {
            Cells = [.. model.Cells.Select((cell, i) => cell with { InitialStateOfCharge = 0.45 + offsets[i], SelfDischargePerMonth = 0.012 + (i == 2 ? 0.002 : 0) })],
        };
        var life = new PackLife(set, Details("Coot", 4, "lipo", 3300, 40, "2025-09-09", 36.00m, "Drifter", "XT60"), model);
        Year(life, 2, Stations.FieldCase, [2, 5], balance: false);
        life.Check(Day("2026-10-30", 15, 55));
        return life;
    }

    private static PackLife Dipper(SampleSet set)
    {
        var model = Model(set, "Dipper", RestCurve.LiPo, 2, 1.3, 1.01, 9.0, 5.2);
        model = model with { Cells = [model.Cells[0] with { CapacityAh = model.Cells[0].CapacityAh * 0.975 }, model.Cells[1]] };
        var life = new PackLife(set, Details("Dipper", 2, "lipo", 1300, 35, "2025-09-11", 12.90m, "Cork", "XT30"), model);
        foreach (var week in Weeks.Where(week => week < Day("2026-06-20")))
        {
            Outing(life, week.AddDays(3), Stations.Jetty, logged: true, logRun: week.Month is 3 or 5, measure: week == Weeks[1]);
            MidTerm(life, week.AddDays(3));
        }

        // The boat was caught in the reeds and pulled on until its motor stopped; then its receiver drew on.
        life.Charge(Day("2026-07-03", 8, 30), Stations.Jetty);
        life.Work(Day("2026-07-03", 13, 5), Stations.OnBoard, Climate.River(Day("2026-07-03")), true, session =>
        {
            session.Rest(30);
            session.Run([new LoadStep(240, -2.2), new LoadStep(20, -0.25), new LoadStep(300, -2.4), new LoadStep(2400, -3.1)], 2.6);
            session.Run([new LoadStep(1200, -0.25)], 2.42);
            session.Rest(180);
        });
        life.Pack.Damage(0, 0.05, 0.35);
        life.Entry(Day("2026-07-03", 14, 5), "run", maxCelsius: 38, text: "caught in the reeds, came back dead");
        life.Store(Day("2026-07-03", 16, 15), Stations.Jetty, c: 0.2);
        life.Check(Day("2026-08-20", 10, 10));
        Outing(life, Day("2026-09-10"), Stations.Jetty, logged: true, logRun: true);
        life.Check(Day("2026-10-30", 16, 0));
        return life;
    }

    private static PackLife Bittern(SampleSet set)
    {
        var life = new PackLife(set, Details("Bittern", 6, "lipo", 4500, 45, "2025-09-12", 84.00m, "Tug", "XT90"), Model(set, "Bittern", RestCurve.LiPo, 6, 4.5, 1.02, 2.7, 1.7, leads: 4.5));
        Year(life, 4, Stations.Room12, [0, 2, 4, 5, 7], onDay: day =>
        {
            var days = (day - Day("2026-01-15")).TotalDays;
            life.Pack.LeadOhms = 0.0045 + (days > 0 ? days * 0.000075 : 0);
        });
        life.Check(Day("2026-10-30", 16, 5));
        return life;
    }

    private static PackLife Wagtail(SampleSet set)
    {
        var life = new PackLife(set, Details("Wagtail", 3, "lipo", 2700, 30, "2025-09-03", 24.90m, "Skiff 1", "XT60"), Model(set, "Wagtail", RestCurve.LiPo, 3, 2.7, 1.0, 4.6, 2.8));
        for (var cell = 0; cell < 3; cell++)
        {
            life.Pack.SetWear(cell, 0.002, 0.03);
        }

        foreach (var week in Weeks.Where(week => week < Day("2026-09-14")))
        {
            var day = week.AddDays(2);
            Outing(life, day, Stations.Workshop, logged: true, logRun: week.Month is 10 or 4 or 6, measure: week == Weeks[0] || week == Weeks[8]);
            MidTerm(life, day);
        }

        life.Entry(Day("2026-09-18", 11, 30), "inspection", swollen: true, text: "soft bulge on the flat side, taken off the shelf and set aside outdoors");
        return life;
    }

    private static PackLife Teal(SampleSet set)
    {
        var life = new PackLife(set, Details("Teal", 4, "lihv", 4200, 60, "2025-09-16", 59.90m, "Lantern", "XT60"), Model(set, "Teal", RestCurve.LiHv, 4, 4.2, 1.015, 3.1, 1.9));
        Year(life, 3, Stations.Jetty, [1, 3, 6], last: Day("2026-10-10"));
        Outing(life, Day("2026-10-15"), Stations.Jetty, logged: true, measure: true);
        life.Charge(Day("2026-10-29", 15, 10), Stations.Jetty);
        life.Entry(Day("2026-10-30", 9, 0), "note", text: "high water, run put off");
        life.Check(Day("2026-10-31", 10, 20));
        return life;
    }

    private static PackLife Sandpiper(SampleSet set)
    {
        var life = new PackLife(set, Details("Sandpiper", 3, "lipo", 2200, 35, "2026-10-12", 22.50m, "Skiff 2", "XT60"), Model(set, "Sandpiper", RestCurve.LiPo, 3, 2.2, 1.02, 5.3, 3.1));
        life.Charge(Day("2026-10-21", 8, 30), Stations.BenchA);
        life.Run(Day("2026-10-21", 13, 0), logged: false, text: "first run");
        life.Store(Day("2026-10-21", 16, 0), Stations.BenchA);
        life.Check(Day("2026-10-30", 16, 10));
        return life;
    }

    // Mondays of the weeks in which there are runs; each pack has its day of the week.
    private static readonly DateTime[] Weeks =
    [
        Day("2025-09-15"), Day("2025-09-29"), Day("2025-10-13"), Day("2025-11-10"),
        Day("2026-03-02"), Day("2026-03-23"), Day("2026-04-20"), Day("2026-05-11"), Day("2026-06-08"),
        Day("2026-07-06"), Day("2026-09-07"), Day("2026-09-21"), Day("2026-10-05"), Day("2026-10-26"),
    ];

    // Weeks in which capacity is measured instead of a run.
    private static readonly int[] Measured = [1, 5, 9, 13];

    private static readonly DateTime[] CheckDays =
    [
        Day("2025-10-30"), Day("2025-12-11"), Day("2026-01-20"), Day("2026-02-18"), Day("2026-04-09"), Day("2026-05-28"), Day("2026-08-04"), Day("2026-08-27"),
    ];

    private static void Year(
        PackLife life,
        int weekday,
        Station station,
        int[] loggedRuns,
        double chargeC = 1,
        double share = 0.72,
        double cruiseC = 1.6,
        double burstC = 4.5,
        bool balance = true,
        bool spotOhms = false,
        bool extraRuns = false,
        DateTime? unnamed = null,
        DateTime? last = null,
        Action<DateTime>? onDay = null)
    {
        var outing = 0;
        for (var week = 0; week < Weeks.Length; week++)
        {
            var day = Weeks[week].AddDays(weekday);
            if (day > last || day > Day("2026-10-30"))
            {
                break;
            }

            onDay?.Invoke(day);
            var measure = Measured.Contains(week);
            Outing(life, day, station, true, !measure && loggedRuns.Contains(outing), measure, chargeC, share, cruiseC, burstC, balance, named: day != unnamed);
            outing += measure ? 0 : 1;

            var next = week + 1 < Weeks.Length ? Weeks[week + 1].AddDays(weekday) : Day("2026-10-30");
            for (var extra = day.AddDays(3); extraRuns && extra < next.AddDays(-1) && extra < day.AddDays(20); extra = extra.AddDays(4))
            {
                onDay?.Invoke(extra);
                Outing(life, extra, station, false, false, false, chargeC, share, cruiseC, burstC, balance);
            }

            foreach (var check in CheckDays.Where(check => check > day.AddDays(1) && check < next))
            {
                onDay?.Invoke(check);
                if (check > life.Today)
                {
                    life.Check(check.AddMinutes((15 * 60) + 30), warm: check.Month % 3 != 0, ohms: spotOhms);
                }
            }
        }
    }

    private static void MidTerm(PackLife life, DateTime day)
    {
        var next = Weeks.FirstOrDefault(week => week > day, day);
        foreach (var check in CheckDays.Where(check => check > day && check < next))
        {
            life.Check(check.AddMinutes((15 * 60) + 42), warm: check.Month % 2 == 0);
        }
    }

    private static void Outing(
        PackLife life,
        DateTime day,
        Station station,
        bool logged,
        bool logRun = false,
        bool measure = false,
        double chargeC = 1,
        double share = 0.72,
        double cruiseC = 1.6,
        double burstC = 4.5,
        bool balance = true,
        bool named = true)
    {
        // A few minutes apart from pack to pack, so that no two files of a station share a name.
        var minutes = life.Details.Label.Sum(letter => letter) % 40;
        life.Charge(day.AddMinutes((7 * 60) + 42 + minutes), logged ? station : null, chargeC, balance, named);
        if (measure)
        {
            life.Measure(day.AddMinutes((11 * 60) + 30 + minutes), station, 0.8 * chargeC);
            life.Store(day.AddMinutes((14 * 60) + 30 + minutes), station, 0.5);
        }
        else
        {
            life.Run(day.AddMinutes((12 * 60) + 36 + minutes), logRun, share, cruiseC, burstC);
            life.Store(day.AddMinutes((15 * 60) + 12 + minutes), logged && logRun ? station : null, 0.5);
        }
    }

    private static DateTime AfterLog(PackLife life, DateTime local, Station station)
    {
        // Topped up before the run, which shows how full it still was.
        life.Charge(local, station);
        return local.AddHours(4);
    }

    private static DateTime Day(string date, int hour = 0, int minute = 0) =>
        DateTime.ParseExact(date, "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture).AddHours(hour).AddMinutes(minute);

    private static FleetPack Details(string label, int cells, string chemistry, int capacityMah, double ratingC, string bought, decimal price, string vehicle, string connector) =>
        new(label, cells, 1, chemistry, capacityMah, ratingC, DateOnly.FromDateTime(Day(bought)), price, "EUR", vehicle, connector);

    private static PackModel Model(
        SampleSet set,
        string label,
        RestCurve curve,
        int cells,
        double ratedAh,
        double capacity,
        double ohmicMilliohms,
        double slowMilliohms,
        double tau = 25,
        double gramsPerAh = 25,
        double selfDischarge = 0.014,
        double leads = 4)
    {
        var random = Randomness.For(set.Seed, label + " cells");
        return new PackModel
        {
            RatedAh = ratedAh,
            LeadOhms = leads / 1000,
            HeatJoulesPerKelvin = gramsPerAh * ratedAh * cells,
            Cells = [.. Enumerable.Range(0, cells).Select(_ => new CellModel
            {
                Curve = curve,
                CapacityAh = ratedAh * capacity * (1 + (0.003 * random.NextNormal())),
                OhmicOhms = ohmicMilliohms / 1000 * (1 + (0.015 * random.NextNormal())),
                SlowOhms = slowMilliohms / 1000 * (1 + (0.015 * random.NextNormal())),
                SlowSeconds = tau,
                SelfDischargePerMonth = selfDischarge * random.NextBetween(0.9, 1.1),
                InitialStateOfCharge = 0.45 + (0.002 * random.NextNormal()),
            })],
        };
    }
}
