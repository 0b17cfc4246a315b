namespace PackCare.Import.Sessions;

/// <summary>Tells an elapsed clock that begins anew from a damaged time.</summary>
internal static class FreshStart
{
    // A session's rows are as far apart as a clock keeps its own beat; a damaged time leaves two steps that differ.
    private const double EvenShare = 0.1;

    /// <summary>Whether a time that lies before the one ahead of it begins another session.</summary>
    /// <param name="first">The first time of the session so far.</param>
    /// <param name="step">The last step of the session so far; NaN for none.</param>
    /// <param name="previous">The last time of the session so far.</param>
    /// <param name="time">The time that lies before it.</param>
    /// <param name="next">The time after that; NaN for none.</param>
    /// <param name="afterNext">The one after that; NaN for none.</param>
    internal static bool Is(double first, double step, double previous, double time, double next, double afterNext)
    {
        double typical = double.IsNaN(step) ? 1 : step;
        double ahead = next - time;
        if (!(time >= 0 && ahead >= 0 && time < previous - typical))
        {
            return false;
        }

        bool keepsRate = ahead <= Math.Max(3 * typical, 1);
        bool hasOwnRate = afterNext > next && next > time && (afterNext <= previous || Math.Abs(afterNext - next - ahead) <= EvenShare * ahead);
        double nought = Math.Max(first, 0);
        return (keepsRate && time <= nought + (2 * typical)) || (hasOwnRate && time <= Math.Max(nought + (2 * typical), ahead));
    }
}
