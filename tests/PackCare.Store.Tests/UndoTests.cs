using PackCare.Core.Packs;

namespace PackCare.Store.Tests;

public sealed class UndoTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly History _history;

    public UndoTests() => _history = Make.NewHistory(_folder.File("history.db"));

    public void Dispose()
    {
        _history.Dispose();
        _folder.Dispose();
    }

    [Fact]
    public void Nothing_can_be_taken_back_where_nothing_was_done()
    {
        Assert.Null(_history.LastChange());
        Assert.Null(_history.Undo());
        Assert.Empty(_history.UndoneChanges());
    }

    [Fact]
    public void All_that_was_done_is_taken_back_step_by_step_and_put_back_step_by_step()
    {
        List<string> states = [State()];
        Pack pack = _history.AddPack(Make.Details(), Make.Morning)!;
        states.Add(State());
        StoredFile file = _history.AddFile(Make.File(), [new NewSession(pack.Id, Make.Log(), Make.Summary()), new NewSession(null, Make.Log(), Make.Summary())]);
        states.Add(State());
        _history.Assign(file.SessionIds[1], pack.Id, Make.Summary(cells: 2, salt: 3));
        states.Add(State());
        _history.AddSpotCheck(pack.Id, Make.SpotCheck());
        states.Add(State());
        _history.AddEntry(pack.Id, Make.Entry());
        states.Add(State());
        _history.Retire(pack.Id, new Retirement(Make.Morning, "done"));
        states.Add(State());
        ChangeKind[] kinds = [ChangeKind.Pack, ChangeKind.Import, ChangeKind.Assignment, ChangeKind.SpotCheck, ChangeKind.Entry, ChangeKind.Retirement];
        string[] subjects = ["Otter 1", "one.csv", "one.csv", "Otter 1", "Otter 1", "Otter 1"];

        for (int i = kinds.Length; i > 0; i--)
        {
            Change last = _history.LastChange()!;
            Assert.Equal((kinds[i - 1], subjects[i - 1], false), (last.Kind, last.Subject, last.Undone));
            Assert.Equal(last with { Undone = true }, _history.Undo());
            Assert.Equal(states[i - 1], State());
        }

        Assert.Null(_history.Undo());
        Assert.Equal(kinds.Reverse(), _history.UndoneChanges().Select(change => change.Kind));

        for (int i = 1; i <= kinds.Length; i++)
        {
            Change put = _history.Redo(_history.UndoneChanges()[^1].Id);
            Assert.Equal((kinds[i - 1], false), (put.Kind, put.Undone));
            Assert.Equal(states[i], State());
        }

        Make.AssertSame(Make.Log().Samples, _history.LoadSamples(file.SessionIds[0]));
    }

    [Fact]
    public void What_was_taken_back_is_out_of_every_listing()
    {
        StoredFile file = _history.AddFile(Make.File(), [new NewSession(null, Make.Log(), Make.Summary())]);
        _history.Undo();

        Assert.Null(_history.FindFile(file.Sha256));
        Assert.Null(_history.LoadFile(file.Sha256));
        Assert.Null(_history.FindSession(file.SessionIds[0]));
        Assert.Empty(_history.Files());
        Assert.Empty(_history.SessionIds());
        Assert.Empty(_history.Unassigned());
        Assert.Empty(_history.SessionsOf(file.Sha256));
        Assert.Equal(HistoryFault.Conflict, Assert.Throws<HistoryException>(() => _history.LoadSamples(file.SessionIds[0])).Fault);
    }

    [Fact]
    public void A_file_that_was_taken_back_can_be_imported_again_and_then_not_put_back()
    {
        StoredFile first = _history.AddFile(Make.File(), [new NewSession(null, Make.Log(), Make.Summary())]);
        Change undone = _history.Undo()!;
        StoredFile second = _history.AddFile(Make.File(), [new NewSession(null, Make.Log(), Make.Summary())]);

        Assert.NotEqual(first.SessionIds, second.SessionIds);
        HistoryException error = Assert.Throws<HistoryException>(() => _history.Redo(undone.Id));

        Assert.Equal(HistoryFault.Conflict, error.Fault);
        Assert.Contains("imported again", error.Message, StringComparison.Ordinal);
        Assert.Equal(second.SessionIds, _history.SessionIds());
    }

    [Fact]
    public void A_label_that_was_taken_back_is_free_and_its_pack_cannot_be_put_back_over_another()
    {
        _history.AddPack(Make.Details(), Make.Morning);
        Change undone = _history.Undo()!;
        Pack other = _history.AddPack(Make.BareDetails("OTTER 1"), Make.Morning)!;

        Assert.Equal(HistoryFault.Conflict, Assert.Throws<HistoryException>(() => _history.Redo(undone.Id)).Fault);
        Assert.Equal([other], _history.Packs());
    }

    [Fact]
    public void An_entry_cannot_be_put_back_on_a_pack_that_is_gone()
    {
        Pack pack = _history.AddPack(Make.Details(), Make.Morning)!;
        _history.AddEntry(pack.Id, Make.Entry());
        Change entry = _history.Undo()!;
        _history.Undo();

        Assert.Equal(HistoryFault.Conflict, Assert.Throws<HistoryException>(() => _history.Redo(entry.Id)).Fault);
        Assert.Equal(HistoryFault.Conflict, Assert.Throws<HistoryException>(() => _history.Redo(4711)).Fault);
        Assert.Equal(HistoryFault.Conflict, Assert.Throws<HistoryException>(() => _history.AddEntry(pack.Id, Make.Entry())).Fault);
    }

    [Fact]
    public void An_import_is_taken_back_whenever_it_was_and_the_rest_stands()
    {
        Pack pack = _history.AddPack(Make.Details(), Make.Morning)!;
        StoredFile wrong = _history.AddFile(Make.File("wrong"), [new NewSession(null, Make.Log(), Make.Summary())]);
        StoredFile right = _history.AddFile(Make.File("right"), [new NewSession(pack.Id, Make.Log(), Make.Summary())]);
        _history.Assign(wrong.SessionIds[0], pack.Id, Make.Summary(salt: 1));
        string before = State();

        Change undone = _history.UndoImport(wrong.Sha256)!;

        Assert.Equal((ChangeKind.Import, "wrong.csv", true), (undone.Kind, undone.Subject, undone.Undone));
        Assert.Equal(right.SessionIds, _history.SessionIds());
        Assert.Null(_history.UndoImport(wrong.Sha256));
        Assert.Equal("right.csv", _history.LastChange()!.Subject);
        _history.Redo(undone.Id);
        Assert.Equal(before, State());

        _history.UndoImport(wrong.Sha256);
        _history.Compact();
        Assert.Equal(right.SessionIds, _history.SessionIds());
        Assert.Equal("right.csv", _history.Undo()!.Subject);
        Assert.Equal(ChangeKind.Pack, _history.Undo()!.Kind);
        Assert.Null(_history.Undo());
        Assert.True(HistoryFile.Examine(_history.Path).Sound);
    }

    [Fact]
    public void An_import_from_before_the_journal_can_be_taken_back_too()
    {
        string path = _folder.File("old.db");
        File.Copy(Path.Combine(AppContext.BaseDirectory, "Files", "version-1.db"), path);
        using History old = History.Open(path, create: false);
        Assert.Null(old.LastChange());

        Change undone = old.UndoImport(Make.Sha("one"))!;

        Assert.Equal([3], old.SessionIds());
        old.Redo(undone.Id);
        Assert.Equal([1, 2, 3], old.SessionIds());
    }

    [Fact]
    public void Compacting_gives_up_what_was_taken_back_and_nothing_else()
    {
        Pack pack = _history.AddPack(Make.Details(), Make.Morning)!;
        _history.AddFile(Make.File("kept"), [new NewSession(pack.Id, Make.Log(), Make.Summary())]);
        string kept = State();
        _history.AddPack(Make.Details("gone"), Make.Morning);
        _history.AddFile(Make.File("gone"), [new NewSession(pack.Id, Make.Log(rows: 60_000), Make.Summary())]);
        _history.AddSpotCheck(pack.Id, Make.SpotCheck());
        _history.AddEntry(pack.Id, Make.Entry());
        _history.Retire(pack.Id, new Retirement(Make.Morning, "by mistake"));
        long before = new FileInfo(_history.Path).Length + new FileInfo(_history.Path + "-wal").Length;
        for (int i = 0; i < 5; i++)
        {
            _history.Undo();
        }

        _history.Compact();

        Assert.Equal(kept, State());
        Assert.Empty(_history.UndoneChanges());
        Assert.True(new FileInfo(_history.Path).Length + new FileInfo(_history.Path + "-wal").Length < before);
        Assert.Equal(ChangeKind.Import, _history.LastChange()!.Kind);
        Assert.Equal(1L, Sql.Ask(_history.Path, "SELECT count(*) FROM file"));
        Assert.Equal(0L, Sql.Ask(_history.Path, "SELECT count(*) FROM spot_check_cell"));
    }

    [Fact]
    public void Numbers_are_never_given_twice()
    {
        long first = _history.AddFile(Make.File(), [new NewSession(null, Make.Log(), Make.Summary())]).SessionIds[0];
        _history.Undo();
        _history.Compact();

        Assert.True(_history.AddFile(Make.File(), [new NewSession(null, Make.Log(), Make.Summary())]).SessionIds[0] > first);
    }

    private string State() => Make.Text(new
    {
        Packs = _history.LoadAll(),
        Files = _history.Files(),
        Unassigned = _history.Unassigned(),
    });
}
