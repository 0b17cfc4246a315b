using Microsoft.Data.Sqlite;
using PackCare.Cli.Tests.Running;
using PackCare.Store;

namespace PackCare.Cli.Tests.Faults;

/// <summary>Disks, folders and files that fail: one sentence that says what to do, the exit code of the contract, nothing lost, and the next run works.</summary>
public sealed class StorageFaultTests : IDisposable
{
    private readonly Bench _bench = new();

    public StorageFaultTests()
    {
        _bench.Run("add", "Teal", "--cells", "3").Expect(0);
        _bench.Run("import", _bench.Write("teal_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 3))).Expect(0);
    }

    public void Dispose() => _bench.Dispose();

    [Fact]
    public void A_disk_that_is_really_full()
    {
        string folder = Path.Combine(_bench.Folder, "disk");
        Directory.CreateDirectory(folder);
        string wrapper = Environment.IsPrivilegedProcess ? "unshare -m" : "unshare -rm";
        string mount = $"mount -t tmpfs -o size=1m none '{folder}'";
        Assert.SkipUnless(OperatingSystem.IsLinux() && Shell.Run(mount, wrapper).ExitCode == 0, "a small disk cannot be mounted here");
        string more = _bench.Write("teal_2026-10-02T1000.csv", PlainLog.Charge(3, seed: 4, minutes: 300));

        const string now = "--now 2026-11-01T12:00Z";

        // The history lies on the small disk; the rest of it is filled to the last byte.
        Outcome outcome = Shell.Run(
            $"""
            {mount} && cp '{_bench.History}' '{folder}/history.db' && cd '{folder}' || exit 99
            say() (echo "$1 $2")
            head -c 2000000 /dev/zero > filler 2> /dev/null
            "$packcare" import '{more}' --history history.db > out 2> '{_bench.Folder}/import'; say import $?
            "$packcare" check Teal 3.8 3.8 3.8 --history history.db 2> '{_bench.Folder}/check'; say check $?
            "$packcare" backup copy.db --history history.db 2> '{_bench.Folder}/backup'; say backup $?
            "$packcare" export open --history history.db 2> '{_bench.Folder}/export'; say export $?
            "$packcare" due --history history.db {now} > '{_bench.Folder}/due'; say due $?
            "$packcare" show Teal --history history.db {now} > /dev/null; say show $?
            "$packcare" list --history history.db {now} > /dev/null; say list $?
            "$packcare" due --history '{_bench.History}' {now} | cmp - '{_bench.Folder}/due'; say same $?
            ls | grep -E 'copy|open'; say left $?
            rm filler
            "$packcare" doctor --history history.db > /dev/null; say doctor $?
            "$packcare" import '{more}' --history history.db > /dev/null; say again $?
            "$packcare" show Teal --json --history history.db | grep -o '"sessions":2,'
            """,
            wrapper);

        Assert.Equal("import 3\ncheck 3\nbackup 3\nexport 3\ndue 0\nshow 0\nlist 0\nsame 0\nleft 1\ndoctor 0\nagain 0\n\"sessions\":2,\n", outcome.Out);
        foreach (string what in new[] { "import", "check" })
        {
            string said = File.ReadAllText(Path.Combine(_bench.Folder, what));
            Assert.Contains("full", said, StringComparison.Ordinal);
            Assert.Contains("; free some space", said, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_full_disk_at_the_step_to_the_present_structure_at_a_restore_and_while_watching()
    {
        string folder = Path.Combine(_bench.Folder, "disk");
        Directory.CreateDirectory(folder);
        string wrapper = Environment.IsPrivilegedProcess ? "unshare -m" : "unshare -rm";
        string mount = $"mount -t tmpfs -o size=2m none '{folder}'";
        Assert.SkipUnless(OperatingSystem.IsLinux() && Shell.Run(mount, wrapper).ExitCode == 0, "a small disk cannot be mounted here");
        string old = Path.Combine(Repository.Root, "tests", "PackCare.Store.Tests", "Files", "version-1.db");
        _bench.Write("logs/teal_2026-10-02T1000.csv", PlainLog.Charge(3, seed: 4));

        Outcome outcome = Shell.Run(
            $"""
            {mount} && cp '{_bench.History}' '{folder}/history.db' && cp '{old}' '{folder}/old.db' && cd '{folder}' || exit 99
            say() (echo "$1 $2")
            fill() (head -c 4000000 /dev/zero > filler 2> /dev/null)
            fill
            "$packcare" list --history old.db 2>> '{_bench.Folder}/said'; say step $?
            cmp old.db '{old}'; say untouched $?
            "$packcare" restore '{_bench.History}' --replace --history history.db 2>> '{_bench.Folder}/said'; say restore $?
            "$packcare" list --history history.db > /dev/null; say list $?
            ls | grep -vE 'shm$|wal$'
            "$packcare" watch '{_bench.Folder}/logs' --every 0.2 --settle 0.2 --history history.db > '{_bench.Folder}/watch' 2>&1 &
            for second in $(seq 60); do grep -q trying '{_bench.Folder}/watch' && break; sleep 1; done
            rm filler
            for second in $(seq 60); do grep -q imported '{_bench.Folder}/watch' && break; sleep 1; done
            kill -TERM $!; wait $!; say watch $?
            "$packcare" list --history old.db > /dev/null; say again $?
            "$packcare" doctor --history history.db > /dev/null; say doctor $?
            """,
            wrapper);

        Assert.Equal("step 3\nuntouched 0\nrestore 3\nlist 0\nfiller\nhistory.db\nold.db\nwatch 0\nagain 0\ndoctor 0\n", outcome.Out);
        Assert.All(File.ReadAllLines(Path.Combine(_bench.Folder, "said")), line => Assert.StartsWith("packcare: ", line, StringComparison.Ordinal));
        string[] watched = File.ReadAllLines(Path.Combine(_bench.Folder, "watch"));
        Assert.Equal(4, watched.Length);
        Assert.Single(watched, line => line.Contains("is full", StringComparison.Ordinal));
        Assert.Single(watched, line => line.EndsWith("teal_2026-10-02T1000.csv: imported, Teal", StringComparison.Ordinal));
    }

    [Fact]
    public void A_folder_that_cannot_be_written_is_read_and_not_changed()
    {
        Assert.SkipWhen(Bound.Unable is not null, Bound.Unable ?? string.Empty);
        string folder = Path.Combine(_bench.Folder, "locked");
        Outcome outcome = Shell.Run(
            $"""
            mkdir '{folder}' && cp '{_bench.History}' '{folder}/history.db' && chmod 555 '{folder}' && cd '{folder}' || exit 99
            say() (echo "$1 $2")
            {Bound.Prefix}"$packcare" show Teal --history history.db > /dev/null; say show $?
            {Bound.Prefix}"$packcare" list --history history.db > /dev/null; say list $?
            {Bound.Prefix}"$packcare" due --history history.db > /dev/null 2> '{_bench.Folder}/due'; say due $?
            {Bound.Prefix}"$packcare" doctor --history history.db > /dev/null; say doctor $?
            {Bound.Prefix}"$packcare" check Teal 3.8 3.8 3.8 --history history.db; say check $?
            {Bound.Prefix}"$packcare" add Coot --cells 3 --history other.db; say add $?
            ls; chmod 755 .
            {Bound.Prefix}"$packcare" check Teal 3.8 3.8 3.8 --history history.db > /dev/null; say again $?
            """);

        Assert.Equal("show 0\nlist 0\ndue 0\ndoctor 0\ncheck 3\nadd 3\nhistory.db\nagain 0\n", outcome.Out);
        Assert.All(outcome.Error.TrimEnd().Split('\n'), line => Assert.Contains("; check the rights", line, StringComparison.Ordinal));
    }

    [Fact]
    public void A_folder_of_logs_without_permission()
    {
        Assert.SkipWhen(Bound.Unable is not null, Bound.Unable ?? string.Empty);
        string folder = Path.Combine(_bench.Folder, "closed");
        string log = Path.Combine(_bench.Folder, "unreadable.csv");
        Outcome outcome = Shell.Run(
            $"""
            mkdir '{folder}' && chmod 000 '{folder}'; echo x > '{log}'; chmod 000 '{log}'
            {Bound.Prefix}"$packcare" import '{folder}' --history '{_bench.History}'; echo $?
            {Bound.Prefix}"$packcare" import '{log}' --history '{_bench.History}'; echo $?
            chmod 755 '{folder}'
            """);

        Assert.Equal(2, outcome.Out.Split('\n').Count(line => line == "1"));
        Assert.Contains("; check its permissions", outcome.Error, StringComparison.Ordinal);
        Assert.Contains("the file cannot be read", outcome.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_history_that_another_program_is_changing_is_read_at_once_and_changed_later()
    {
        using (var other = new SqliteConnection($"Data Source={_bench.History};Pooling=False"))
        {
            other.Open();
            using SqliteTransaction hold = other.BeginTransaction(deferred: false);
            _bench.Run("due").Expect(0);
            _bench.Run("show", "Teal").Expect(0);

            string said = _bench.Run("check", "Teal", "3.8", "3.8", "3.8").Expect(3).Error;
            Assert.Contains("in use by another program; try again", said, StringComparison.Ordinal);
        }

        _bench.Run("check", "Teal", "3.8", "3.8", "3.8").Expect(0);
        _bench.Run("doctor").Expect(0);
    }

    [Fact]
    public async Task Two_imports_at_once_and_a_reader()
    {
        const int Files = 8;
        for (int file = 0; file < Files; file++)
        {
            _bench.Write($"logs/teal_2026-09-{file + 1:D2}T1000.csv", PlainLog.Charge(3, seed: file, minutes: 31 + file));
        }

        string logs = Path.Combine(_bench.Folder, "logs");
        Task<Outcome>[] writers = [Task.Run(() => _bench.Run("import", logs)), Task.Run(() => _bench.Run("import", logs))];
        var seen = new List<int>();
        while (!writers.All(writer => writer.IsCompleted))
        {
            seen.Add(_bench.Run("show", "Teal", "--json").Expect(0).Json().GetProperty("usage").GetProperty("sessions").GetInt32());
        }

        foreach (Outcome outcome in await Task.WhenAll(writers))
        {
            outcome.Expect(0);
        }

        Assert.Equal(seen.Order(), seen);
        Assert.Equal(["9"], SqliteRows.Read(_bench.History, "select cast(count(*) as text) from session"));
        _bench.Run("doctor").Expect(0);
    }

    [Fact]
    public void A_history_that_was_cut_off()
    {
        byte[] whole = File.ReadAllBytes(_bench.History);
        File.WriteAllBytes(_bench.History, whole[..(whole.Length / 2)]);

        foreach (string command in new[] { "list", "due" })
        {
            Assert.Contains("put a backup in its place", _bench.Run(command).Expect(3).Error, StringComparison.Ordinal);
        }

        _bench.Run("doctor", "--repair");
        File.WriteAllBytes(_bench.History, whole);
        _bench.Run("list").Expect(0);
    }

    [Fact]
    public void A_history_with_flipped_bits_is_never_a_bug_and_a_repair_keeps_the_file_as_it_was()
    {
        byte[] whole = File.ReadAllBytes(_bench.History);
        var random = new Random(20261105);
        for (int flip = 0; flip < 12; flip++)
        {
            byte[] flipped = [.. whole];
            flipped[random.Next(flipped.Length)] ^= (byte)(1 << random.Next(8));
            File.WriteAllBytes(_bench.History, flipped);

            Outcome outcome = _bench.Run(flip % 2 == 0 ? ["show", "Teal"] : ["doctor"]);
            Assert.True(outcome.ExitCode is 0 or 1 or 2 or 3, outcome.Error);
            Assert.DoesNotContain("   at PackCare", outcome.Error, StringComparison.Ordinal);
        }

        File.WriteAllBytes(_bench.History, whole);
        _bench.Run("doctor").Expect(0);
    }

    [Fact]
    public void A_history_of_a_later_version()
    {
        SqliteRows.Read(_bench.History, "pragma user_version = 99");
        byte[] before = File.ReadAllBytes(_bench.History);

        foreach (string[] command in new string[][] { ["list"], ["check", "Teal", "3.8", "3.8", "3.8"], ["doctor", "--repair"] })
        {
            Assert.Contains("; use that version", _bench.Run(command).Expect(3).Error.Replace("was left as it is; use", "; use", StringComparison.Ordinal), StringComparison.Ordinal);
        }

        Assert.Equal(before, File.ReadAllBytes(_bench.History));
    }

    [Fact]
    public void A_clock_that_was_set_back()
    {
        string today = _bench.Run("due", "--json").Expect(0).Out;
        foreach (string command in new[] { "list", "due" })
        {
            At("2020-01-01T12:00Z", command).Expect(0);
        }

        Assert.Equal(0, At("2020-01-01T12:00Z", "show", "Teal", "--json").Expect(0).Json().GetProperty("usage").GetProperty("sessions").GetInt32());
        At("2020-01-01T12:00Z", "check", "Teal", "3.8", "3.8", "3.8").Expect(0);
        At("2020-01-01T12:00Z", "backup", Path.Combine(_bench.Folder, "copy.db")).Expect(0);
        _bench.Run("undo").Expect(0);
        Assert.Equal(today, _bench.Run("due", "--json").Expect(0).Out);
        _bench.Run("doctor").Expect(0);
    }

    [Fact]
    public void A_clock_that_is_behind_the_record_is_remarked_on_in_one_sentence()
    {
        // Entered by a clock that was right, or by one that was far ahead: to this machine's clock it is the same.
        _bench.Run("add", "Late", "--cells", "3").Expect(0);
        _bench.Run("import", _bench.Write("late_2126-10-01T1000.csv", PlainLog.Charge(3, seed: 3, minutes: 31))).Expect(0);
        foreach (string[] command in new string[][] { ["due"], ["list"], ["show", "Late"], ["why", "Late"], ["report", "--out", Path.Combine(_bench.Folder, "report")], ["log", "Late", "inspection", "--swollen"] })
        {
            Outcome outcome = PackCareProcess.Run(_bench.Folder, null, [.. command, "--history", _bench.History]).Expect(0);
            string sentence = Assert.Single(outcome.Error.TrimEnd().Split('\n'));
            Assert.Contains("there are records up to 2126-10-01 ", sentence, StringComparison.Ordinal);
            Assert.EndsWith("; check the clock, or the dates of those records.", sentence, StringComparison.Ordinal);
        }

        // What is said of a pack rests on that pack; and who names a moment means it.
        Assert.Empty(PackCareProcess.Run(_bench.Folder, null, "show", "Teal", "--history", _bench.History).Expect(0).Error);
        Assert.Empty(_bench.Run("due").Expect(0).Error);
        _bench.Run("doctor").Expect(0);
    }

    [Fact]
    public void A_history_behind_a_link_is_the_file_itself()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "a link takes rights there that few have");
        string real = Path.Combine(_bench.Folder, "real");
        Directory.CreateDirectory(real);
        File.Move(_bench.History, Path.Combine(real, "packs.db"));
        File.CreateSymbolicLink(_bench.History, Path.Combine(real, "packs.db"));
        _bench.Run("check", "Teal", "3.8", "3.8", "3.8").Expect(0);
        string copy = Path.Combine(_bench.Folder, "copy.db");
        _bench.Run("backup", copy).Expect(0);
        _bench.Run("restore", copy, "--replace").Expect(0);

        Assert.NotNull(File.ResolveLinkTarget(_bench.History, returnFinalTarget: false));
        Assert.Single(Directory.GetFiles(real, "packs.db.replaced-*"));
        Assert.True(HistoryFile.Examine(Path.Combine(real, "packs.db")).Sound);

        File.Delete(_bench.History);
        File.CreateSymbolicLink(_bench.History, Path.Combine(_bench.Folder, "nowhere", "packs.db"));
        _bench.Run("list").Expect(3);
        File.Delete(_bench.History);
        File.CreateSymbolicLink(_bench.History, _bench.History);
        _bench.Run("list").Expect(3);
    }

    private Outcome At(string now, params string[] arguments) => PackCareProcess.Run(_bench.Folder, null, [.. arguments, "--history", _bench.History, "--now", now]);
}
