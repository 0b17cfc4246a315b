using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Import.Sessions;

namespace PackCare.Import.Meanings;

/// <summary>
/// Points at the first stretch of a log in which a charge counter that follows the current elsewhere does not: one of the two was damaged there, changed
/// its unit, or began anew.
/// </summary>
internal static class CounterStretches
{
    private const int FewestRows = 5;
    private const int FewestDigits = 20;
    private const double LeastPart = 0.03;

    // Of the integral of the current. Between the rows of a slow log a load may vary by much.
    private const double LeastOff = 1.6;
    private const double Near = 1.15;

    // The same of all of them together, where the current stays from row to row.
    private const double MostOfAll = 1.12;

    /// <summary>Tells of it as a notice.</summary>
    internal static void Tell(LogColumns columns, TimeAxis axis, SessionMap map)
    {
        ColumnRole? current = columns.Single(ColumnMeaning.Current);
        ColumnRole? charge = columns.Single(ColumnMeaning.Charge);
        if (current is null || charge is not { Unit: not Unit.None })
        {
            return;
        }

        double[] seconds = axis.Seconds(0);
        double[] amps = current.FirstValues;
        double[] counted = charge.FirstValues;
        double digit = charge.Factor * Math.Pow(10, -charge.Column.MaxDecimals);
        double least = Math.Max(FewestDigits * digit, LeastPart * charge.Factor * (charge.Profile!.Max - charge.Profile.Min));
        var stretches = new List<(int Row, double Counted, double Flowed, double Unsure)>();
        foreach (Segment segment in map.Segments.Where(segment => segment.End <= seconds.Length))
        {
            (int from, double flowed, double unsure) = (segment.Start, 0, 0);
            for (int i = segment.Start + 1; i < segment.End; i++)
            {
                double step = seconds[i] - seconds[i - 1];
                double more = (amps[i] + amps[i - 1]) / 2 * step / 3600;
                bool pauses = i > segment.Start + 1 && step > Flow.MostPause * (seconds[i - 1] - seconds[i - 2]);
                if (!double.IsFinite(more + counted[i] + counted[from]) || pauses)
                {
                    (from, flowed, unsure) = (i, 0, 0);
                    continue;
                }

                // When within a row the current changed is not known.
                unsure += Math.Abs(amps[i] - amps[i - 1]) / 2 * step / 3600;
                flowed += more;
                double went = Math.Abs(counted[i] - counted[from]);
                if (Math.Max(Math.Abs(flowed), went) >= least && i - from >= FewestRows)
                {
                    stretches.Add((from + 1, went, Math.Abs(flowed), unsure + digit));
                    (from, flowed, unsure) = (i, 0, 0);
                }
            }
        }

        // Where a good part of the log is not off.
        var off = stretches.FindAll(one => one.Counted > LeastOff * (one.Flowed + one.Unsure) || one.Flowed > LeastOff * (one.Counted + one.Unsure));
        if (off.Count > 0 && stretches.Count(one => one.Counted < Near * (one.Flowed + one.Unsure) && one.Flowed < Near * (one.Counted + one.Unsure)) * 3 >= stretches.Count)
        {
            columns.Notice(
                "charge-disagrees", off[0].Row, charge, string.Create(CultureInfo.InvariantCulture, $"a charge counter that goes on by {off[0].Counted:0.###} Ah here while the current makes {off[0].Flowed:0.###} Ah, where they agree elsewhere"),
                "have a look: one of the two may have been damaged, or the counter begun anew; both were kept as logged");
            return;
        }

        (double countedAll, double flowedAll, double unsureAll) = (stretches.Sum(one => one.Counted), stretches.Sum(one => one.Flowed), stretches.Sum(one => one.Unsure));
        if (countedAll > MostOfAll * (flowedAll + unsureAll) || flowedAll > MostOfAll * (countedAll + unsureAll))
        {
            columns.Notice(
                "charge-disagrees", 0, charge, string.Create(CultureInfo.InvariantCulture, $"a charge counter that goes on by {countedAll:0.###} Ah in all while the current makes {flowedAll:0.###} Ah"),
                "have a look: one of the two is off by as much throughout; both were kept as logged");
        }
    }
}
