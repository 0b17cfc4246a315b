using PackCare.Analysis.Limits;
using PackCare.Core.Packs;

namespace PackCare.Analysis.Tests.Limits;

public sealed class LimitSettingsTests
{
    [Fact]
    public void Without_settings_the_defaults_of_the_chemistry_hold()
    {
        LimitTable table = LimitSettings.None.For("Heron", Chemistry.LiPo);

        Assert.Equal(15, table[LimitKey.RestSpreadWatch]);
        Assert.Equal(3.3, table[LimitKey.LowCellWatch]);
        Assert.Equal(2.9, LimitTable.Default(Chemistry.LiFePo4)[LimitKey.LowCellWatch]);
    }

    [Fact]
    public void A_setting_for_all_holds_for_all_and_one_for_a_pack_before_it()
    {
        (LimitSettings settings, IReadOnlyList<string> problems) = LimitSettings.Parse(
            """
            {
              // ours
              "limits": { "rest-spread-watch-mV": 20, "capacity-retire-percent": 75, },
              "packs": { "heron": { "rest-spread-watch-mV": 8 } }
            }
            """);

        Assert.Empty(problems);
        Assert.Equal(8, settings.For("Heron", Chemistry.LiPo)[LimitKey.RestSpreadWatch]);
        Assert.Equal(75, settings.For("Heron", Chemistry.LiPo)[LimitKey.CapacityRetire]);
        Assert.Equal(20, settings.For("Teal", Chemistry.LiHv)[LimitKey.RestSpreadWatch]);
        Assert.Equal("set by the user", settings.For("Teal", Chemistry.LiHv).Of(LimitKey.RestSpreadWatch).Basis);
    }

    [Theory]
    [InlineData("""{ "limits": { "rest-spread-wach-mV": 20 } }""", "nearest is \"rest-spread-watch-mV\"")]
    [InlineData("""{ "limits": { "rest-spread-watch-mV": -1 } }""", "must lie between 2 and 1000 mV")]
    [InlineData("""{ "limits": { "rest-spread-watch-mV": "20" } }""", "must be a number in mV")]
    [InlineData("""{ "limit": {} }""", "\"limit\" is not known")]
    [InlineData("""{ "limits": """, "line 1")]
    [InlineData("[]", "one object")]
    public void What_is_wrong_is_said_and_nothing_is_used(string json, string sentence)
    {
        (LimitSettings settings, IReadOnlyList<string> problems) = LimitSettings.Parse(json);

        Assert.Contains(problems, problem => problem.Contains(sentence, StringComparison.Ordinal));
        Assert.Equal(15, settings.For("Heron", Chemistry.LiPo)[LimitKey.RestSpreadWatch]);
    }

    [Theory]
    [InlineData(Chemistry.LiPo)]
    [InlineData(Chemistry.LiHv)]
    [InlineData(Chemistry.LiIon)]
    [InlineData(Chemistry.LiFePo4)]
    public void Every_limit_has_a_basis_a_name_of_its_own_and_a_value_in_its_range(Chemistry chemistry)
    {
        Limit[] limits = [.. LimitTable.Default(chemistry).All];

        Assert.Equal(Enum.GetValues<LimitKey>().Length, limits.Length);
        Assert.Equal(limits.Length, limits.Select(limit => limit.Name).Distinct().Count());
        Assert.All(limits, limit => Assert.True(limit.Basis.Length > 0 && limit.Value >= limit.Lowest && limit.Value <= limit.Highest));
    }
}
