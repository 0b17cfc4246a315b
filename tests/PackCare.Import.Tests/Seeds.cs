using System.Globalization;

namespace PackCare.Import.Tests;

/// <summary>
/// Seeds for generated cases: the same few in every run, so that a run tells of the change it is made for, and as many
/// more as PACKCARE_FUZZ_INPUTS asks for. What a campaign finds is kept as a case of its own.
/// </summary>
internal static class Seeds
{
    public static IEnumerable<int> OfThisRun(int usual) =>
        Enumerable.Range(0, int.TryParse(Environment.GetEnvironmentVariable("PACKCARE_FUZZ_INPUTS"), NumberStyles.None, CultureInfo.InvariantCulture, out int asked) ? asked : usual);
}
