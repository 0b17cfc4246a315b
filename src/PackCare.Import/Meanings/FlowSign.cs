using PackCare.Import.Sessions;

namespace PackCare.Import.Meanings;

/// <summary>Settles which sign of the current charges.</summary>
internal sealed class FlowSign(FlowLog log)
{
    private const int FewestDigits = 8;

    // Of a session's current, for it to flow one way.
    private const double MostOneWay = 0.9;

    /// <summary>Settles it for the current and its counter, or refuses the log.</summary>
    /// <param name="current">The current.</param>
    /// <param name="charge">The counter, or null.</param>
    /// <param name="flow">What they say of each other.</param>
    /// <param name="told">What the cells and modes say.</param>
    /// <param name="pinned">The sign of the current while a voltage is held near full; 0 where none is.</param>
    internal void Settle(ColumnRole current, ColumnRole? charge, Flow flow, FlowDirection told, int pinned)
    {
        charge = charge is { IsUsed: true } ? charge : null;
        bool negated = false;
        string because;

        if (flow.Positive > 0 && flow.Negative > 0 && !current.HasProvedSign && told.LostSign is int lost)
        {
            log.Columns.Refuse("direction-unclear", lost, current, "a current that changes its sign here while the cells go on as before: signs were lost, or got in, from here on or above", "correct the signs, or export the log again");
            return;
        }

        // A written sign is turned, or a stated one doubted, by what no single row can have made.
        List<int> sure = [.. new[] { told.Hold, told.StepsAreSure ? told.Steps : 0, told.CourseIsSure ? told.Course : 0 }.Where(sign => sign != 0)];

        // Before a sign is turned round, or two kinds of evidence are called contradictory: where the cells stand at the end against the beginning.
        int whole = flow.Positive + flow.Negative > 0 && !told.GoesOnAtRest && (sure.Distinct().Count() == 2 || !told.StepsAreSure) ? Whole(current) : 0;
        whole = whole != 0 && told.LargeSteps == -whole && told.LargeStepsAreSure ? 0 : whole;
        if (whole != 0)
        {
            sure = [whole];
        }

        // Nothing but a charge holds a voltage so; and what the cells do from row to row no recovery explains.
        if (pinned != 0)
        {
            sure = [pinned];
        }
        else if (told.Answers != 0 && whole != -told.Answers)
        {
            sure = [told.Answers];
        }

        if (log.Columns.Guide?.ChargingIsPositive is bool chargingPositive)
        {
            negated = !chargingPositive;
            because = "the guide says so";
            if (Contradicts(chargingPositive ? 1 : -1))
            {
                log.Columns.Refuse("direction-unclear", 0, current, "a guide that says one direction while the cells go the other", "correct positiveCurrent in the guide");
                return;
            }
        }
        else if (current.HasProvedSign)
        {
            because = "modes or counters say so, and the cells do not contradict";
            if (Contradicts(1))
            {
                log.Columns.Refuse("direction-unclear", 0, current, "modes or counters that say one direction while the cells go the other", "check the columns of mode and current");
                return;
            }
        }
        else if (flow.Positive + flow.Negative == 0)
        {
            because = "the current is zero throughout, so its sign does not matter";
        }
        else if (told.Modes != 0)
        {
            negated = told.Modes < 0;
            because = "the modes say so, and the cells do not contradict";
            if (Contradicts(told.Modes))
            {
                log.Columns.Refuse("direction-unclear", 0, current, "modes that say one direction while the cells go the other", "check the columns of mode and current");
                return;
            }
        }
        else if (flow.Negative == 0 && (pinned == 0 || told.Swings) && told.Answers == 0 && RunsBothWays(told, current))
        {
            log.Columns.Refuse("direction-unclear", 0, current, "a current without a sign in a log that both charges and discharges", "log the current with its sign, or with a column that says charge or discharge");
            return;
        }
        else if ((current.Hint.IsOut || current.Hint.IsIn) && flow.Negative == 0)
        {
            negated = current.Hint.IsOut;
            because = negated ? "its header names the discharge" : "its header names the charge";
            if (Contradicts(negated ? -1 : 1))
            {
                log.Columns.Refuse("direction-unclear", 0, current, $"a current headed as {(negated ? "discharge" : "charge")} while the cells go the other way", "correct the header");
                return;
            }
        }
        else if (sure.Distinct().Count() == 2)
        {
            log.Columns.Refuse("direction-unclear", 0, current, "a current whose steps and whose course contradict each other about its sign", "check which column is the current");
            return;
        }
        else if (sure.Count > 0 && sure[0] < 0 && !told.StepsAreSure && CellsDisagree(current))
        {
            // One cell that fails under way moves the middle of two.
            because = "the cells go different ways, so the sign was left as it is in the log";
            log.Columns.Notice("sign-assumed", 0, current, "a current under which some cells rise and others fall", "charging was taken as positive; if it is not, say so with a reading guide; and have a look at the pack");
        }
        else if (flow.Negative == 0 && pinned == 0 && StepsAgainstInAny(log.RowsOf(current, null), told) is int against)
        {
            log.Columns.Refuse("direction-unclear", against, current, "a current without a sign, and cells that step as under one of the other direction", "log the current with its sign, or with a column that says charge or discharge");
            return;
        }
        else if (sure.Count > 0)
        {
            negated = sure[0] < 0;
            because = pinned != 0 ? "the highest voltage stays near full while it falls off, as only charging does"
                : told.Answers == sure[0] ? $"the cells {(negated ? "fall" : "rise")} when it rises, and the other way round"
                : whole != 0 && told.Hold != whole && !(told.CourseIsSure && told.Course == whole) ? $"the cells {(negated == (flow.Integral > 0) ? "fall" : "rise")} from the first row to the last, as under a current that is {(flow.Integral > 0 ? "positive" : "negative")} in the log"
                : told.Hold != 0 ? "the cells are held at their highest voltage while it falls off, as only charging does"
                : told.StepsAreSure ? $"the cells {(negated ? "fall" : "rise")} when it steps up" : $"the cells {(negated == (flow.Positive > 0) ? "fall" : "rise")} while it is {(flow.Positive > 0 ? "positive" : "negative")} in the log";
        }
        else if (told.Steps < 0 || told.Course < 0)
        {
            bool isOpen = told.Steps > 0 || told.Course > 0 || (told.Steps == 0 && flow.Negative > 0);
            if (isOpen && !IsNoise(current))
            {
                log.Columns.Refuse("direction-unclear", 0, current, "a current of which too little tells whether positive means charging", "say so in a reading guide: \"positiveCurrent\": \"charging\" or \"discharging\"");
                return;
            }

            negated = !isOpen;
            because = isOpen ? "the cells go no further than they scatter" : told.Steps < 0 ? "the cells fall when it steps up" : "the cells fall while it is positive in the log";
            if (isOpen)
            {
                log.Columns.Notice("sign-assumed", 0, current, "a current whose sign nothing in the log confirms", "charging was taken as positive; if it is not, say so with a reading guide");
            }
            else if (told.Steps == 0 || told.Course == 0 || IsNoise(current))
            {
                log.Columns.Notice("sign-by-little", 0, current, "a current whose sign little in the log tells", "it was taken for discharging; if it is not, say so with a reading guide");
            }
        }
        else if (told.Steps > 0 || told.Course > 0)
        {
            because = told.Steps > 0 ? "the cells rise when it steps up" : "the cells rise while it is positive in the log";
            if (IsNoise(current))
            {
                log.Columns.Notice("sign-by-little", 0, current, "a current whose sign little in the log tells", $"{(flow.Negative == 0 ? "it" : "positive")} was taken for charging; if it is not, say so with a reading guide");
            }
        }
        else
        {
            because = flow.Negative == 0 ? "nothing in the log contradicts charging" : "nothing in the log contradicts charging as positive";
            log.Columns.Notice("sign-assumed", 0, current, "a current whose sign nothing in the log confirms", "charging was taken as positive; if it is not, say so with a reading guide");
        }

        // Two kinds of evidence, or the surest of one that no other upholds.
        bool Contradicts(int sign) => sure.Contains(-sign) && !sure.Contains(sign) && (pinned != 0 || (told.Steps != sign && told.Course != sign));

        current.Negated = negated;
        current.Why = $"{current.Why}; {(negated ? "turned round so that charging is positive" : "charging is positive")}: {because}";
        if (charge is not null)
        {
            // One that goes one way whatever flows counts without a sign.
            double digit = Math.Pow(10, -charge.Column.MaxDecimals);
            bool isOneWay = charge.Profile is { } counts && Math.Min(counts.Rises, counts.Falls) * 10 <= Math.Max(counts.Rises, counts.Falls) && flow.CounterPath - Math.Abs(flow.CounterBySign) >= 2 * FewestDigits * digit;
            if (flow.CounterPath >= FewestDigits * digit && (Math.Abs(flow.CounterBySign) < (isOneWay ? 0.9 : 0.5) * flow.CounterPath || SessionsDisagree(current, charge, 2 * FewestDigits * digit) || (flow.CounterBySign < 0 && flow.CounterPath + flow.CounterBySign > Math.Max(2 * FewestDigits * digit, 0.05 * flow.CounterPath))))
            {
                if (charge.Profile is { Max: <= 0, Rises: 0 } && FirstTurn(current) is int turn)
                {
                    log.Columns.Refuse("direction-unclear", turn, current, "a current that changes its sign while the counter goes on below nought: signs were lost, or got in, from here on or above", "correct the signs, or export the log again");
                    return;
                }

                log.LeaveOutCounter(charge!, "a counter that follows the current now with, now against its sign; left out");
                log.Columns.Notice("charge-sign", 0, charge, "a charge counter whose sign is unclear", "the column was left out");
                return;
            }

            charge.Negated = negated != (flow.CounterBySign < 0);
        }
    }

