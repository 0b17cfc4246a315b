using System.Globalization;
using PackCare.Core.Reading;

namespace PackCare.Import.Meanings;

/// <summary>
/// Points at the first row in which only one of current and cells steps, where elsewhere the cells step by what their resistance makes of the current:
/// a stretch of the current was lost, got another size or stood still, or one of the voltages did.
/// </summary>
internal static class UnmatchedSteps
{
    /// <summary>Rows on either side of a step of which the middle one counts.</summary>
    internal const int Beside = 3;

    // By as many rows more current and voltage stay, for one of the two may be logged late.
    private const int MostLate = 2;

    private const int FewestAnswers = 3;
    private const int MostSessions = 50;

    // Between the quarters of the resistances that the steps tell.
    private const double MostSpread = 1.6;

    /// <summary>Of the largest current: what counts as a step.</summary>
    internal const double LargeStep = 0.3;

    // The same: less is not looked at, and what a current that stays may go.
    private const double LeastStep = 0.1;
    private const double MostStray = 0.06;

    // Volts of a cell.
    private const double LeastVolts = 0.012;

    // Of a cell that is larger than those of most vehicles; where steps tell nothing better.
    private const double UsualCellOhms = 0.0005;

    // Volts of a cell, at once and while the current stays.
    private const double LargeVolts = 0.15;

    // Of what is expected.
    private const double MostSeen = 0.2;
    private const double MostMoves = 0.2;

    // From row to row a cell can lose its charge by itself by more than that only where it is nearly empty.
    private const double LeastLevel = 3.5;

    /// <summary>Tells of it as a notice; of several packs, of the first of each session.</summary>
    internal static void Tell(FlowLog log, ColumnRole current, FlowRows rows)
    {
        // Packs of one log may be of any size.
        foreach (FlowRows its in rows.HasSessions && log.Columns.Single(ColumnMeaning.PackLabel) is not null ? rows.Sessions(MostSessions) : [rows])
        {
            TellFirst(log, current, its);
        }
    }

    private static void TellFirst(FlowLog log, ColumnRole current, FlowRows rows)
    {
        double least = Math.Max(LeastVolts * log.CellsInVoltage, (8 * rows.Noise) + (3 * rows.Digit));
        double known = Ohms(rows, least);
        for (int i = 0; i < rows.Rows.Count; i++)
        {
            bool mayStep = i > 0 && (Math.Abs(rows.AmpsSince(i)) > LeastStep * rows.Largest || Math.Abs(rows.VoltsSince(i)) > least);
            if (!mayStep || !IsLevel(rows, i))
            {
                continue;
            }

            double amps = Level(rows, i, row => row.Amps);
            double volts = Level(rows, i, row => row.Volts);
            double expected = Math.Abs(amps) * (known != 0 ? Math.Abs(known) : UsualCellOhms * log.CellsInVoltage * current.Factor);
            bool isLarge = Math.Abs(amps) > LargeStep * rows.Largest;
            bool stays = isLarge && (known != 0 ? expected > 2 * least && Math.Abs(volts) < MostSeen * expected && Stays(i, row => row.Volts, MostMoves * expected)
                : expected > 2 * ((4 * rows.Noise) + (2 * rows.Digit)) && Math.Abs(volts - (Beside * Course(rows, i))) < MostSeen * expected);
            bool goes = Math.Abs(volts) > Math.Max(2 * least, known != 0 ? LargeStep * rows.Largest * Math.Abs(known) : LargeVolts * log.CellsInVoltage) && Math.Abs(amps) <= MostStray * rows.Largest && Stays(i, row => row.Amps, MostStray * rows.Largest)
                && (known != 0 || (Steady(rows, i - Beside, MostStray * Math.Abs(volts)) && Steady(rows, i, MostStray * Math.Abs(volts)))) && Math.Abs(rows.VoltsSince(i)) > 0.7 * Math.Abs(volts) && Math.Min(rows.Rows[i].Volts, rows.Rows[i - 1].Volts) > LeastLevel * log.CellsInVoltage;
            if (stays || goes)
            {
                string found = stays ? "a current that steps here while the cells stay" : "cells that step here as they do under a load while the current stays, as it does nowhere else";
                log.Columns.Notice(
                    "step-unmatched", rows.Rows[i].Number, current, string.Create(CultureInfo.InvariantCulture, $"{found} (by {(stays ? Math.Abs(amps) : known != 0 ? Math.Abs(volts / known) : 0) * current.Factor:0.##} A, {Math.Abs(volts) * 1000:0} mV seen and {(stays ? expected : 0) * 1000:0} mV expected)"),
                    "have a look: the current may have been lost or damaged from here on, or up to here; it was kept as logged");
                return;
            }
        }

        bool Stays(int i, Func<FlowRow, double> of, double within)
        {
            double[] all = [.. Enumerable.Range(i - Beside - MostLate, 2 * (Beside + MostLate)).Select(at => of(rows.Rows[at]))];
            return all.Max() - all.Min() <= within;
        }
    }

