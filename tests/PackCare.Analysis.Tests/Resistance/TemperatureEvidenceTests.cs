using PackCare.Analysis.Assessments;
using PackCare.Analysis.Resistance;
using PackCare.Core.Packs;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Tests.Resistance;

public sealed class TemperatureEvidenceTests
{
    private static readonly DateTimeOffset Start = new(2026, 2, 1, 10, 0, 0, TimeSpan.Zero);

    // Arrhenius' law with 22 kJ/mol; the readings are exact.
    [Fact]
    public void Four_temperatures_give_the_activation_energy_and_the_one_too_cold_to_correct_is_shown_as_measured()
    {
        IReadOnlyList<string> sentences = Of([0, 10, 25, 40], celsius => 0.060 * TemperatureCorrection.Ratio(celsius, 25, 22_000));

        Assert.Equal(2, sentences.Count);
        Assert.Contains("At 0.0 C", sentences[0], StringComparison.Ordinal);
        Assert.Contains("135.2", sentences[0], StringComparison.Ordinal);
        Assert.Contains("not corrected", sentences[0], StringComparison.Ordinal);
        Assert.Contains("activation energy of 22.0 (", sentences[1], StringComparison.Ordinal);
    }

    [Fact]
    public void A_cell_that_is_not_of_Arrhenius_kind_is_said_to_be_none()
    {
        double[] ohms = [0.050, 0.080, 0.055, 0.075];
        int next = 0;

        Assert.Contains(Of([10, 20, 30, 40], _ => ohms[next++]), sentence => sentence.Contains("does not follow Arrhenius' law between 10 and 40 C", StringComparison.Ordinal));
    }

    [Fact]
    public void One_temperature_says_nothing() => Assert.Empty(Of([22, 23, 24, 22], _ => 0.060));

    private static IReadOnlyList<string> Of(double[] celsius, Func<double, double> ohms)
    {
        SessionRecord[] sessions = [.. celsius.Select((at, i) => new SessionRecord(i + 1, 1, $"{i}.csv", Start.AddDays(i), TimeQuality.Exact, new SessionSummary(
            SessionSummarizer.MethodVersion, SessionKind.Discharge, 300, 300, 1, 0, 0.03, null, null, 0, 2, at, at, at, 60, 60, false, null,
            [new CellSummary(1, 3.75, 3.7, 3.75, 3.7, 3.6, 3.75, new ResistanceReading(ohms(at), 0.0005, 2, 1, at))])))];
        PackAssessment assessment = PackAnalyzer.Analyze(new PackHistory(new Pack(1, new PackDetails("Test", 1, 1, Chemistry.LiIon), Start), sessions, [], []), Start.AddDays(10));
        return assessment.Resistance.Temperature;
    }
}
