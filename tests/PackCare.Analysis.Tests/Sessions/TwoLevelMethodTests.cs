using PackCare.Analysis.Summaries;
using PackCare.Analysis.Tests.Support;
using PackCare.Core.Packs;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Tests.Sessions;

public sealed class TwoLevelMethodTests
{
    // IEC 61960-3, direct-current internal resistance, from its definition: 0.2 C for 10 s (U1), then 1 C (U2 after 1 s);
    // R = (U1 - U2) / (I2 - I1). A worked case of ours: 2 Ah, 0.4 A to 2.0 A, 3.948 V to 3.900 V, hence 48 mV / 1.6 A = 30 mOhm.
    [Fact]
    public void The_IEC_61960_worked_case()
    {
        double[] seconds = [.. Enumerable.Range(0, 22).Select(i => (double)i)];
        double[] amperes = [.. seconds.Select(t => t < 1 ? 0 : t <= 10 ? -0.4 : -2.0)];
        double[] volts = [.. seconds.Select(t => t < 1 ? 3.960 : t <= 10 ? 3.948 : 3.900)];

        ResistanceReading reading = SessionSummarizer.Summarize(Series.Of(seconds, amperes, [volts]), Chemistry.LiIon).Cells[0].Resistance!;

        Assert.Equal(0.030, reading.Ohms, 1e-6);
        Assert.Equal(1, reading.LagSeconds);
    }

    [Fact]
    public void The_standard_error_is_that_of_rounding_where_nothing_else_scatters()
    {
        // Two readings rounded to 1 mV: sqrt(2) 1 mV / sqrt(12) over 5 A.
        (double ohms, double error) = StepResistance.RobustSlope([new StepVoltage(0.050, 5, Math.Sqrt(2) * 0.001 / Math.Sqrt(12))]);

        Assert.Equal(0.010, ohms, 1e-12);
        Assert.Equal(0.0000816, error, 1e-6);
    }

    [Fact]
    public void One_wild_step_among_many_does_not_move_the_estimate()
    {
        StepVoltage[] steps = [.. Enumerable.Range(0, 9).Select(i => new StepVoltage(0.040 + (0.0002 * (i % 3)), 4.0, 0.0004)), new StepVoltage(0.140, 4.0, 0.0004)];

        (double ohms, _) = StepResistance.RobustSlope(steps);

        Assert.InRange(ohms, 0.0099, 0.0104);
    }
}