    // Three rows in which the voltage stays, but for its course.
    private static bool Steady(FlowRows rows, int from, double within) =>
        Math.Max(Math.Abs(rows.Rows[from].Volts - rows.Rows[from + 1].Volts), Math.Abs(rows.Rows[from + 1].Volts - rows.Rows[from + 2].Volts)) <= 2 * within;

    // Volts for one of the current's unit, from steps that agree; 0 where there are too few.
    private static double Ohms(FlowRows rows, double least)
    {
        double[] ohms = [.. Enumerable.Range(1, Math.Max(0, rows.Rows.Count - 1))
            .Where(i => rows.Follows(i) && Math.Abs(rows.AmpsSince(i)) > LargeStep * rows.Largest && rows.Steps(i) && !rows.IsSpike(i) && !rows.IsCourse(i) && Math.Abs(rows.VoltsSince(i)) >= least)
            .Select(i => rows.VoltsSince(i) / rows.AmpsSince(i)).Order()];
        bool isSure = ohms.Length >= FewestAnswers && ohms[0] * ohms[^1] > 0
            && Math.Max(ohms[ohms.Length / 4] / ohms[ohms.Length * 3 / 4], ohms[ohms.Length * 3 / 4] / ohms[ohms.Length / 4]) <= MostSpread;
        return isSure ? ohms[ohms.Length / 2] : 0;
    }

    // Volts a row, where the current stays.
    private static double Course(FlowRows rows, int i) =>
        Selection.At([.. Enumerable.Range(i - Beside - MostLate + 1, (2 * (Beside + MostLate)) - 1).Where(at => at != i).Select(rows.VoltsSince)], Beside + MostLate - 1);

    /// <summary>How far the middle of the three rows from one on is from that of the three before it.</summary>
    internal static double Level(FlowRows rows, int i, Func<FlowRow, double> of)
    {
        return Middle(i) - Middle(i - Beside);

        double Middle(int from) => RowMath.Middle(of(rows.Rows[from]), of(rows.Rows[from + 1]), of(rows.Rows[from + 2]));
    }

    /// <summary>Whether the rows beside one follow each other in the log, among its first.</summary>
    internal static bool AreConsecutive(FlowRows rows, int i, int known) =>
        rows.Rows[i - Beside].Number == rows.Rows[i].Number - Beside && rows.Rows[i + Beside - 1].Number == rows.Rows[i].Number + Beside - 1 && rows.Rows[i + Beside - 1].Number < known;

    /// <summary>Whether a row has others of its session on either side, at an even pace, in which the current stays before and stays after.</summary>
    internal static bool IsLevel(FlowRows rows, int i)
    {
        int from = i - Beside - MostLate;
        int to = i + Beside + MostLate;
        if (from < 0 || to > rows.Rows.Count)
        {
            return false;
        }

        double pace = rows.Rows[from + 1].Seconds - rows.Rows[from].Seconds;
        for (int at = from + 1; at < to; at++)
        {
            double step = rows.Rows[at].Seconds - rows.Rows[at - 1].Seconds;
            if (!rows.Follows(at) || !(step > 0.5 * pace && step < 2 * pace) || !double.IsFinite(rows.Rows[at].Volts) || (at != i && Math.Abs(rows.AmpsSince(at)) > MostStray * rows.Largest))
            {
                return false;
            }
        }

        return double.IsFinite(rows.Rows[from].Volts);
    }
}
