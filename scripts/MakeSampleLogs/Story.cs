namespace PackCare.SampleLogs;

/// <summary>A pack's part in the scenario.</summary>
/// <param name="Label">The pack.</param>
/// <param name="Tale">What becomes of it, in one line.</param>
/// <param name="Life">Lives it.</param>
internal sealed record Story(string Label, string Tale, Func<SampleSet, PackLife> Life)
{
    /// <summary>Lives it within a set.</summary>
    public PackLife Live(SampleSet set) => Life(set);
}
