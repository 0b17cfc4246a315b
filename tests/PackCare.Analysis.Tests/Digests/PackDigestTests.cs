using System.Text.Json;
using PackCare.Analysis.Assessments;
using PackCare.Analysis.Digests;
using PackCare.Analysis.Limits;
using PackCare.Core.Packs;
using PackCare.Core.Sessions;
using PackCare.Core.Units;

namespace PackCare.Analysis.Tests.Digests;

/// <summary>A kept judgement says at every moment at which it holds what judging the pack anew would say, to the last bit.</summary>
public sealed class PackDigestTests
{
    private const int Packs = 300;
    private const int LooksPerPack = 12;

    private static readonly DateTimeOffset Begin = new(2024, 3, 1, 8, 0, 0, TimeSpan.FromHours(1));

    [Fact]
    public void A_kept_judgement_gives_the_brief_of_any_moment_at_which_it_holds()
    {
        int held = 0;
        int full = 0;
        int overdue = 0;
        for (int seed = 0; seed < Packs; seed++)
        {
            var random = new Random(seed);
            PackHistory history = Invent(random);
            LimitTable limits = LimitTable.Default(history.Pack.Details.Chemistry);
            DateTimeOffset made = Sometime(random);
            PackDigest kept = PackDigest.Parse(PackAnalyzer.Digest(history, made, limits).ToText())!;
            for (int look = 0; look < LooksPerPack; look++)
            {
                // Half of the looks fall where it says that it holds, the others anywhere.
                DateTimeOffset now = look % 2 == 0 ? Sometime(random) : Within(kept, random);
                if (!kept.HoldsAt(now))
                {
                    continue;
                }

                PackBrief anew = PackBrief.Of(PackAnalyzer.Analyze(history, now, limits));
                Assert.Equal(Text(anew), Text(kept.At(history.Pack, now)));
                held++;
                full += anew.CurrentSpell is null ? 0 : 1;
                overdue += anew.Findings.Any(finding => finding.Code == FindingCode.CheckOverdue) ? 1 : 0;
            }
        }

        // Otherwise nothing would be shown: neither that it holds for long, nor that what passes with time passes.
        Assert.True(held >= Packs * 3, $"{held} looks fell where a kept judgement holds");
        Assert.True(full >= 100, $"{full} of them found the pack full");
        Assert.True(overdue >= 100, $"{overdue} of them found it unread for too long");
    }

    [Fact]
    public void A_judgement_holds_neither_before_the_last_record_nor_from_the_next_one_on()
    {
        for (int seed = 0; seed < Packs; seed++)
        {
            var random = new Random(seed);
            PackHistory history = Invent(random);
            DateTimeOffset made = Sometime(random);
            PackDigest kept = PackAnalyzer.Digest(history, made, LimitTable.Default(history.Pack.Details.Chemistry));
            DateTimeOffset[] moments =
            [
                .. history.Sessions.SelectMany(session => new[] { session.Started, session.Ended }),
                .. history.SpotChecks.Select(check => check.At),
                .. history.Entries.Select(entry => entry.At),
            ];
            foreach (DateTimeOffset moment in moments)
            {
                Assert.False(kept.HoldsAt(moment <= made ? moment.AddTicks(-1) : moment), $"seed {seed}: {moment} against {made}");
            }
        }
    }

    [Theory]
    [InlineData("")]
    [InlineData("{}")]
    [InlineData("[1, 2]")]
    [InlineData("""{"from":"2024-01-01T00:00:00+00:00"}""")]
    public void What_is_no_kept_judgement_is_not_taken_for_one(string text) => Assert.Null(PackDigest.Parse(text));

    private static string Text(PackBrief brief) => JsonSerializer.Serialize(brief);

    private static DateTimeOffset Sometime(Random random) => Begin.AddMinutes(random.Next(-1_000, 1_200_000));

    private static DateTimeOffset Within(PackDigest kept, Random random)
    {
        DateTimeOffset from = kept.From < Begin ? Begin : kept.From;
        DateTimeOffset until = kept.Until > Begin.AddYears(4) ? Begin.AddYears(4) : kept.Until;
        return until <= from ? from : from.AddTicks((long)((until - from).Ticks * Math.Pow(random.NextDouble(), 2)));
    }

    private static PackHistory Invent(Random random)
    {
        int cells = random.Next(1, 7);
        var chemistry = (Chemistry)random.Next(4);
        AmpereHours? rated = random.Next(3) == 0 ? null : new AmpereHours(2 + random.NextDouble());
        var pack = new Pack(7, new PackDetails("Teal", cells, 1, chemistry, rated), Begin, random.Next(9) == 0 ? new Retirement(Begin.AddDays(300), "old") : null);
        return new PackHistory(
            pack,
            [.. Enumerable.Range(1, random.Next(0, 40)).Select(id => Session(id, cells, random))],
            [.. Enumerable.Range(1, random.Next(0, 12)).Select(id => new SpotCheck(id, Sometimes(random), [.. Volts(cells, random)], null, []))],
            [.. Enumerable.Range(1, random.Next(0, 6)).Select(id => new DiaryEntry(id, Sometimes(random), (EntryKind)random.Next(4), random.Next(20) == 0, random.Next(20) == 0, random.Next(2) == 0 ? 30 + (random.NextDouble() * 50) : null))]);
    }

    private static DateTimeOffset Sometimes(Random random) => Begin.AddSeconds(random.Next(0, 40_000_000));

    private static SessionRecord Session(int id, int cells, Random random)
    {
        double[] start = [.. Volts(cells, random)];
        double[] end = [.. Volts(cells, random)];
        bool rests = random.Next(5) > 0;
        double? charge = random.Next(5) > 0 ? random.NextDouble() * 2 : null;
        double celsius = random.Next(-5, 50);
        var kind = (SessionKind)random.Next(5);
        var summary = new SessionSummary(
            1, kind, random.Next(60, 20_000), 500, 5, charge, charge is null ? null : random.NextDouble(), 10, 5, 2, 3, celsius + 2, celsius, celsius + random.Next(40), 60, 300,
            random.Next(2) == 0,
            random.Next(2) == 0 ? Resistance(random) : null,
            [.. Enumerable.Range(0, random.Next(8) == 0 ? 0 : cells).Select(cell => new CellSummary(
                cell + 1, start[cell], end[cell], rests ? start[cell] : null, rests ? end[cell] : null, Math.Min(start[cell], end[cell]) - 0.05, Math.Max(start[cell], end[cell]) + 0.05,
                random.Next(3) > 0 ? Resistance(random) : null))]);
        return new SessionRecord(id, 7, "teal.csv", Sometimes(random), TimeQuality.Exact, summary);
    }

    private static ResistanceReading Resistance(Random random) => new(0.003 + (random.NextDouble() * 0.002), 0.0001, 3, 5, 15 + random.Next(15));

    private static IEnumerable<double> Volts(int cells, Random random)
    {
        double level = random.Next(3) == 0 ? 4.15 : 3.2 + random.NextDouble();
        return Enumerable.Range(0, cells).Select(_ => Math.Round(level + (random.NextDouble() * 0.03), 3)).ToArray();
    }
}
