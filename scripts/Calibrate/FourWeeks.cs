using PackCare.Analysis.Assessments;
using PackCare.Core.Estimates;
using PackCare.Simulation;

namespace PackCare.Calibrate;

/// <summary>Four weeks with or without a cell that loses 1 % of its capacity a week more than the others.</summary>
internal sealed record FourWeeks(double NoiseMillivolts, string Habit, bool Leaking, bool Found, bool FoundElsewhere, (Estimate? Estimate, double Truth) Rate)
{
    /// <summary>One pack.</summary>
    public static FourWeeks Run(ulong seed, int number)
    {
        Randomness random = Randomness.For(seed, $"weeks {number}");
        double noise = number % 4 == 3 ? 0.010 : 0.001;
        bool leaking = number / 4 % 2 == 0;
        int habit = number / 8 % 2;
        const int Leaky = 1;
        var bench = new Bench(random, noiseVolts: noise);
        bench.Charge();
        bench.Discharge();
        bench.Store();
        // 1 % of capacity a week, from the charge that it holds.
        double held = bench.Pack.Truth(Leaky).StateOfCharge;
        if (leaking)
        {
            bench.Pack.SetSelfDischarge(Leaky, 0.015 + (0.01 / 7 * 30 / held));
        }

        double lost = 0;
        double days = 0;
        for (int week = 0; week < 4; week++)
        {
            (double Leaky, double Other) before = (bench.Pack.Truth(Leaky).StateOfCharge, bench.Pack.Truth(0).StateOfCharge);
            bench.Rest(6.8);
            lost += before.Leaky - bench.Pack.Truth(Leaky).StateOfCharge - (before.Other - bench.Pack.Truth(0).StateOfCharge);
            days += 6.8;
            if (habit == 0)
            {
                bench.Check();
            }
            else
            {
                bench.Charge();
                bench.Part(0.6);
                bench.Store();
            }
        }

        PackAssessment assessment = bench.Assess();
        Finding[] found = [.. assessment.Findings.Where(finding => finding.Code == FindingCode.SelfDischarge)];
        Finding? own = found.FirstOrDefault(finding => finding.Cell == Leaky + 1);
        return new FourWeeks(
            1000 * noise,
            habit == 0 ? "stored, spot check a week" : "used once a week",
            leaking,
            own is not null,
            found.Any(finding => finding.Cell != Leaky + 1),
            (own is null ? null : new Estimate(own.Value!.Value, 0, own.Low!.Value, own.High!.Value, 0.95, 4), 100 * lost / (days / 7)));
    }

    /// <summary>The tables.</summary>
    public static string Report(IReadOnlyList<FourWeeks> all)
    {
        IEnumerable<string> Rows()
        {
            yield return "| noise | habit | leaking cell found | pack without a leak blamed | another cell blamed |\n|---|---|---|---|---|\n";
            foreach (var group in all.GroupBy(one => (one.NoiseMillivolts, one.Habit)).OrderBy(group => group.Key.NoiseMillivolts).ThenBy(group => group.Key.Habit, StringComparer.Ordinal))
            {
                List<FourWeeks> leaking = [.. group.Where(one => one.Leaking)];
                List<FourWeeks> sound = [.. group.Where(one => !one.Leaking)];
                yield return $"| {group.Key.NoiseMillivolts} mV | {group.Key.Habit} | {Figures.Share(leaking.Count(one => one.Found), leaking.Count)} | {Figures.Share(sound.Count(one => one.Found || one.FoundElsewhere), sound.Count)} | {Figures.Share(leaking.Count(one => one.FoundElsewhere), leaking.Count)} |\n";
            }

            yield return "\nGoal: found in 95 % or more, no more than 1 % blamed wrongly.\n\n";
            yield return Figures.Head();
            yield return Figures.Row("loss a week, where found, noise 1 mV", all.Where(one => one is { Leaking: true, Found: true, NoiseMillivolts: 1 }).Select(one => one.Rate), "held 93-97");
        }

        return Figures.Section(
            "Four weeks with a leak of 1 % a week",
            "One cell loses 1 % of its capacity a week more than the others, or none does. The pack is stored with a spot check each week, or charged, used and stored each week.",
            Rows());
    }
}
