namespace PackCare.Analysis.Imbalance;

/// <summary>What was found without the latest reading, the latest two and so on, worked out as far back as anyone asks and once only.</summary>
/// <param name="most">How many readings may be left out.</param>
/// <param name="without">What is found without the latest so many.</param>
internal sealed class Earlier<T>(int most, Func<int, IReadOnlyList<T>> without)
{
    private readonly List<IReadOnlyList<T>> _known = [];

    /// <summary>From the latest back.</summary>
    public IEnumerable<IReadOnlyList<T>> Walk()
    {
        for (int left = 1; left <= Math.Min(most, Hold.LooksBack); left++)
        {
            if (_known.Count < left)
            {
                _known.Add(without(left));
            }

            yield return _known[left - 1];
        }
    }
}
