using PackCare.Analysis.Assessments;
using PackCare.Simulation;

namespace PackCare.Calibrate;

/// <summary>A year of packs that are in order, and of packs that fade along a line.</summary>
internal sealed record LongLife(bool Fading, IReadOnlyList<FindingCode> Blamed, double? TruthDays, LimitDate Date, DateTimeOffset Then)
{
    private const int Outings = 16;

    /// <summary>One pack.</summary>
    public static LongLife Run(ulong seed, int number)
    {
        Randomness random = Randomness.For(seed, $"life {number}");
        bool fading = number % 2 == 1;
        var bench = new Bench(random, noiseVolts: 0.001);
        double perDay = fading ? random.NextBetween(0.0002, 0.0005) : 0;
        DateTimeOffset began = bench.Now;
        double worn = 0;
        for (int i = 0; i < Outings; i++)
        {
            double before = Middle(bench);
            bench.Charge();
            if (i % 3 == 1)
            {
                bench.Discharge();
            }
            else
            {
                bench.Part(random.NextBetween(0.5, 0.7));
            }

            bench.Store();
            worn += before - Middle(bench);
            double days = random.NextBetween(8, 25);
            bench.Rest(days);
            for (int cell = 0; fading && cell < bench.Cells; cell++)
            {
                bench.Pack.Damage(cell, perDay * days, 0.5 * perDay * days);
            }
        }

        PackAssessment assessment = bench.Assess();
        DateTimeOffset then = bench.Now;
        double? ahead = null;
        if (fading)
        {
            // The truth goes on as it went: by the line, by use, and by the calendar.
            double byUse = worn / (then - began).TotalDays;
            while (Middle(bench) > 0.80 && (bench.Now - then).TotalDays < 3650)
            {
                bench.Rest(5);
                for (int cell = 0; cell < bench.Cells; cell++)
                {
                    bench.Pack.Damage(cell, (perDay + byUse) * 5, 0);
                }
            }

            ahead = (bench.Now - then).TotalDays;
        }

        return new LongLife(
            fading,
            [.. assessment.Findings.Where(finding => finding.Level > FindingLevel.Note).Select(finding => finding.Code).Distinct()],
            ahead,
            assessment.Capacity.LimitReached,
            then);
    }

    private static double Middle(Bench bench) =>
        Enumerable.Range(0, bench.Cells).Select(cell => bench.Pack.Truth(cell).CapacityAh).Order().ElementAt(bench.Cells / 2) / bench.RatedAh;

    /// <summary>The tables.</summary>
    public static string Report(IReadOnlyList<LongLife> all)
    {
        IEnumerable<string> Rows()
        {
            List<LongLife> sound = [.. all.Where(one => !one.Fading)];
            yield return "| finding | packs in order that it blames |\n|---|---|\n";
            foreach (FindingCode code in Enum.GetValues<FindingCode>())
            {
                int blamed = sound.Count(one => one.Blamed.Contains(code));
                if (blamed > 0)
                {
                    yield return $"| {code} | {Figures.Share(blamed, sound.Count)} |\n";
                }
            }

            yield return $"| any | {Figures.Share(sound.Count(one => one.Blamed.Count > 0), sound.Count)} |\n\n";

            List<LongLife> fading = [.. all.Where(one => one is { Fading: true, TruthDays: > 30 })];
            List<(LimitDate.Ahead Date, double Truth, DateTimeOffset Then)> dated = [.. fading.Where(one => one.Date is LimitDate.Ahead).Select(one => ((LimitDate.Ahead)one.Date, one.TruthDays!.Value, one.Then))];
            int held = dated.Count(one => (one.Date.Low - one.Then).TotalDays <= one.Truth && !((one.Date.High - one.Then)?.TotalDays < one.Truth));
            double[] errors = [.. dated.Select(one => Math.Abs((one.Date.Expected - one.Then).TotalDays - one.Truth) / one.Truth)];
            Array.Sort(errors);
            yield return $"Fading packs (0.02 to 0.05 % a day) with the 80 % limit more than a month ahead: {fading.Count}; a date given for {dated.Count}; held by its interval: {Figures.Share(held, dated.Count)}; the expected date is off by {(errors.Length == 0 ? "-" : $"{100 * errors[errors.Length / 2]:0}")} % of the time to go in the middle case.\n";
        }

        return Figures.Section("A year", "Sixteen outings over some nine months. Half of the packs are in order and age as cells do; half fade along a straight line on top.", Rows());
    }
}