    // A counter that goes along with the current in one session and against it in another counts without a sign.
    private bool SessionsDisagree(ColumnRole current, ColumnRole charge, double least)
    {
        if (log.Map.Count < 2)
        {
            return false;
        }

        double[] amps = LogColumns.Values(current, 0, 1);
        double[] counted = LogColumns.Values(charge, 0, 1);
        var signs = new HashSet<int>();
        foreach (Segment segment in log.Map.Segments.Where(segment => segment.End <= amps.Length))
        {
            double[] finite = [.. amps[segment.Start..segment.End].Where(double.IsFinite)];
            double went = counted[segment.End - 1] - counted[segment.Start];
            if (Math.Abs(went) >= least && Math.Abs(finite.Sum()) > MostOneWay * finite.Sum(Math.Abs))
            {
                signs.Add(Math.Sign(went) * Math.Sign(finite.Sum()));
            }
        }

        return signs.Count > 1;
    }

    // Whether the cells go hardly further than they scatter.
    private bool IsNoise(ColumnRole current)
    {
        const double LeastErrors = 5;
        const double LeastStep = 0.01;
        FlowRows rows = log.RowsOf(current, null);
        double least = Math.Max(LeastStep * log.CellsInVoltage, Math.Max(5 * rows.Digit, 8 * rows.Noise));
        return UnsignedFlow.ErrorsOfCourse(rows) < LeastErrors
            && !Enumerable.Range(3, Math.Max(0, rows.Rows.Count - 5)).Any(i => rows.Steps(i) && rows.Follows(i) && Math.Abs(UnmatchedSteps.Level(rows, i, row => row.Volts)) > least);
    }

