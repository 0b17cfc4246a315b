using System.Security.Cryptography;
using PackCare.SampleLogs;

namespace PackCare.Simulation.Tests;

public class TheSampleLogs
{
    private static readonly Lazy<SampleSet> Set = new(() => SampleSet.Build());
    private static readonly Lazy<IReadOnlyList<SampleFile>> Files = new(() => Set.Value.Files());

    private static string Folder => Path.Combine(Repository.Root(), "sample-logs");

    [Fact]
    public void The_committed_files_are_what_the_generator_writes_byte_by_byte()
    {
        var committed = Directory.EnumerateFiles(Folder, "*", SearchOption.AllDirectories)
            .Select(file => $"{Path.GetRelativePath(Folder, file).Replace('\\', '/')} {Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(file)))}")
            .Order(StringComparer.Ordinal);
        var written = Files.Value
            .Select(file => $"{file.Path} {Convert.ToHexString(SHA256.HashData(file.Bytes))}")
            .Order(StringComparer.Ordinal);
        Assert.Equal(written, committed);
    }

    [Fact]
    public void Writing_them_twice_gives_the_same_bytes() =>
        Assert.All(SampleSet.Generate().Zip(Files.Value), pair =>
        {
            Assert.Equal(pair.Second.Path, pair.First.Path);
            Assert.True(pair.First.Bytes.AsSpan().SequenceEqual(pair.Second.Bytes), pair.First.Path);
        });

    [Fact]
    public void They_stay_below_15_megabytes_and_no_two_share_a_name()
    {
        Assert.InRange(Files.Value.Sum(file => file.Bytes.LongLength), 1_000_000, 15_000_000);
        Assert.Equal(Files.Value.Count, Files.Value.Select(file => file.Path.ToUpperInvariant()).Distinct().Count());
    }

    [Fact]
    public void They_come_from_at_least_six_stations_with_layouts_of_their_own() =>
        Assert.True(Files.Value.Where(file => file.Path.Contains('/')).Select(file => file.Path.Split('/')[0]).Distinct().Count() >= 6);

    [Fact]
    public void No_two_sessions_of_a_pack_overlap_and_all_lie_before_the_moment_of_the_demonstration()
    {
        foreach (var pack in Set.Value.Spans.GroupBy(span => span.Pack))
        {
            var spans = pack.OrderBy(span => span.Started).ToArray();
            Assert.All(spans.Zip(spans.Skip(1)), pair => Assert.True(pair.First.Ended < pair.Second.Started, $"{pack.Key} {pair.Second.Started}"));
            Assert.True(spans[^1].Ended < SampleSet.Now);
        }
    }

    [Fact]
    public void The_packs_have_12_to_32_sessions_each_but_for_the_new_one_and_one_log_names_no_pack()
    {
        var counts = Set.Value.Spans.CountBy(span => span.Pack).ToDictionary();
        Assert.Equal(1, counts[""]);
        Assert.Equal(2, counts["Sandpiper"]);
        Assert.All(counts.Where(count => count.Key is not ("" or "Sandpiper")), count => Assert.InRange(count.Value, 12, 32));
    }

    [Fact]
    public void The_roster_names_every_pack_once_and_only_known_packs_have_checks_and_entries()
    {
        var set = Set.Value;
        var labels = set.Packs.Select(pack => pack.Label).ToHashSet();
        Assert.Equal(set.Packs.Count, labels.Count);
        Assert.All(set.Checks, check => Assert.Contains(check.Pack, labels));
        Assert.All(set.Entries, entry => Assert.Contains(entry.Pack, labels));
        Assert.All(set.Checks, check => Assert.Equal(set.Packs.Single(pack => pack.Label == check.Pack).Cells, check.Volts.Count));
    }

    [Fact]
    public void Heron_and_Egret_match_and_are_well()
    {
        var (heron, egret) = (Life("Heron").Pack, Life("Egret").Pack);
        Assert.InRange(SmallestAh(heron) / SmallestAh(egret), 0.98, 1.02);
        Assert.InRange(Growth(heron, 0) / Growth(egret, 0), 0.97, 1.03);
        Assert.InRange(Health(heron), 0.95, 1.05);
        Assert.InRange(Growth(heron, 2), 1.0, 1.1);
    }

    [Fact]
    public void Cell_2_of_Kingfisher_loses_charge_faster_than_its_neighbours()
    {
        var pack = Life("Kingfisher").Pack;
        var before = Cells(pack).Select(cell => cell.StateOfCharge).ToArray();
        Assert.True(before[1] < before[0] - 0.005 && before[1] < before[2] - 0.005);
        Assert.InRange(Health(pack), 0.95, 1.05);
    }

