using PackCare.Core.Packs;
using PackCare.Core.Samples;

namespace PackCare.Store.Tests;

/// <summary>A disk that changes bits behind our back: nothing may crash, and no sample may come back other than it was stored. PACKCARE_ROUNDS multiplies the rounds.</summary>
public sealed class BitFlipTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData(1, 20)]
    [InlineData(30, 20)]
    [InlineData(300, 20)]
    public void Flipped_bits_are_reported_or_harmless_and_never_crash_or_change_a_sample(int bits, int rounds)
    {
        string original = _folder.File("original.db");
        Dictionary<long, SampleSeries> samples;
        using (History history = BackupTests.Filled(original))
        {
            samples = history.SessionIds().ToDictionary(id => id, history.LoadSamples);
        }

        byte[] bytes = File.ReadAllBytes(original);
        var random = new Random(bits);
        int times = int.Parse(Environment.GetEnvironmentVariable("PACKCARE_ROUNDS") ?? "1", System.Globalization.CultureInfo.InvariantCulture);
        for (int round = 0; round < rounds * times; round++)
        {
            byte[] flipped = [.. bytes];
            for (int i = 0; i < bits; i++)
            {
                flipped[random.Next(flipped.Length)] ^= (byte)(1 << random.Next(8));
            }

            string path = _folder.File($"flipped-{round}.db");
            File.WriteAllBytes(path, flipped);
            ReadEverything(path, samples);
            Attempt(() => HistoryFile.Examine(path));
            Attempt(() => HistoryFile.Repair(path, Make.Morning));
            ReadEverything(path, samples);
        }
    }

    private static void ReadEverything(string path, Dictionary<long, SampleSeries> samples)
    {
        History? history = null;
        Attempt(() => history = History.Open(path, create: false));
        if (history is null)
        {
            return;
        }

        using (history)
        {
            Attempt(() => history.LoadAll());
            Attempt(() => history.Unassigned());
            Attempt(() => history.Files());
            Attempt(() => history.LoadFile(Make.Sha("one")));
            Attempt(() => history.LastChange());
            Attempt(() => history.Revisions());
            Attempt(() => history.PacksWithDigests("due"));
            Attempt(() => history.Load(new Pack(1, Make.Details(), Make.Morning)));
            foreach ((long id, SampleSeries stored) in samples)
            {
                SampleSeries? read = null;
                Attempt(() => read = history.LoadSamples(id));
                foreach (Channel channel in read?.Channels ?? [])
                {
                    if (stored[channel.Key] is null)
                    {
                        Assert.NotEqual(ChannelKind.CellVoltage, channel.Key.Kind);
                        Assert.All(channel.ToDecimals(), Assert.Null);
                        continue;
                    }

                    // After a repair, readings may be missing; they are never others.
                    IEnumerable<(decimal? Stored, decimal? Read)> pairs = stored[channel.Key]!.ToDecimals().Zip(channel.ToDecimals());
                    Assert.All(pairs, pair => Assert.True(pair.Read is null || pair.Read == pair.Stored));
                    Assert.Equal(stored.Count, channel.Count);
                }
            }

            Attempt(() => history.AddFile(Make.File("after"), [new NewSession(null, Make.Log(), Make.Summary())]));
            Attempt(() => history.Undo());
        }
    }

    private static void Attempt(Action work)
    {
        try
        {
            work();
        }
        catch (HistoryException)
        {
        }
    }
}
