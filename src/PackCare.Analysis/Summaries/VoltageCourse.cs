using System.Runtime.InteropServices;

namespace PackCare.Analysis.Summaries;

/// <summary>How far the voltage of a session without a current went on its way, over its beginning and its end and below them. Not what it went from beginning to end.</summary>
/// <remarks>Of three readings the middle one counts, so that no single one tells. All figures are multiples of what a pack at rest goes at most.</remarks>
internal sealed class VoltageCourse
{
    // Less on the way back is a pack that settles.
    private const double LeastBack = 0.5;

    // Cells that are charged rise bit by bit; those that recover from a load do most of it at once.
    private const double MostAtOnce = 0.2;

    private readonly double _above;
    private readonly double _backDown;
    private readonly double _below;
    private readonly double _backUp;
    private readonly double _upAtOnce;

    private VoltageCourse(ReadOnlySpan<double> volts, double most)
    {
        int highest = 0;
        int lowest = 0;
        for (int i = 1; i < volts.Length; i++)
        {
            highest = volts[i] > volts[highest] ? i : highest;
            lowest = volts[i] < volts[lowest] ? i : lowest;
        }

        (_above, _backDown) = ((volts[highest] - volts[0]) / most, (volts[highest] - volts[^1]) / most);
        (_below, _backUp) = ((volts[0] - volts[lowest]) / most, (volts[^1] - volts[lowest]) / most);
        for (int i = lowest + 1; i < volts.Length; i++)
        {
            _upAtOnce = Math.Max(_upAtOnce, (volts[i] - volts[Math.Max(lowest, i - 2)]) / most);
        }
    }

    /// <summary>Whether the cells were charged and discharged, either first.</summary>
    internal bool WentBothWays => IsThereAndBack(_above, _backDown) || (IsThereAndBack(_below, _backUp) && _upAtOnce < MostAtOnce * _backUp);

    /// <summary>1 where they rose and came back in part, -1 where they fell, 0 where they did neither.</summary>
    internal int WayThere => Math.Max(_above, _below) <= 1 ? 0 : Math.Sign(_above - _below);

    /// <summary>The course of the cells, or of the pack where no cells were logged; null where there are too few readings.</summary>
    /// <param name="session">The samples.</param>
    /// <param name="most">Volts that they go at rest at most.</param>
    /// <param name="byCells">Whether the cells' sum counts.</param>
    internal static VoltageCourse? Of(SessionSamples session, double most, bool byCells)
    {
        SampleColumn? volts = byCells ? session.CellSum : session.PackVolts;
        if (volts is null || !(most > 0))
        {
            return null;
        }

        var middles = new List<double>(session.Count);
        for (int i = 1; i < session.Count - 1; i++)
        {
            (double before, double now, double after) = (volts[i - 1], volts[i], volts[i + 1]);
            double middle = Math.Max(Math.Min(before, now), Math.Min(Math.Max(before, now), after));
            if (double.IsFinite(middle))
            {
                middles.Add(middle);
            }
        }

        return middles.Count == 0 ? null : new VoltageCourse(CollectionsMarshal.AsSpan(middles), most);
    }

    private static bool IsThereAndBack(double there, double back) => Math.Min(there, back) > Math.Max(1, LeastBack * Math.Max(there, back));
}
