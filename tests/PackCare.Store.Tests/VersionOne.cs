using PackCare.Core.Packs;

namespace PackCare.Store.Tests;

/// <summary>What Files/version-1.db holds: it was filled by this code when version 1 was the present one.</summary>
internal static class VersionOne
{
    public static void Fill(History history)
    {
        Pack otter = history.AddPack(Make.Details("Otter 1"), Make.Morning)!;
        Pack wren = history.AddPack(Make.BareDetails("Wren"), Make.Morning.AddMinutes(1))!;
        history.AddFile(
            Make.File("one"),
            [
                new NewSession(otter.Id, Make.Log(), Make.Summary()),
                new NewSession(null, Make.Log(Make.Morning.AddHours(3), hint: null), Make.EmptySummary()),
            ]);
        history.AddFile(Make.File("two"), [new NewSession(wren.Id, Make.Log(Make.Morning.AddDays(1), cells: 4, seed: 2), Make.Summary(cells: 4, salt: 1))]);
        history.AddSpotCheck(otter.Id, Make.SpotCheck());
        history.AddSpotCheck(otter.Id, Make.SpotCheck(day: 2) with { CellMilliohms = [], Celsius = null });
        history.AddEntry(wren.Id, Make.Entry(day: 3));
        history.Retire(wren.Id, new Retirement(Make.Morning.AddDays(4), "weak"));
    }
}
