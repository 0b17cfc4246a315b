using System.Globalization;

namespace PackCare.Import.Tests;

/// <summary>
/// Seeds for generated cases: the same few in every run, so that a run tells of the change it is made for, and as many
/// more as PACKCARE_FUZZ_INPUTS asks for, from PACKCARE_FUZZ_FROM on. What a campaign finds is kept as a case of its own.
/// </summary>
internal static class Seeds
{
    public static IEnumerable<int> OfThisRun(int usual) =>
        Enumerable.Range(Asked("PACKCARE_FUZZ_FROM") ?? 0, Asked("PACKCARE_FUZZ_INPUTS") ?? usual);

    private static int? Asked(string variable) =>
        int.TryParse(Environment.GetEnvironmentVariable(variable), NumberStyles.None, CultureInfo.InvariantCulture, out int asked) ? asked : null;
}
