using PackCare.Report.Tests.Fixtures;

namespace PackCare.Report.Tests.Browser;

/// <summary>A written report and a browser to look at it with, where there is one.</summary>
public sealed class OpenReport : IAsyncLifetime
{
    /// <summary>Name of the collection of tests that share it.</summary>
    public const string Name = "open report";

    private Chromium? _browser;

    internal static Story[] HardStories =>
    [
        new() { Label = "Heron 4S B", DriftMillivolts = -1.9, FullDays = 4, ResistanceGrowth = 1.7, Fade = 0.15 },
        new() { Label = "Wader 12S", Cells = 12, OddCell = 7, RatedAh = 16, DriftMillivolts = 1.1, ResistanceGrowth = 2.3, Fade = 0.3 },
        new() { Label = "Stork 4S", LeakMillivolts = 24 },
        new() { Label = "Newcomer", Charges = 1, RatedAh = null },
        new() { Label = "Never logged", Charges = 0 },
        new() { Label = "WwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwW", Swollen = true },
    ];

    public WrittenReport Report { get; } = new(StoryTeller.Tell("A notice that is long enough to need more than one line on a telephone, and says that all is invented.", HardStories));

    /// <summary>The browser; skips the test where none is installed, and fails it there in continuous integration.</summary>
    public Chromium Browser
    {
        get
        {
            if (_browser is null)
            {
                const string reason = "No Chromium, Chrome or Edge was found in PATH or at its usual place; set PACKCARE_CHROMIUM to name one.";
                if (Environment.GetEnvironmentVariable("CI") == "true")
                {
                    Assert.Fail(reason);
                }

                Assert.Skip(reason);
            }

            return _browser;
        }
    }

    /// <summary>Where pictures are kept; the folder is ignored by version control.</summary>
    public static string PictureFolder { get; } = Directory.CreateDirectory(Path.Combine(Repository.Root, "artifacts", "report")).FullName;

    public async ValueTask InitializeAsync()
    {
        if (Chromium.Find() is { } program)
        {
            _browser = await Chromium.StartAsync(program, TestContext.Current.CancellationToken);
        }
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
        {
            await _browser.DisposeAsync();
        }

        Report.Dispose();
    }
}
