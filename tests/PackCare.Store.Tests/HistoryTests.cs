using PackCare.Core.Packs;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;

namespace PackCare.Store.Tests;

public sealed class HistoryTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private History _history;

    public HistoryTests() => _history = Make.NewHistory(_folder.File("history.db"));

    public void Dispose()
    {
        _history.Dispose();
        _folder.Dispose();
    }

    [Fact]
    public void A_pack_comes_back_as_it_was_entered()
    {
        Pack entered = _history.AddPack(Make.Details(), Make.Morning)!;
        Pack bare = _history.AddPack(Make.BareDetails("Ember"), Make.Morning.AddTicks(1))!;

        Reopen();

        Assert.Equal(entered, _history.FindPack("Otter 1"));
        Assert.Equal([bare, entered], _history.Packs());
        Assert.Equal("59.90", _history.FindPack("Otter 1")!.Details.Price!.Value.ToString(System.Globalization.CultureInfo.InvariantCulture));
        Assert.Equal(TimeSpan.FromHours(2), _history.Packs()[0].Added.Offset);
    }

    [Theory]
    [InlineData("Otter", "OTTER")]
    [InlineData("Störche 2", "STÖRCHE 2")]
    [InlineData("Ωmega", "ωMEGA")]
    public void A_label_is_found_and_taken_without_regard_to_case(string label, string other)
    {
        Pack pack = _history.AddPack(Make.BareDetails(label), Make.Morning)!;

        Assert.Equal(pack, _history.FindPack(other));
        Assert.Null(_history.AddPack(Make.BareDetails(other), Make.Morning));
        Assert.Single(_history.Packs());
    }

    [Fact]
    public void A_pack_that_was_never_entered_is_not_found() => Assert.Null(_history.FindPack("nobody's"));

    [Fact]
    public void A_file_comes_back_with_its_reading_its_ledger_and_its_notices()
    {
        ImportedFile file = Make.File();
        _history.AddFile(file, []);

        Reopen();

        Make.AssertSame(file, _history.LoadFile(file.Sha256)!);
        Assert.Null(_history.LoadFile(Make.Sha("another")));
        Assert.Null(_history.FindFile(Make.Sha("another")));
    }

    [Fact]
    public void Sessions_come_back_with_every_figure_of_their_summaries()
    {
        Pack pack = _history.AddPack(Make.Details(), Make.Morning)!;
        StoredFile stored = _history.AddFile(
            Make.File(),
            [
                new NewSession(pack.Id, Make.Log(Make.Morning.AddHours(5)), Make.Summary()),
                new NewSession(pack.Id, Make.Log(Make.Morning), Make.EmptySummary()),
            ]);

        Reopen();
        PackHistory loaded = _history.Load(pack);

        Assert.Equal([stored.SessionIds[1], stored.SessionIds[0]], loaded.Sessions.Select(session => session.Id));
        Make.AssertSame(
            new SessionRecord(stored.SessionIds[0], pack.Id, "one.csv", Make.Morning.AddHours(5), TimeQuality.FileDate, Make.Summary()),
            loaded.Sessions[1]);
        Make.AssertSame(Make.EmptySummary(), loaded.Sessions[0].Summary);
        Make.AssertSame(loaded.Sessions[1], _history.FindSession(stored.SessionIds[0])!);
        Make.AssertSame<IEnumerable<SessionRecord>>([loaded.Sessions[1], loaded.Sessions[0]], _history.SessionsOf(Make.File().Sha256));
        Assert.Null(_history.FindSession(4711));
        Assert.Empty(_history.SessionsOf(Make.Sha("another")));
    }

    [Fact]
    public void Samples_come_back_to_the_last_logged_digit_also_over_several_blocks()
    {
        SessionLog log = Make.Log(rows: (2 * Channel.BlockRows) + 3, cells: 2);
        StoredFile stored = _history.AddFile(Make.File(), [new NewSession(null, log, Make.Summary())]);

        Reopen();

        Make.AssertSame(log.Samples, _history.LoadSamples(stored.SessionIds[0]));
    }

    [Fact]
    public void The_same_bytes_twice_change_nothing()
    {
        StoredFile first = _history.AddFile(Make.File(), [new NewSession(null, Make.Log(), Make.Summary())]);
        StoredFile second = _history.AddFile(
            Make.File() with { Name = "renamed.csv", Imported = Make.Morning.AddYears(1) },
            [new NewSession(null, Make.Log(), Make.Summary()), new NewSession(null, Make.Log(), Make.Summary())]);

        Make.AssertSame(first, second);
        Make.AssertSame(first, _history.FindFile(first.Sha256)!);
        Assert.Single(_history.SessionIds());
        Make.AssertSame<IReadOnlyList<StoredFile>>([first], _history.Files());
    }

    [Fact]
    public void Files_are_listed_in_the_order_of_import_with_their_sessions()
    {
        StoredFile one = _history.AddFile(Make.File("one"), [new NewSession(null, Make.Log(), Make.Summary())]);
        StoredFile none = _history.AddFile(Make.File("none"), []);
        StoredFile two = _history.AddFile(Make.File("two"), [new NewSession(null, Make.Log(), Make.Summary()), new NewSession(null, Make.Log(), Make.Summary())]);

        Make.AssertSame<IReadOnlyList<StoredFile>>([one, none, two], _history.Files());
        Assert.Equal([1, 2, 3], _history.SessionIds());
    }

    [Fact]
    public void A_session_without_a_pack_waits_until_it_is_assigned()
    {
        StoredFile stored = _history.AddFile(
            Make.File(),
            [
                new NewSession(null, Make.Log(Make.Morning.AddHours(1), hint: "Otter?"), Make.Summary()),
                new NewSession(null, Make.Log(Make.Morning, hint: null), Make.Summary()),
            ]);
        Pack pack = _history.AddPack(Make.Details(), Make.Morning)!;

        Assert.Equal([null, "Otter?"], _history.Unassigned().Select(session => session.PackHint));
        Assert.Empty(_history.Load(pack).Sessions);

        _history.Assign(stored.SessionIds[0], pack.Id, Make.Summary(salt: 5));

        Assert.Equal(stored.SessionIds[1], Assert.Single(_history.Unassigned()).Session.Id);
        SessionRecord assigned = Assert.Single(_history.Load(pack).Sessions);
        Assert.Equal(pack.Id, assigned.PackId);
        Make.AssertSame(Make.Summary(salt: 5), assigned.Summary);
    }

    [Fact]
    public void A_summary_is_replaced_with_all_its_cells()
    {
        StoredFile stored = _history.AddFile(Make.File(), [new NewSession(null, Make.Log(), Make.Summary(cells: 6))]);

        _history.ReplaceSummary(stored.SessionIds[0], Make.Summary(cells: 1, salt: 9));

        Make.AssertSame(Make.Summary(cells: 1, salt: 9), _history.FindSession(stored.SessionIds[0])!.Summary);
        Make.AssertSame(Make.Log().Samples, _history.LoadSamples(stored.SessionIds[0]));
    }

    [Fact]
    public void Spot_checks_and_entries_come_back_in_order_of_time()
    {
        Pack pack = _history.AddPack(Make.Details(), Make.Morning)!;
        SpotCheck late = _history.AddSpotCheck(pack.Id, Make.SpotCheck(day: 3));
        SpotCheck early = _history.AddSpotCheck(pack.Id, Make.SpotCheck(day: 1) with { Celsius = null, CellMilliohms = [] });
        DiaryEntry lateEntry = _history.AddEntry(pack.Id, Make.Entry(day: 2));
        DiaryEntry earlyEntry = _history.AddEntry(pack.Id, new DiaryEntry(0, Make.Morning, EntryKind.Run));

        Reopen();
        PackHistory loaded = _history.Load(pack);

        Make.AssertSame<IReadOnlyList<SpotCheck>>([early, late], loaded.SpotChecks);
        Make.AssertSame<IReadOnlyList<DiaryEntry>>([earlyEntry, lateEntry], loaded.Entries);
        Make.AssertSame(Make.SpotCheck(day: 3) with { Id = late.Id }, late);
        Make.AssertSame(Make.Entry(day: 2) with { Id = lateEntry.Id }, lateEntry);
        Assert.NotEqual(early.Id, late.Id);
    }

    [Fact]
    public void The_order_of_time_is_that_of_the_moment_not_of_the_clock_on_the_wall()
    {
        Pack pack = _history.AddPack(Make.Details(), Make.Morning)!;
        DateTimeOffset noonInTokyo = new(2025, 5, 1, 12, 0, 0, TimeSpan.FromHours(9));
        DateTimeOffset nineInLima = new(2025, 5, 1, 9, 0, 0, TimeSpan.FromHours(-5));
        _history.AddEntry(pack.Id, new DiaryEntry(0, nineInLima, EntryKind.Note));
        _history.AddEntry(pack.Id, new DiaryEntry(0, noonInTokyo, EntryKind.Note));

        Assert.Equal([noonInTokyo, nineInLima], _history.Load(pack).Entries.Select(entry => entry.At));
        Assert.Equal([TimeSpan.FromHours(9), TimeSpan.FromHours(-5)], _history.Load(pack).Entries.Select(entry => entry.At.Offset));
    }

    [Fact]
    public void A_retired_pack_stays_on_record_and_the_last_statement_counts()
    {
        Pack pack = _history.AddPack(Make.Details(), Make.Morning)!;
        _history.Retire(pack.Id, new Retirement(Make.Morning.AddDays(1), "tired"));
        var last = new Retirement(Make.Morning.AddDays(2), "swollen");
        _history.Retire(pack.Id, last);

        Assert.Equal(pack with { Retirement = last }, _history.FindPack(pack.Label));
        Assert.Equal(pack with { Retirement = last }, Assert.Single(_history.Packs()));
    }

    [Fact]
    public void All_packs_at_once_are_the_same_as_each_by_itself()
    {
        foreach (string label in new[] { "Wren", "Adder", "Newt" })
        {
            Pack pack = _history.AddPack(Make.Details(label), Make.Morning)!;
            for (int day = 3; day > 0; day--)
            {
                NewSession session = new(pack.Id, Make.Log(Make.Morning.AddDays(day)), day == 2 ? Make.EmptySummary() : Make.Summary(cells: day));
                _history.AddFile(Make.File(label + day), [session, new NewSession(null, Make.Log(), Make.Summary())]);
                _history.AddSpotCheck(pack.Id, Make.SpotCheck(day));
                _history.AddEntry(pack.Id, Make.Entry(day));
            }
        }

        _history.AddPack(Make.Details("Zander"), Make.Morning);
        IReadOnlyList<PackHistory> all = _history.LoadAll();

        Assert.Equal(["Adder", "Newt", "Wren", "Zander"], all.Select(one => one.Pack.Label));
        Assert.Equal([3, 3, 3, 0], all.Select(one => one.Sessions.Count));
        Make.AssertSame<IEnumerable<PackHistory>>(_history.Packs().Select(_history.Load), all);
    }

    [Fact]
    public void What_refers_to_something_absent_is_refused_and_nothing_is_changed()
    {
        Pack pack = _history.AddPack(Make.Details(), Make.Morning)!;
        StoredFile stored = _history.AddFile(Make.File(), [new NewSession(null, Make.Log(), Make.Summary())]);

        AssertConflict(() => _history.AddSpotCheck(99, Make.SpotCheck()));
        AssertConflict(() => _history.AddEntry(99, Make.Entry()));
        AssertConflict(() => _history.Retire(99, new Retirement(Make.Morning, "gone")));
        AssertConflict(() => _history.Assign(99, pack.Id, Make.Summary()));
        AssertConflict(() => _history.Assign(stored.SessionIds[0], 99, Make.Summary()));
        AssertConflict(() => _history.ReplaceSummaries([(stored.SessionIds[0], Make.Summary(salt: 1)), (99, Make.Summary())]));
        AssertConflict(() => _history.LoadSamples(99));
        AssertConflict(() => _history.AddFile(
            Make.File("two"),
            [new NewSession(pack.Id, Make.Log(), Make.Summary()), new NewSession(99, Make.Log(), Make.Summary())]));

        Assert.Null(_history.FindFile(Make.Sha("two")));
        Assert.Equal(stored.SessionIds, _history.SessionIds());
        Make.AssertSame(Make.Summary(), _history.FindSession(stored.SessionIds[0])!.Summary);
    }

    [Fact]
    public void A_figure_that_is_no_number_is_a_bug_and_stores_nothing()
    {
        SessionSummary broken = Make.Summary() with { ChargeInAh = double.NaN };

        Assert.Throws<InvalidOperationException>(() => _history.AddFile(Make.File(), [new NewSession(null, Make.Log(), broken)]));

        Assert.Null(_history.FindFile(Make.File().Sha256));
        Assert.Empty(_history.SessionIds());
    }

    private static void AssertConflict(Action work) =>
        Assert.Equal(HistoryFault.Conflict, Assert.Throws<HistoryException>(work).Fault);

    private void Reopen()
    {
        _history.Dispose();
        _history = History.Open(_folder.File("history.db"), create: false);
    }
}
