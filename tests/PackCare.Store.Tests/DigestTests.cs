using PackCare.Core.Packs;

namespace PackCare.Store.Tests;

public sealed class DigestTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly History _history;

    public DigestTests() => _history = Make.NewHistory(_folder.File("history.db"));

    public static TheoryData<string> Changes => new(Acts.Keys);

    private static Dictionary<string, Action<History, Pack, long>> Acts { get; } = new()
    {
        ["an import"] = (history, pack, _) => history.AddFile(Make.File("more"), [new NewSession(pack.Id, Make.Log(), Make.Summary())]),
        ["an assignment"] = (history, pack, session) => history.Assign(session, pack.Id, Make.Summary()),
        ["a spot check"] = (history, pack, _) => history.AddSpotCheck(pack.Id, Make.SpotCheck()),
        ["an entry"] = (history, pack, _) => history.AddEntry(pack.Id, Make.Entry()),
        ["a retirement"] = (history, pack, _) => history.Retire(pack.Id, new Retirement(Make.Morning, "old")),
        ["a new summary"] = (history, pack, _) => history.ReplaceSummary(history.Load(pack).Sessions[0].Id, Make.Summary(salt: 4)),
        ["taking back"] = (history, _, _) => history.Undo(),
    };

    public void Dispose()
    {
        _history.Dispose();
        _folder.Dispose();
    }

    [Theory]
    [MemberData(nameof(Changes))]
    public void A_kept_result_holds_until_something_about_its_pack_changes(string change)
    {
        Pack pack = _history.AddPack(Make.Details("changed"), Make.Morning)!;
        Pack other = _history.AddPack(Make.Details("left alone"), Make.Morning)!;
        StoredFile file = _history.AddFile(Make.File(), [new NewSession(null, Make.Log(), Make.Summary()), new NewSession(pack.Id, Make.Log(), Make.Summary())]);
        IReadOnlyDictionary<long, long> revisions = _history.Revisions();
        _history.KeepDigests("due 1", [(pack.Id, revisions[pack.Id], "nothing due"), (other.Id, revisions[other.Id], "a check")]);
        Assert.Equal(2, Kept("due 1").Count);
        Assert.Empty(Kept("due 2"));

        Acts[change](_history, pack, file.SessionIds[0]);

        Assert.Equal("a check", Assert.Single(Kept("due 1")).Value);
        _history.KeepDigests("due 1", [(pack.Id, _history.Revisions()[pack.Id], "something due")]);
        Assert.Equal("something due", Kept("due 1")[pack.Id]);
    }

    [Fact]
    public void A_result_from_before_a_change_that_came_in_between_does_not_count()
    {
        Pack pack = _history.AddPack(Make.Details(), Make.Morning)!;
        long revision = _history.Revisions()[pack.Id];
        _history.AddEntry(pack.Id, Make.Entry());

        _history.KeepDigests("due 1", [(pack.Id, revision, "stale")]);

        Assert.Empty(Kept("due 1"));
    }

    private Dictionary<long, string> Kept(string name) =>
        _history.PacksWithDigests(name).Where(one => one.Digest is not null).ToDictionary(one => one.Pack.Id, one => one.Digest!);
}
