using PackCare.Analysis.Assessments;
using PackCare.Core.Estimates;
using PackCare.Simulation;

namespace PackCare.Calibrate;

/// <summary>Resistance and capacity of packs that hardly change, from ten outings.</summary>
internal sealed record TenSessions(double NoiseMillivolts, bool Complete, IReadOnlyList<(Estimate? Estimate, double Truth)> Resistance, IReadOnlyList<(Estimate? Estimate, double Truth)> Ratio, (Estimate? Estimate, double Truth) Capacity, (Estimate? Estimate, double Truth) Leads)
{
    private static readonly double[] Intervals = [1, 2, 5, 10];

    /// <summary>One pack.</summary>
    public static TenSessions Run(ulong seed, int number)
    {
        Randomness random = Randomness.For(seed, $"ten {number}");
        double noise = number % 2 == 0 ? 0.001 : 0.010;
        bool complete = number / 2 % 2 == 0;
        var bench = new Bench(random, noiseVolts: noise, intervalSeconds: Intervals[number / 4 % 4]);
        for (int i = 0; i < 10; i++)
        {
            bench.Charge();
            if (complete)
            {
                bench.Discharge();
            }
            else
            {
                bench.Part(random.NextBetween(0.3, 0.75));
            }

            if (i == 9)
            {
                break;
            }

            bench.Rest(random.NextBetween(2, 10));
        }

        PackAssessment assessment = bench.Assess();
        CellTruth[] truths = [.. Enumerable.Range(0, bench.Cells).Select(bench.Pack.Truth)];
        double lag = assessment.Resistance.LagSeconds ?? 0;
        return new TenSessions(
            1000 * noise,
            complete,
            [.. assessment.Resistance.Cells.Select(cell => (cell.Milliohms, 1000 * truths[cell.Cell - 1].StepOhms(lag)))],
            [.. assessment.Resistance.Cells.Select(cell => (cell.Ratio, truths[cell.Cell - 1].OhmicOhms / bench.Pack.Model.Cells[cell.Cell - 1].OhmicOhms))],
            (assessment.Capacity.LatestAh, truths.Select(truth => truth.CapacityAh).Order().ElementAt(truths.Length / 2)),
            (assessment.Resistance.LeadMilliohms, 1000 * bench.Pack.LeadOhms));
    }

    /// <summary>The tables.</summary>
    public static string Report(IReadOnlyList<TenSessions> all)
    {
        IEnumerable<string> Rows()
        {
            yield return Figures.Head();
            foreach (double noise in new[] { 1.0, 10.0 })
            {
                List<TenSessions> those = [.. all.Where(one => one.NoiseMillivolts == noise)];
                yield return Figures.Row($"resistance of a cell, noise {noise} mV", those.SelectMany(one => one.Resistance), noise == 1 ? "RMS 5, held 93-97" : "held 93-97");
                yield return Figures.Row($"resistance over that when new, noise {noise} mV", those.SelectMany(one => one.Ratio), "held 93-97");
                yield return Figures.Row($"leads, noise {noise} mV", those.Select(one => one.Leads), "held 93-97");
                yield return Figures.Row($"capacity, complete discharges, noise {noise} mV", those.Where(one => one.Complete).Select(one => one.Capacity), "RMS 1.5, held 93-97");
                yield return Figures.Row($"capacity, 30 to 75 % only, noise {noise} mV", those.Where(one => !one.Complete).Select(one => one.Capacity), "RMS 5, held 93-97");
            }
        }

        return Figures.Section(
            "Ten outings",
            "Ten charges, each followed by a complete discharge or by a part (30 to 75 %); logs every 1, 2, 5 or 10 s; noise of 1 or 10 mV; rest curves up to a fifth of the way to another chemistry's; activation energies of 10 to 20 kJ/mol; current scales off by 0.5 % and voltage channels by 0.5 mV (one standard deviation). Resistance is held against R0 + R1 (1 - exp(-lag/tau)) at the stated lag, capacity against the middle cell's.",
            Rows());
    }
}
