using System.Diagnostics;
using Microsoft.Data.Sqlite;
using PackCare.Core.Packs;

namespace PackCare.Store.Tests;

/// <summary>Connections of one process are to SQLite what programs are: each has locks of its own.</summary>
public sealed class TwoProgramsTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    private string Path => _folder.File("history.db");

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Each_sees_what_the_other_stored()
    {
        using History one = Make.NewHistory(Path);
        using History two = Make.NewHistory(Path);

        Pack pack = one.AddPack(Make.Details(), Make.Morning)!;

        Assert.Equal(pack, two.FindPack(pack.Label));
        Assert.Null(two.AddPack(Make.Details(), Make.Morning));
        two.AddEntry(pack.Id, Make.Entry());
        Assert.Single(one.Load(pack).Entries);
    }

    [Fact]
    public void A_history_that_is_made_by_many_at_once_is_made_once()
    {
        Parallel.For(0, 8, new ParallelOptions { MaxDegreeOfParallelism = 8 }, i =>
        {
            using History history = Make.NewHistory(Path);
            Assert.NotNull(history.AddPack(Make.Details($"Pack {i}"), Make.Morning));
        });

        using History after = History.Open(Path, create: false);
        Assert.Equal(8, after.Packs().Count);
    }

    [Fact]
    public void The_same_files_imported_by_many_at_once_are_stored_once()
    {
        Make.NewHistory(Path).Dispose();

        Parallel.For(0, 4, new ParallelOptions { MaxDegreeOfParallelism = 4 }, _ =>
        {
            using History history = History.Open(Path, create: false);
            for (int file = 0; file < 10; file++)
            {
                Assert.Single(history.AddFile(Make.File($"file {file}"), [new NewSession(null, Make.Log(), Make.Summary())]).SessionIds);
            }
        });

        using History after = History.Open(Path, create: false);
        Assert.Equal(10, after.Files().Count);
        Assert.Equal(10, after.SessionIds().Count);
    }

    [Fact]
    public void A_writer_that_waits_too_long_says_that_the_history_is_in_use_while_readers_go_on()
    {
        using History history = History.Open(Path, create: true, TimeSpan.FromMilliseconds(50));
        Pack pack = history.AddPack(Make.Details(), Make.Morning)!;
        using var other = new SqliteConnection($"Data Source={Path};Pooling=False");
        other.Open();
        using (SqliteTransaction hold = other.BeginTransaction())
        {
            var waited = Stopwatch.StartNew();

            HistoryException error = Assert.Throws<HistoryException>(() => history.AddEntry(pack.Id, Make.Entry()));

            Assert.Equal(HistoryFault.Locked, error.Fault);
            Assert.True(waited.Elapsed < TimeSpan.FromSeconds(5), $"It took {waited.Elapsed}.");
            Assert.Empty(history.Load(pack).Entries);
            using History reader = History.Open(Path, create: false);
            Assert.Single(reader.Packs());
        }

        history.AddEntry(pack.Id, Make.Entry());
        Assert.Single(history.Load(pack).Entries);
    }

    [Fact]
    public void A_writer_waits_for_another_that_is_soon_done()
    {
        using History history = Make.NewHistory(Path);
        Pack pack = history.AddPack(Make.Details(), Make.Morning)!;
        using var other = new SqliteConnection($"Data Source={Path};Pooling=False");
        other.Open();
        SqliteTransaction hold = other.BeginTransaction();
        Task release = Task.Run(async () =>
        {
            await Task.Delay(300, TestContext.Current.CancellationToken);
            hold.Rollback();
        }, TestContext.Current.CancellationToken);

        history.AddEntry(pack.Id, Make.Entry());

        Assert.True(release.IsCompletedSuccessfully);
        Assert.Single(history.Load(pack).Entries);
    }

    [Fact]
    public void Opening_a_file_does_not_take_away_the_locks_of_others_in_the_same_process()
    {
        using History writer = History.Open(Path, create: true, TimeSpan.FromMilliseconds(50));
        Pack pack = writer.AddPack(Make.Details(), Make.Morning)!;
        using var other = new SqliteConnection($"Data Source={Path};Pooling=False");
        other.Open();
        using SqliteTransaction hold = other.BeginTransaction();
        for (int i = 0; i < 3; i++)
        {
            History.Open(Path, create: false).Dispose();
        }

        Assert.Equal(HistoryFault.Locked, Assert.Throws<HistoryException>(() => writer.AddEntry(pack.Id, Make.Entry())).Fault);
    }
}