    [Fact]
    public void Moorhen_was_full_from_26_June_to_11_September_2026()
    {
        var spans = Set.Value.Spans.Where(span => span.Pack == "Moorhen").OrderBy(span => span.Started).ToArray();
        var last = spans.Single(span => span.Started.Date == new DateTime(2026, 6, 26));
        var next = spans.First(span => span.Started > last.Ended);
        Assert.InRange((next.Started - last.Ended).TotalDays, 76, 78);
        Assert.DoesNotContain(Set.Value.Entries, entry => entry is { Pack: "Moorhen", Kind: "run" or "storage" } && entry.At > last.Ended && entry.At < next.Started);
        Assert.All(Log("Moorhen", next.Started.DateTime).CellVolts, cell => Assert.True(cell[0] > 4.10));
    }

    [Fact]
    public void Cell_4_of_Osprey_has_more_than_twice_its_resistance_and_the_others_about_1_9_times()
    {
        var pack = Life("Osprey").Pack;
        Assert.InRange(Growth(pack, 3), 2.4, 2.8);
        Assert.All((int[])[0, 1, 2, 4, 5], cell => Assert.InRange(Growth(pack, cell), 1.8, 2.1));
    }

    [Fact]
    public void Grebe_holds_less_than_80_percent_of_what_is_printed_on_it() =>
        Assert.InRange(Health(Life("Grebe").Pack), 0.70, 0.78);

    [Fact]
    public void The_cells_of_Coot_are_apart_and_have_the_same_capacity()
    {
        var cells = Cells(Life("Coot").Pack).ToArray();
        Assert.True(cells.Max(cell => cell.StateOfCharge) - cells.Min(cell => cell.StateOfCharge) > 0.03);
        Assert.InRange(cells.Min(cell => cell.CapacityAh) / cells.Max(cell => cell.CapacityAh), 0.98, 1);
    }

    [Fact]
    public void Dipper_came_home_on_3_July_2026_with_cell_1_below_2_5_volts_at_rest()
    {
        var run = Log("Dipper", new DateTime(2026, 7, 3, 13, 0, 0));
        Assert.InRange(run.CellVolts[0][^1], 2.3, 2.5);
        Assert.Equal(0, run.Amperes[^1]);
        Assert.True(run.CellVolts[1][^1] > 3.0);
    }

    [Fact]
    public void The_connector_of_Bittern_has_more_than_five_times_its_resistance_and_the_cells_are_well()
    {
        var pack = Life("Bittern").Pack;
        Assert.True(pack.LeadOhms > 5 * pack.Model.LeadOhms);
        Assert.InRange(Growth(pack, 0), 1.0, 1.1);
    }

    [Fact]
    public void Wagtail_was_seen_swollen_and_not_used_again()
    {
        var seen = Set.Value.Entries.Single(entry => entry.Swollen);
        Assert.Equal("Wagtail", seen.Pack);
        Assert.DoesNotContain(Set.Value.Spans, span => span.Pack == "Wagtail" && span.Started > seen.At);
    }

    [Fact]
    public void Teal_sits_full_since_29_October_2026()
    {
        Assert.All(Cells(Life("Teal").Pack), cell => Assert.True(cell.RestVolts > 4.33));
        Assert.Equal(new DateTime(2026, 10, 29), Set.Value.Spans.Where(span => span.Pack == "Teal").Max(span => span.Ended).Date);
    }

    [Fact]
    public void The_figures_in_the_documentation_are_the_true_ones() =>
        Assert.Contains(
            TruthTable.Markdown(Set.Value).ReplaceLineEndings("\n"),
            File.ReadAllText(Path.Combine(Repository.Root(), "docs", "demo.md")).ReplaceLineEndings("\n"));

    private static PackLife Life(string label) => Set.Value.Lives.Single(life => life.Details.Label == label);

    private static SimulatedLog Log(string label, DateTime notBefore) => Set.Value.Log(label, notBefore);

    private static IEnumerable<CellTruth> Cells(SimulatedPack pack) => Enumerable.Range(0, pack.CellCount).Select(pack.Truth);

    private static double SmallestAh(SimulatedPack pack) => Cells(pack).Min(cell => cell.CapacityAh);

    private static double Health(SimulatedPack pack) => SmallestAh(pack) / pack.Model.RatedAh;

    private static double Growth(SimulatedPack pack, int cell) =>
        pack.Truth(cell).StepOhms(1e6) / (pack.Model.Cells[cell].OhmicOhms + pack.Model.Cells[cell].SlowOhms);
}
