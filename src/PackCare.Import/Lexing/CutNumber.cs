namespace PackCare.Import.Lexing;

/// <summary>
/// Tells whether a number at the very end of a log is whole or the beginning of a longer one. Where the numbers above it have as many
/// digits each time, the digits tell; where they do not, it is asked which goes on better from the rows above: the number as it stands, or
/// what it could be the beginning of.
/// </summary>
internal static class CutNumber
{
    private const int Local = 3;
    private const int MostDigits = 15;

    /// <summary>Whether the number is whole, as far as can be told; what cannot be told is not.</summary>
    /// <param name="number">The number.</param>
    /// <param name="before">The numbers above it, in order; at least one.</param>
    internal static bool IsWhole(WrittenNumber number, IReadOnlyList<WrittenNumber> before)
    {
        if (before.Any(other => other.Exponent > 0))
        {
            return number.Exponent >= before.Min(other => other.Exponent);
        }

        int most = before.Max(other => other.Decimals);
        bool alikeHere = before.Count >= Local && before.Skip(before.Count - Local).All(other => other.Decimals == number.Decimals);
        if (number.Decimals > 0 && (number.Decimals >= most || alikeHere))
        {
            return true;
        }

        if (number.Decimals < most && !alikeHere && before.Count(other => other.Decimals <= number.Decimals) * 2 < before.Count)
        {
            return false;
        }

        if (number.Decimals == 0 && before.Any(other => other.IsPadded))
        {
            return number.Digits >= before.Min(other => other.Digits);
        }

        return GoesOn(number, before, most);
    }

    private static bool GoesOn(WrittenNumber number, IReadOnlyList<WrittenNumber> before, int mostDecimals)
    {
        double[] values = [.. before.Select(other => other.Value)];
        double longer = Longer(number, mostDecimals).Select(range => Novelty(values, range.Low, range.High)).DefaultIfEmpty(double.PositiveInfinity).Min();
        double asIs = Novelty(values, number.Value, number.Value);
        double usual = 2 * UsualNovelty(values);
        if (asIs > usual)
        {
            return longer >= asIs;
        }

        return longer > usual || before.Count(other => other.Digits <= number.Digits && other.Decimals <= number.Decimals) * 2 >= before.Count;
    }

    // What the number could be the beginning of: nothing longer begins with a nought.
    private static IEnumerable<(double Low, double High)> Longer(WrittenNumber number, int mostDecimals)
    {
        double size = Math.Abs(number.Value);
        double unit = Math.Pow(10, -number.Decimals);
        if (number.Decimals < mostDecimals)
        {
            yield return Signed(size, size + unit);
        }

        if (number.Decimals > 0 || size == 0)
        {
            yield break;
        }

        double factor = 10;
        for (int digits = number.Digits + 1; digits <= MostDigits; digits++, factor *= 10)
        {
            yield return Signed(size * factor, ((size + 1) * factor) - 1);
        }

        (double, double) Signed(double low, double high) => number.Value < 0 ? (-high, -low) : (low, high);
    }

    // How far a value is from what ever came after a value like the last one, or from that one itself.
    private static double Novelty(double[] values, double low, double high) => Novelty(values, values.Length, values[^1], low, high);

    private static double Novelty(double[] values, int without, double previous, double low, double high)
    {
        double least = Apart(previous, low, high);
        for (int i = 1; i < values.Length; i++)
        {
            if (i != without)
            {
                least = Math.Min(least, Math.Abs(values[i - 1] - previous) + Apart(values[i], low, high));
            }
        }

        return least;
    }

    // That of most rows of the log itself, each held against all others.
    private static double UsualNovelty(double[] values)
    {
        double[] novelties = [.. Enumerable.Range(1, values.Length - 1).Select(i => Novelty(values, i, values[i - 1], values[i], values[i])).Order()];
        return novelties.Length == 0 ? 0 : novelties[(int)(0.8 * (novelties.Length - 1))];
    }

    private static double Apart(double value, double low, double high) => value < low ? low - value : value > high ? value - high : 0;
}
