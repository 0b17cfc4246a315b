namespace PackCare.Import.Meanings;

/// <summary>
/// Looks, under a current without a sign, for stretches and sessions of the other direction: where it stays the same for minutes and the cells go steadily the other way,
/// where it sets in and they lie on the other side of where they rested, and where a session by itself tells otherwise.
/// </summary>
internal static class UnsignedFlow
{
    // Of a current that stays.
    private const double MostOther = 0.06;

    // Seconds. Cells that recover from a heavier load have mostly done so by then.
    private const double LeastSeconds = 100;
    private const double Settling = 15;

    private const int FewestRows = 9;
    private const int MostSessions = 200;
    private const int FewestOfCourse = 5;
    private const double LeastVolts = 0.004;
    private const double LeastDigits = 0.7;

    // Rows at rest, rows under the current, and volts of a cell.
    private const int RestRows = 2;
    private const int FewestUnderLoad = 4;
    private const int MostUnderLoad = 40;
    private const double LeastFromRest = 0.015;

    // Standard errors of a straight line, over all of it and over its second half.
    private const double LeastErrors = 9;
    private const double LeastErrorsOfHalf = 3;
    private const double LeastOfHalf = 0.2;

    /// <summary>Refuses the log where one is found.</summary>
    /// <param name="log">The log.</param>
    /// <param name="current">The current, its sign settled.</param>
    /// <param name="rows">Its rows.</param>
    internal static void Check(FlowLog log, ColumnRole current, FlowRows rows)
    {
        bool isSigned = current.HasProvedSign || (rows.Rows.Any(row => row.Amps > rows.LeastFlow) && rows.Rows.Any(row => row.Amps < -rows.LeastFlow));
        if (isSigned && !current.HasProvedSign)
        {
            return;
        }

        int sign = current.Negated ? -1 : 1;
        double seconds = log.SecondsOfAxis;
        if (Against(rows) is int row && (log.Voltages.Count == 1 || log.RowsOfEach(current).Count(cell => Against(cell) is not null) * 3 >= log.Voltages.Count * 2))
        {
            int session = rows.Rows.First(one => one.Number == row).Session;
            bool charges = rows.Rows.Where(one => one.Session == session && one.Number >= row).MaxBy(one => Math.Abs(one.Amps)).Amps * sign > 0;
            log.Columns.Refuse(
                "direction-unclear", row, current, $"a current {(isSigned ? "that modes or counters call" : "without a sign, taken for")} {(charges ? "charging" : "discharging")}, and cells that tell of {(charges ? "discharging" : "charging")} from here on",
                isSigned ? "check the columns of mode and current" : "log the current with its sign, or with a column that says charge or discharge");
            return;
        }

        if (!isSigned && log.Columns.Guide?.ChargingIsPositive is null)
        {
            TellSilentSessions(log, current, rows, sign);
        }

        // One cell that fails under way moves the middle of two.
        int? Against(FlowRows some) => isSigned ? SessionAgainst(some, sign) : StretchAgainst(some, sign, seconds, LeastVolts * log.CellsInVoltage) ?? OnsetAgainst(some, sign, LeastFromRest * log.CellsInVoltage) ?? SessionAgainst(some, sign);
    }

    // Of several sessions those that by themselves tell nothing took their direction from the others.
    private static void TellSilentSessions(FlowLog log, ColumnRole current, FlowRows rows, int sign)
    {
        if (!rows.HasSessions || log.Columns.Problems.Exists(problem => problem.Code is "sign-assumed" or "sign-by-little"))
        {
            return;
        }

        foreach (FlowRows its in rows.Sessions(MostSessions))
        {
            if (its.Rows.Any(rows.Flows) && FlowDirection.Of(its) is var told && !new[] { told.Answers, told.Hold, told.Steps, told.Course }.Contains(sign))
            {
                log.Columns.Notice(
                    "sign-assumed", its.Rows[0].Number, current, "a session under a current without a sign in which nothing tells its direction", $"it was taken for {(its.Rows.First(rows.Flows).Amps * sign > 0 ? "charging" : "discharging")}, as the log's other sessions; if it is not, log the current with its sign");
                return;
            }
        }
    }

    private static int? StretchAgainst(FlowRows rows, int sign, double factor, double leastVolts)
    {
        for (int from = 0, to; from < rows.Rows.Count; from = to)
        {
            to = from + 1;
            if (!rows.Flows(rows.Rows[from]))
            {
                continue;
            }

            double amps = rows.Rows[from].Amps;
            while (to < rows.Rows.Count && rows.Follows(to) && Math.Abs(rows.Rows[to].Amps - amps) <= Math.Max(MostOther * Math.Abs(amps), 1.01 * rows.DigitOfCurrent))
            {
                to++;
            }

            // What follows a heavier load recovers from it.
            bool recovers = from > 0 && rows.Follows(from) && Math.Abs(rows.Rows[from - 1].Amps) > Math.Abs(amps);
            FlowRow[] settled = [.. Enumerable.Range(from, to - from).Select(i => rows.Rows[i]).Where(row => (row.Seconds - rows.Rows[from].Seconds) * factor >= Settling && double.IsFinite(row.Volts))];
            if (recovers || settled.Length < FewestRows || (settled[^1].Seconds - settled[0].Seconds) * factor < LeastSeconds)
            {
                continue;
            }

            (double went, double errors) = Line(settled);
            (double wentLate, double errorsLate) = Line(settled[(settled.Length / 2)..]);
            if (went * Math.Sign(amps) * sign < 0 && wentLate * went > 0 && Math.Abs(went) >= Math.Max(leastVolts, LeastDigits * rows.Digit) && errors >= LeastErrors && errorsLate >= LeastErrorsOfHalf && Math.Abs(wentLate) >= LeastOfHalf * Math.Abs(went))
            {
                return rows.Rows[from].Number;
            }
        }

        return null;
    }