    private static int? FirstTurn(ColumnRole current)
    {
        double least = 0.02 * current.Profile!.LargestMagnitude;
        double sign = 0;
        return LogColumns.FirstRow(current, 1, amps =>
        {
            bool turns = Math.Abs(amps) > least && amps * sign < 0;
            sign = Math.Abs(amps) > least ? Math.Sign(amps) : sign;
            return turns;
        });
    }

    // The sign that charges by what each cell did from the beginning of a session to its end; 0 where they did little, or not the same.
    private int Whole(ColumnRole current)
    {
        const double LeastVolts = 0.1;
        const double LeastOneWay = 0.5;
        var signs = new HashSet<int>();
        foreach (FlowRows rows in log.RowsOfEach(current))
        {
            foreach (IGrouping<int, FlowRow> session in rows.Rows.Where(row => double.IsFinite(row.Volts)).GroupBy(row => row.Session))
            {
                List<FlowRow> all = [.. session];
                (double net, double size) = NetOf(all);

                // One damaged value is not to outweigh all others.
                if (Math.Sign(NetOf([.. all.Where(row => Math.Abs(row.Amps) <= 3 * rows.Largest)]).Net) != Math.Sign(net))
                {
                    return 0;
                }

                // A log that begins under load and ends at rest ends higher than it began.
                double went = all[^1].Volts - all[0].Volts;
                bool isAlike = Math.Abs(all[^1].Amps - all[0].Amps) < 0.2 * rows.Largest;
                if (isAlike && Math.Abs(went) >= LeastVolts && Math.Abs(net) >= LeastOneWay * size)
                {
                    signs.Add(Math.Sign(went) * Math.Sign(net));
                }
            }
        }

        return signs.Count == 1 ? signs.Single() : 0;
    }

