using System.Text.Json;
using PackCare.Analysis.Assessments;
using PackCare.Analysis.Tests.Support;
using PackCare.Core.Packs;
using PackCare.Simulation;

namespace PackCare.Analysis.Tests.Packs;

/// <summary>In what order logs, spot checks and entries came in, and so what numbers they were given, changes nothing.</summary>
public sealed class OrderOfImport
{
    private static readonly PackHistory Life = new SimulatedLife(seed: 7, vary: (i, cell) => i == 1 ? cell with { SelfDischargePerMonth = 0.07 } : cell)
        .Repeat(7, life => life.Charge().Discharge().Store().Check().Rest(8).Check().Write(EntryKind.Run)).History;

    private static readonly DateTimeOffset Now = Life.SpotChecks[^1].At.AddDays(2);

    private static readonly string Expected = Print(Life, PackAnalyzer.Analyze(Life, Now));

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    public void Any_order_gives_the_same_judgement(ulong seed)
    {
        var random = new Randomness(seed);
        for (int time = 0; time < 8; time++)
        {
            PackHistory shuffled = Life with
            {
                Sessions = [.. Life.Sessions.OrderBy(_ => random.NextUniform()).Select((session, i) => session with { Id = 1000 + i })],
                SpotChecks = [.. Life.SpotChecks.OrderBy(_ => random.NextUniform()).Select((check, i) => check with { Id = 1000 + i })],
                Entries = [.. Life.Entries.OrderBy(_ => random.NextUniform()).Select((entry, i) => entry with { Id = 1000 + i })],
            };

            Assert.Equal(Expected, Print(shuffled, PackAnalyzer.Analyze(shuffled, Now)));
        }
    }

    // Sessions by what they are and not by their number.
    private static string Print(PackHistory history, PackAssessment assessment)
    {
        Dictionary<long, DateTimeOffset> started = history.Sessions.ToDictionary(session => session.Id, session => session.Started);
        return JsonSerializer.Serialize(new
        {
            Findings = assessment.Findings.Select(finding => new { Finding = finding with { Sessions = [] }, Sessions = finding.Sessions.Select(id => started[id]).Order() }),
            assessment.Standing,
            assessment.Capacity.LatestAh,
            assessment.Capacity.HealthPercent,
            assessment.Resistance.Cells,
            assessment.Resistance.Temperature,
            assessment.Imbalance.ChargeOffsetPercent,
            assessment.Imbalance.Evidence,
            assessment.FullCharge,
            assessment.Days,
        });
    }
}
