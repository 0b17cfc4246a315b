using PackCare.Core.Packs;
using PackCare.Core.Units;

namespace PackCare.Core.Tests;

/// <summary>A log belongs to the pack that it or its file names; what it measures only rules out or suggests.</summary>
public sealed class PackMatcherTests
{
    private static readonly Pack[] _packs =
    [
        MakePack(1, "Heron", 4, 5000),
        MakePack(2, "Heron 2", 4, 5000),
        MakePack(3, "Teal", 3, 2200),
        MakePack(4, "Größe-7", 2, 1300),
        MakePack(5, "10", 4, 1500),
    ];

    [Theory]
    [InlineData("Heron", "Heron")]
    [InlineData("heron-2", "Heron 2")]
    [InlineData(" HERON 2 ", "Heron 2")]
    [InlineData("grösse 7", null)]
    [InlineData("größe 7", "Größe-7")]
    [InlineData("10", "10")]
    [InlineData("Heron 3", null)]
    [InlineData("", null)]
    public void The_log_names_a_pack_by_its_letters_and_digits(string hint, string? label) =>
        Assert.Equal(label, Label(PackMatcher.Match(_packs, hint, "Teal_2026-10-10.csv", 0, null)));

    [Theory]
    [InlineData("heron_2026-10-14T1630.csv", "Heron")]
    [InlineData("heron-2_2026-10-14T1630.csv", "Heron 2")]
    [InlineData("Heron2.csv", "Heron 2")]
    [InlineData("2026-10-14 charge of Teal.csv", "Teal")]
    [InlineData("steal.csv", null)]
    [InlineData("log-10-4.csv", null)]
    [InlineData("heron and teal.csv", null)]
    public void Without_a_hint_the_file_name_may_name_it(string file, string? label) =>
        Assert.Equal(label, Label(PackMatcher.Match(_packs, null, file, 0, null)));

    [Fact]
    public void A_name_with_another_cell_count_is_not_believed()
    {
        PackMatch.Unassigned match = Assert.IsType<PackMatch.Unassigned>(PackMatcher.Match(_packs, "Teal", "x.csv", 4, null));

        Assert.Contains("4 cells and Teal has 3", match.Why, StringComparison.Ordinal);
        Assert.All(match.Suggestions, pack => Assert.Equal(4, pack.Details.Cells));
    }

    [Fact]
    public void Suggestions_can_hold_the_charge_that_moved_closest_capacity_first()
    {
        PackMatch.Unassigned match = Assert.IsType<PackMatch.Unassigned>(PackMatcher.Match(_packs, null, "x.csv", 4, AmpereHours.FromMilliampereHours(1400)));
        Assert.Equal(["10", "Heron", "Heron 2"], match.Suggestions.Select(pack => pack.Label));

        match = Assert.IsType<PackMatch.Unassigned>(PackMatcher.Match(_packs, null, "x.csv", 4, AmpereHours.FromMilliampereHours(3000)));
        Assert.Equal(["Heron", "Heron 2"], match.Suggestions.Select(pack => pack.Label));
    }

    [Fact]
    public void A_retired_pack_is_matched_by_name_but_never_suggested()
    {
        Pack retired = _packs[2] with { Retirement = new Retirement(DateTimeOffset.UnixEpoch, "old") };

        Assert.Equal("Teal", Label(PackMatcher.Match([retired], "Teal", "x.csv", 3, null)));
        Assert.Empty(Assert.IsType<PackMatch.Unassigned>(PackMatcher.Match([retired], null, "x.csv", 3, null)).Suggestions);
    }

    private static string? Label(PackMatch match) => (match as PackMatch.Assigned)?.Pack.Label;

    private static Pack MakePack(long id, string label, int cells, double milliampereHours) =>
        new(id, new PackDetails(label, cells, RatedCapacity: AmpereHours.FromMilliampereHours(milliampereHours)), DateTimeOffset.UnixEpoch);
}