    private static (double Net, double Size) NetOf(List<FlowRow> rows)
    {
        (double net, double size) = (0, 0);
        for (int i = 1; i < rows.Count; i++)
        {
            double flowed = (rows[i].Amps + rows[i - 1].Amps) / 2 * (rows[i].Seconds - rows[i - 1].Seconds);
            (net, size) = (net + flowed, size + Math.Abs(flowed));
        }

        return (net, size);
    }

    private bool CellsDisagree(ColumnRole current) => log.Voltages.Count > 1 && log.RowsOfEach(current).Select(FlowDirection.Of).Select(one => one.CourseIsSure ? one.Course : 0).Where(sign => sign != 0).Distinct().Count() == 2;

    // Where a current sets in, no missing sign is in what the cells do.
    private static double OhmsFromRest(FlowRows rows)
    {
        double[] found = [.. Enumerable.Range(1, Math.Max(0, rows.Rows.Count - 1))
            .Where(i => rows.Follows(i) && !rows.Flows(rows.Rows[i - 1]) && Math.Abs(rows.AmpsSince(i)) > 0.3 * rows.Largest && !rows.IsSpike(i))
            .Select(i => Math.Abs(rows.VoltsSince(i) / rows.AmpsSince(i))).Where(double.IsFinite)];
        return found.Length == 0 ? 0 : Selection.At(found, found.Length / 2);
    }

    // Packs of one log have resistances of their own.
    private static int? StepsAgainstInAny(FlowRows rows, FlowDirection told)
    {
        const int MostSessions = 200;
        return !rows.HasSessions ? StepsAgainst(rows, told) : rows.Sessions(MostSessions).Select(its => StepsAgainst(its, FlowDirection.Of(its))).FirstOrDefault(row => row is not null);
    }

    // The first row in which the cells step as under a current that has changed its direction, if they step back as well: by twice what it
    // takes of them, on top of what its change explains.
    private static int? StepsAgainst(FlowRows rows, FlowDirection told)
    {
        const double LeastVolts = 0.006;
        double ohms = OhmsFromRest(rows) is > 0 and var atOnset ? atOnset : told.IsTrendSure ? told.TrendOhms : told.StepOhms;
        int direction = told.IsTrendSure ? told.Course : told.Answers != 0 ? told.Answers : told.Steps;
        int? first = null;
        bool turns = false;
        bool returns = false;
        for (int i = 1; ohms > 0 && i < rows.Rows.Count; i++)
        {
            if (!rows.Follows(i))
            {
                continue;
            }

            double beyond = (rows.VoltsSince(i) * direction) - (ohms * rows.AmpsSince(i));
            if (Math.Abs(beyond) < Math.Max(Math.Max(Math.Max(LeastVolts, 1.6 * rows.Digit), 6 * rows.Noise), 0.6 * ohms * Math.Abs(rows.AmpsSince(i))) || rows.IsCourse(i))
            {
                continue;
            }

            bool turnsHere = -beyond / (2 * ohms * rows.Rows[i].Amps) is > 0.5 and < 1.6;
            first ??= turnsHere ? rows.Rows[i].Number : null;
            turns |= turnsHere;
            returns |= turns && beyond / (2 * ohms * rows.Rows[i - 1].Amps) is > 0.5 and < 1.6;
        }

        return returns ? first : null;
    }

    // A current without negative values under which the cells now rise, now fall: its sign is missing, not positive. Cells that recover from a
    // heavier load rise by little; those that charge rise about as far as they fall.
    private bool RunsBothWays(FlowDirection told, ColumnRole current) =>
        (told.Swings && log.RowsOfEach(current).All(rows => FlowDirection.Of(rows).Swings)) || ((!told.IsTrendSure || told.LargeStepsDisagree)
            && ((told.StepsDisagree && !(told.CourseIsSure && !told.LargeStepsDisagree && Math.Min(told.Rise, told.Fall) < 0.02 * Math.Max(told.Rise, told.Fall)))
                || (Math.Min(told.Rise, told.Fall) > 0.02 && Math.Min(told.Rise, told.Fall) > 0.3 * Math.Max(told.Rise, told.Fall))));
}