    // A current that sets in after a rest, and under which the cells lie on the other side of where they rested.
    private static int? OnsetAgainst(FlowRows rows, int sign, double leastVolts)
    {
        for (int i = RestRows + 1; i + FewestUnderLoad <= rows.Rows.Count; i++)
        {
            if (!rows.Flows(rows.Rows[i]) || rows.Flows(rows.Rows[i - 1]) || !Enumerable.Range(i - RestRows, RestRows + 1).All(at => rows.Follows(at) && (at == i || !rows.Flows(rows.Rows[at]))))
            {
                continue;
            }

            double rested = rows.Rows[i - 1].Volts;
            double recovery = Math.Abs(rested - rows.Rows[i - 1 - RestRows].Volts) / (rows.Rows[i - 1].Seconds - rows.Rows[i - 1 - RestRows].Seconds);
            FlowRow[] under = [.. Enumerable.Range(i, Math.Min(MostUnderLoad, rows.Rows.Count - i)).TakeWhile(at => rows.Follows(at) && rows.Flows(rows.Rows[at])).Select(at => rows.Rows[at])];
            double[] lifts = [.. under.Select(row => (row.Volts - rested) * Math.Sign(row.Amps) * sign).Where(double.IsFinite)];
            if (lifts.Length < FewestUnderLoad)
            {
                continue;
            }

            double least = Math.Max(Math.Max(leastVolts, 2.5 * rows.Digit), Math.Max(6 * rows.Noise, 2 * recovery * (under[^1].Seconds - rows.Rows[i - 1].Seconds)));
            if (lifts.Count(lift => lift < 0) >= 0.9 * lifts.Length && Selection.At(lifts, lifts.Length / 2) < -least)
            {
                return rows.Rows[i].Number;
            }
        }

        return null;
    }

    /// <summary>By how many of its standard errors the voltage goes, at the most, while the current stays.</summary>
    internal static double ErrorsOfCourse(FlowRows rows)
    {
        double most = 0;
        for (int from = 0, to; from < rows.Rows.Count; from = to)
        {
            to = from + 1;
            double amps = rows.Rows[from].Amps;
            while (to < rows.Rows.Count && rows.Follows(to) && Math.Abs(rows.Rows[to].Amps - amps) <= Math.Max(2 * MostOther * Math.Abs(amps), 1.01 * rows.DigitOfCurrent))
            {
                to++;
            }

            FlowRow[] known = [.. Enumerable.Range(from, to - from).Select(i => rows.Rows[i]).Where(row => double.IsFinite(row.Volts))];
            most = known.Length >= FewestOfCourse && rows.Flows(rows.Rows[from]) && Line(known) is var line && Math.Abs(line.Went) > rows.Digit ? Math.Max(most, line.Errors) : most;
        }

        return most;
    }

    // How far a straight line through the voltages goes, in volts, and how many of its standard errors that is.
    private static (double Went, double Errors) Line(FlowRow[] rows)
    {
        double meanSeconds = rows.Average(row => row.Seconds);
        double meanVolts = rows.Average(row => row.Volts);
        double square = rows.Sum(row => (row.Seconds - meanSeconds) * (row.Seconds - meanSeconds));
        double slope = rows.Sum(row => (row.Seconds - meanSeconds) * (row.Volts - meanVolts)) / square;
        double rest = rows.Sum(row => Math.Pow(row.Volts - meanVolts - (slope * (row.Seconds - meanSeconds)), 2));
        double error = Math.Sqrt(rest / Math.Max(1, rows.Length - 2) / square);
        return (slope * (rows[^1].Seconds - rows[0].Seconds), error > 0 ? Math.Abs(slope) / error : slope == 0 ? 0 : double.PositiveInfinity);
    }

    // The first of several sessions of which all that is sure tells of the other direction.
    private static int? SessionAgainst(FlowRows rows, int sign)
    {
        foreach (FlowRows its in rows.HasSessions ? rows.Sessions(MostSessions) : [])
        {
            FlowDirection told = FlowDirection.Of(its);
            int[] votes = [.. new[] { told.Answers, told.Hold, told.StepsAreSure ? told.Steps : 0, told.LargeStepsAreSure ? told.LargeSteps : 0, told.CourseIsSure ? told.Course : 0 }.Where(vote => vote != 0)];
            if (votes.Length > 0 && votes.All(vote => vote == -sign) && told.Steps != sign && told.Course != sign)
            {
                return its.Rows[0].Number;
            }
        }

        return null;
    }
}
