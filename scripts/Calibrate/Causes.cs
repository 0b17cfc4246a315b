using PackCare.Analysis.Assessments;
using PackCare.Simulation;

namespace PackCare.Calibrate;

/// <summary>Packs with one stated reason for which their cells differ, over ten weeks.</summary>
internal sealed record Causes(ImbalanceCause Truth, ImbalanceCause Named, bool RightCell)
{
    private static readonly ImbalanceCause[] All = [ImbalanceCause.None, ImbalanceCause.ChargeOffset, ImbalanceCause.Capacity, ImbalanceCause.SelfDischarge, ImbalanceCause.Resistance];

    /// <summary>One pack.</summary>
    public static Causes Run(ulong seed, int number)
    {
        Randomness random = Randomness.For(seed, $"cause {number}");
        ImbalanceCause truth = All[number % All.Length];
        int at = random.NextUniform() < 0.5 ? 0 : 1;
        double size = random.NextBetween(0, 1);
        var bench = new Bench(random, (i, cell) => i != at ? cell : truth switch
        {
            // 4 to 10 % of charge, 8 to 20 % of capacity, 0.6 to 2 % a week, 1.5 to 2.2 times the resistance.
            ImbalanceCause.ChargeOffset => cell with { InitialStateOfCharge = cell.InitialStateOfCharge - 0.04 - (0.06 * size) },
            ImbalanceCause.Capacity => cell with { CapacityAh = cell.CapacityAh * (0.92 - (0.12 * size)) },
            ImbalanceCause.SelfDischarge => cell with { SelfDischargePerMonth = 0.015 + (0.09 * (0.6 + (1.4 * size))) },
            ImbalanceCause.Resistance => cell with { OhmicOhms = cell.OhmicOhms * (1.5 + (0.7 * size)), SlowOhms = cell.SlowOhms * (1.5 + (0.7 * size)) },
            _ => cell,
        });
        for (int week = 0; week < 10; week++)
        {
            // What is out of balance stays so only where nobody balances.
            bench.Charge(balance: truth != ImbalanceCause.ChargeOffset);
            bench.Part(0.65);
            bench.Store();
            bench.Rest(random.NextBetween(4, 10));
        }

        ImbalanceAssessment imbalance = bench.Assess().Imbalance;
        return new Causes(truth, imbalance.Cause, imbalance.CauseCell == at + 1);
    }

    /// <summary>The table.</summary>
    public static string Report(IReadOnlyList<Causes> all)
    {
        IEnumerable<string> Rows()
        {
            yield return "| true cause | none | charge-offset | capacity | self-discharge | resistance | undetermined | right cell where right cause |\n|---|---|---|---|---|---|---|---|\n";
            foreach (ImbalanceCause truth in All)
            {
                List<Causes> those = [.. all.Where(one => one.Truth == truth)];
                List<Causes> right = [.. those.Where(one => one.Named == truth)];
                yield return $"| {truth} | {string.Join(" | ", All.Append(ImbalanceCause.Undetermined).Select(named => those.Count(one => one.Named == named)))} | {(truth == ImbalanceCause.None ? "-" : Figures.Share(right.Count(one => one.RightCell), right.Count))} |\n";
            }

            List<Causes> named = [.. all.Where(one => one.Named is not (ImbalanceCause.None or ImbalanceCause.Undetermined))];
            yield return $"\nOf the causes named, right: {Figures.Share(named.Count(one => one.Named == one.Truth), named.Count)} (goal 95 %).\n";
        }

        return Figures.Section(
            "The cause of the difference",
            "One cell is 4 to 10 % emptier and never balanced, or 8 to 20 % smaller, or loses 0.6 to 2 % a week, or has 1.5 to 2.2 times the resistance, or none differs; ten weeks with one charge, one run and one storage charge each.",
            Rows());
    }
}
