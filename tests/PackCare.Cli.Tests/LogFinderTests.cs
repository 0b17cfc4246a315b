using PackCare.Cli.Importing;
using PackCare.Cli.Tests.Running;
using PackCare.Core.Reading;

namespace PackCare.Cli.Tests;

/// <summary>Folders are searched while other programs write to them, move them and take them away.</summary>
public sealed class LogFinderTests : IDisposable
{
    private readonly Bench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Theory]
    [InlineData("logs", "not-found")]
    [InlineData("logs/day", "empty-folder")]
    public void A_folder_that_goes_away_in_the_middle_of_a_search_is_gone_and_not_unreadable(string goes, string left)
    {
        string folder = Directory.CreateDirectory(Path.Combine(_bench.Folder, "logs")).FullName;
        string going = Path.Combine(_bench.Folder, goes);
        using var done = new CancellationTokenSource();
        var other = new Thread(() =>
        {
            while (!done.IsCancellationRequested)
            {
                Directory.CreateDirectory(going);
                Directory.Delete(going);
            }
        });
        other.Start();
        HashSet<string> codes = [];
        for (int search = 0; search < 3_000; search++)
        {
            codes.UnionWith(LogFinder.Find([folder]).Select(found => found.Problem).OfType<InputProblem>().Select(problem => problem.Code));
        }

        done.Cancel();
        other.Join();
        Assert.Subset(new HashSet<string> { "empty-folder", left }, codes);
        Assert.Contains(left, codes);
    }
}
