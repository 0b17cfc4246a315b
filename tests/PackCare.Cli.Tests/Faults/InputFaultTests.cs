using PackCare.Cli.Tests.Running;

namespace PackCare.Cli.Tests.Faults;

/// <summary>Input that is no plain file, or does not stand still: refused by name or read rightly, never waited for, never half.</summary>
public sealed class InputFaultTests : IDisposable
{
    private readonly Bench _bench = new();

    public InputFaultTests() => _bench.Run("add", "Teal", "--cells", "3").Expect(0);

    public void Dispose() => _bench.Dispose();

    [Theory]
    [InlineData("mkfifo logs/pipe.csv")]
    [InlineData("ln -s /dev/zero logs/zero.csv")]
    [InlineData("ln -s /dev/null logs/null.csv")]
    [InlineData("python3 -c 'import socket; socket.socket(socket.AF_UNIX).bind(\"logs/socket.csv\")'")]
    [InlineData("ln -s nowhere.csv logs/dangling.csv")]
    [InlineData("ln -s circle.csv logs/circle.csv")]
    [InlineData("ln -s /dev/tty logs/terminal.csv")]
    public void A_special_file_is_refused_and_the_log_beside_it_is_taken(string make)
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows has no such files");
        _bench.Write("logs/teal_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 1));
        Assert.SkipUnless(Shell.Run($"cd '{_bench.Folder}' && {make}").ExitCode == 0, "it cannot be made here");
        string special = Directory.GetFileSystemEntries(Path.Combine(_bench.Folder, "logs")).Single(path => !path.Contains("teal", StringComparison.Ordinal));

        Outcome outcome = _bench.Run("import", Path.Combine(_bench.Folder, "logs")).Expect(1);

        Assert.Contains("Imported 1 file ", outcome.Out, StringComparison.Ordinal);
        string sentence = Assert.Single(outcome.Error.TrimEnd().Split('\n'));
        Assert.StartsWith(special, sentence, StringComparison.Ordinal);
        Assert.Contains("; ", sentence, StringComparison.Ordinal);
        _bench.Run("import", special).Expect(1);
        File.Delete(special);
        Assert.Contains("1 imported before", _bench.Run("import", Path.Combine(_bench.Folder, "logs")).Expect(0).Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/dev/zero")]
    [InlineData("/dev/null")]
    public void A_device_named_outright_is_refused(string device)
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows has no such files");
        Assert.Contains("no plain file", _bench.Run("import", device).Expect(1).Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_link_to_a_log_is_the_log_and_a_folder_that_links_to_itself_is_read_once()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "a link takes rights there that few have");
        string log = _bench.Write("teal_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 1));
        string folder = Directory.CreateDirectory(Path.Combine(_bench.Folder, "logs")).FullName;
        File.CreateSymbolicLink(Path.Combine(folder, "linked.csv"), log);
        Directory.CreateSymbolicLink(Path.Combine(folder, "round"), folder);

        Assert.Contains("Imported 1 file ", _bench.Run("import", folder, "--pack", "Teal").Expect(0).Out, StringComparison.Ordinal);
        Assert.Contains("1 imported before", _bench.Run("import", log).Expect(0).Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("growing")]
    [InlineData("cut and written again")]
    public async Task A_file_that_changes_while_it_is_read_is_refused_until_it_stands_still(string how)
    {
        string text = PlainLog.Charge(3, seed: 1, minutes: 600);
        string log = _bench.Write("teal_2026-10-01T1000.csv", text);
        string[] rows = text.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        using var stop = new CancellationTokenSource();
        Task writer = Task.Run(() =>
        {
            while (!stop.IsCancellationRequested)
            {
                if (how == "growing")
                {
                    File.AppendAllText(log, rows[^1] + "\n");
                }
                else
                {
                    File.WriteAllText(log, string.Join('\n', rows[..(rows.Length / 2)]) + "\n");
                    File.WriteAllText(log, text);
                }
            }
        }, TestContext.Current.CancellationToken);
        Outcome outcome = _bench.Run("import", log);
        await stop.CancelAsync();
        await writer;

        outcome.Expect(1);
        Assert.Equal(["0"], SqliteRows.Read(_bench.History, "select cast(count(*) as text) from session"));
        File.WriteAllText(log, text);
        _bench.Run("import", log).Expect(0);
        Assert.Equal([$"{rows.Length - 1}"], SqliteRows.Read(_bench.History, "select cast(sample_count as text) from session_summary"));
    }

    [Fact]
    public async Task A_file_that_is_replaced_while_it_is_read_is_taken_as_it_was_or_as_it_is()
    {
        string log = _bench.Write("teal_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 1, minutes: 300));
        using var stop = new CancellationTokenSource();
        Task writer = Task.Run(() =>
        {
            for (int round = 0; !stop.IsCancellationRequested; round++)
            {
                string next = _bench.Write("next.tmp", PlainLog.Charge(3, seed: 1, minutes: round % 2 == 0 ? 30 : 300));
                File.Move(next, log, overwrite: true);
            }
        }, TestContext.Current.CancellationToken);
        _bench.Run("import", log).Expect(0);
        await stop.CancelAsync();
        await writer;

        Assert.Subset(
            new HashSet<string> { $"{((30 * 60) + 720) / 5 + 1}", $"{((300 * 60) + 720) / 5 + 1}" },
            SqliteRows.Read(_bench.History, "select cast(sample_count as text) from session_summary").ToHashSet());
        _bench.Run("doctor").Expect(0);
    }
}
