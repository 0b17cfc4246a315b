using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;
using PackCare.Import.Guides;
using PackCare.Import.Lexing;
using PackCare.Import.Meanings;
using PackCare.Import.Sessions;
using PackCare.Import.Tables;
using PackCare.Import.Text;

namespace PackCare.Import;

/// <summary>Takes one hypothesis of how a log is written through to sessions, or to where it fails.</summary>
internal static class Interpreter
{
    private const double LowCellVolts = 2.5;

    // Makers give 4.2 V, and 4.35 or 4.4 V for those of high voltage; common practice, no source.
    private const double HighCellVolts = 4.5;

    // Hardly anybody logged cell by cell before.
    private const int FirstYear = 2003;

    /// <summary>Reads a log under one hypothesis.</summary>
    internal static Outcome Run(LogText text, TableFrame frame, Dialect dialect, LogSource source, ReadOptions options) =>
        Run(text, TableParser.Parse(text, frame, dialect, options), dialect, source, options, isTurned: false);

    private static Outcome Run(LogText text, RawTable table, Dialect dialect, LogSource source, ReadOptions options, bool isTurned)
    {
        var columns = new LogColumns(table, dialect, options.Guide);
        if (LongShape.Hints(columns) is { } hints)
        {
            columns = new LogColumns(table, dialect, options.Guide, hints);
        }

        columns.Problems.InsertRange(0, table.Problems);
        GuideHints.Check(columns);
        CheckValueUnits(columns);
        if (!columns.IsRefused)
        {
            ScaledUnits.Check(columns);
        }

        bool parsed = !columns.IsRefused;
        int stage = 1;
        SampleSeries[]? series = null;
        TimeAxis? axis = null;
        SessionMap? map = null;
        var layout = LogLayout.Wide;

        // Even a table that is refused gets its meanings, as far as they go: they tell which refusal is worth showing.
        if (table.Rows > 0)
        {
            if (parsed)
            {
                NameValueRows.Check(columns);
            }

            int told = columns.Problems.Count;
            TimeFinder.Find(columns);
            if (!parsed)
            {
                columns.Problems.RemoveRange(told, columns.Problems.Count - told);
            }

            if (parsed && !columns.IsRefused)
            {
                UnreadTimes.Check(columns);
            }

            ColumnRole? time = TimeColumn(columns);
            if (time is null && parsed && !columns.IsRefused)
            {
                RefuseNoTime(columns);
            }

            if (parsed && !columns.IsRefused && !isTurned && NewestFirst.Seems(time!) && NewestFirst.Turned(table, Axis(columns, time!, time!.Hint.Unit, options)) is { } turned)
            {
                return Run(text, turned, dialect, source, options, isTurned: true);
            }

            if (parsed && !columns.IsRefused)
            {
                ShiftedColumns.Check(columns);
            }

            if (parsed && time is not null && !columns.IsRefused && LongPivot.Of(columns) is { } pivot && !FailedCell(columns, pivot) && !DamagedLabels.IsRefused(columns))
            {
                (columns, time) = Pivoted(columns, pivot, time, dialect);
                layout = LogLayout.Long;
                if (time is null && !columns.IsRefused)
                {
                    columns.Refuse("no-time", null, null, "no column tells the time of each moment", "name it in a header, for instance time_s");
                }
            }

            if (parsed && !columns.IsRefused && layout == LogLayout.Wide)
            {
                DamagedLabels.CheckCells(columns);
            }

            int known = columns.Problems.Count;
            if (!parsed || !columns.IsRefused)
            {
                VoltageFinder.Find(columns);
                RefuseCellsAsPacks(columns, layout);
            }

            if (!parsed)
            {
                columns.Problems.RemoveRange(known, columns.Problems.Count - known);
            }

            bool structured = time is not null && (columns.Cells.Count > 0 || columns.Single(ColumnMeaning.PackVoltage) is not null);
            stage = structured ? 3 : parsed && columns.Problems.Any(problem => problem.Code is not ("no-voltages" or "no-time" or "rows-take-turns") && problem.Level == ProblemLevel.Refusal) ? 2 : 1;
            if (!columns.IsRefused)
            {
                OtherFinder.FindByHeader(columns);
                PackNumbers.Check(columns, time!);
                options = Zoned(columns, time!, options);
                (axis, map, series) = Settle(columns, time!, options);
            }
        }

        if (isTurned)
        {
            columns.Reasons.Add("The rows stand newest first; they were turned round.");
        }

        LogReading reading = Describe(columns, text, dialect, axis, layout);
        if (columns.IsRefused || series is null)
        {
            return new Outcome(stage, new ReadResult(reading, Refused(table.Ledger), [], Ordered(columns.Problems)), table);
        }

        List<SessionLog> sessions = Sessions(columns, axis!, map!, series, source, options);
        return new Outcome(4, new ReadResult(Describe(columns, text, dialect, axis, layout), table.Ledger, sessions, Ordered(columns.Problems)), table);
    }

    /// <summary>The account of a file of which nothing is kept.</summary>
    internal static Ledger Refused(Ledger ledger) => ledger with { Samples = 0, Footer = 0, Dropped = ledger.Dropped + ledger.Samples + ledger.Footer };

    private static void RefuseNoTime(LogColumns columns)
    {
        ColumnRole? unknown = columns.Roles.FirstOrDefault(role => role.Column is { Shape: ColumnShape.Text, Present: > 0, Words.Count: > 0 } && role.Hint.Quantity is Quantity.Elapsed or Quantity.Timestamp or Quantity.Clock or Quantity.Date);
        if (unknown is not null)
        {
            columns.Refuse("time-form", 0, unknown, $"\"{Refusals.Snippet(unknown.Column.Words[0])}\" under a header that names a time, in a form that is not known", "write times as seconds, as 00:01:30 or as 2026-03-14 09:30:00");
            return;
        }

        if (columns.Roles.FirstOrDefault(role => !role.IsUsed && role.Profile is { Count: > 2, Falls: > 0 } profile && role.Hint is { Quantity: Quantity.Elapsed, IsDerived: false } && profile.Rises > profile.Falls && profile.Min >= 0) is { } unsorted)
        {
            int? row = FirstFall(unsorted);
            columns.Refuse("time-backwards", row, unsorted, $"a time in column {unsorted.Column.Index + 1} that steps back here, and elsewhere: the rows may have been sorted as text", "sort the rows by their time as numbers, or export the log again");
            return;
        }

        columns.Refuse("no-time", 0, null, "no column tells the time", "name it in a header, for instance time_s");
    }

    private static int? FirstFall(ColumnRole role)
    {
        double last = double.NegativeInfinity;
        return LogColumns.FirstRow(role, 1, value =>
        {
            bool falls = value < last;
            last = value;
            return falls;
        });
    }

    // Damage can take a column's meaning along, or the header with the meanings of all; whoever counted on it is told.
    private static void TellWhatWasLeftOut(LogColumns columns)
    {
        foreach (ColumnRole role in columns.Roles.Where(role => !role.IsUsed && role.Profile is { Count: > 0 }))
        {
            if (columns.Problems.All(problem => problem.Column != role.Column.Index + 1))
            {
                columns.Notice("left-out", 0, role, $"a column {(role.Header is null ? "without a header" : $"\"{role.Header}\"")} that was left out: {role.Why}", "a reading guide can say what it is");
            }
        }
    }

    // A unit behind the values and another in the header: one of them is wrong.
    private static void CheckValueUnits(LogColumns columns)
    {
        foreach (RawColumn column in columns.Table.Columns.Where(column => columns.Table.Frame.ValueUnits[column.Index] is not null))
        {
            Unit behind = UnitMarks.Parse(columns.Table.Frame.ValueUnits[column.Index]!);
            Unit stated = HeaderWords.Read(column.Header, columns.Table.Frame.Units[column.Index]).Unit;
            if (stated != Unit.None && stated != behind && columns.Roles[column.Index] is not { Header.Length: <= 6, Hint.IsCell: true })
            {
                columns.Problems.Add(Refusals.Refuse(
                    "units-differ", columns.Table.Frame.FirstLine, column.Index + 1, $"values in {UnitMarks.Symbol(behind)} under a header that says {UnitMarks.Symbol(stated)}", "correct the header"));
                return;
            }
        }
    }

    private static List<InputProblem> Ordered(List<InputProblem> problems) => [.. problems.OrderBy(problem => problem.Line ?? 0)];

    // Rows that are numbered by cell and could not be put together: each cell would pass for a pack of its own.
    private static void RefuseCellsAsPacks(LogColumns columns, LogLayout layout)
    {
        if (layout != LogLayout.Wide || columns.Cells.Count > 0 || columns.IsRefused)
        {
            return;
        }

        // By the header, or by names of cells under a word that is not known.
        ColumnRole? number = columns.Roles.FirstOrDefault(role => role is { IsUsed: false, Hint.Quantity: Quantity.CellNumber } && (role.Profile is { Count: > 1, IsConstant: false } || role.Column.Words.Count > 1 || role.Column.FailedLine > 0))
            ?? columns.Roles.FirstOrDefault(role => role is { IsUsed: false, Column: { Shape: ColumnShape.Text, TooManyWords: false, Words.Count: > 1 } } && role.Column.Words.Any(IsCellName) && role.Column.Words.All(word => IsCellName(word) || word.Trim() == "0" || PackRows.IsPackWord(word)));
        if (number is not null)
        {
            columns.Refuse(
                "cell-numbers", 0, number, "rows that are numbered by cell and do not make up moments of one pack: a number may be damaged or missing, or two columns could be the cell's voltage",
                "give every row the number of its cell, and head the columns, for instance cell, cell_v, pack_v");
        }
    }

    private static bool IsCellName(string word) => HeaderWords.Read(word, null) is { IsCell: true, Number: not null };

    private static ColumnRole? TimeColumn(LogColumns columns)
    {
        ColumnRole? stamp = columns.Single(ColumnMeaning.Timestamp);
        ColumnRole? clock = columns.Single(ColumnMeaning.ClockTime);
        return columns.Single(ColumnMeaning.ElapsedTime) ?? stamp ?? clock;
    }

    private static (TimeAxis? Axis, SessionMap? Map, SampleSeries[]? Series) Settle(LogColumns columns, ColumnRole time, ReadOptions options)
    {
        TimeAxis? axis = Axis(columns, time, time.Hint.Unit, options);
        if (axis is null)
        {
            return (null, null, null);
        }

        if (FailedCell(columns))
        {
            return (axis, null, null);
        }

        columns.Dated = axis.IsAbsolute || axis.IsTimeOfDay ? null : LogDates.Beside(columns, options);
        DamagedLabels.Check(columns);
        SessionMap? map = columns.IsRefused ? null : SessionCutter.Cut(columns, axis, time);
        if (map is null)
        {
            return (axis, null, null);
        }

        TurnTaking.CheckTimes(columns, axis, map);
        if (!columns.IsRefused && columns.Table.LastLineBlocks is null)
        {
            CellBlocks.Check(columns, axis, map);
        }

        ColumnRole? named = columns.Single(ColumnMeaning.Current);
        if (!columns.IsRefused && named is not null)
        {
            TurnTaking.CheckVoltages(columns, map);
        }

        ImpossibleValues.CheckSentinels(columns);
        if (!columns.IsRefused)
        {
            UnitBreaks.Check(columns);
        }

        if (columns.IsRefused)
        {
            return (axis, map, null);
        }

        // Nothing that follows needs these comparisons, so they are made meanwhile.
        ColumnRole? pack = columns.Single(ColumnMeaning.PackVoltage);
        List<ColumnRole> cells = columns.Cells;
        columns.OddVoltages = Task.Run(() => OddRows.Voltages(pack, cells, map));
        FlowCombiner.Combine(columns, map);
        if (columns.IsRefused)
        {
            return (axis, map, null);
        }

        var flow = new FlowLog(columns, axis, map, time);
        FlowSettler.Settle(flow);
        if (columns.IsRefused || FailedCell(columns))
        {
            return (axis, map, null);
        }

        ImpossibleValues.CheckRanges(columns);
        VoltageFinder.CheckLeftOver(columns);
        if (!columns.IsRefused && (named is null || columns.Single(ColumnMeaning.Current) != named))
        {
            TurnTaking.CheckVoltages(columns, map);
        }

        if (!columns.IsRefused)
        {
            LabelBlocks.Check(columns, map);
        }

        if (columns.IsRefused)
        {
            return (axis, map, null);
        }

        if (time.Meaning == ColumnMeaning.ElapsedTime && time.Profile is not null)
        {
            axis = TimeAxis.FromNumbers(time.Column, flow.TimeUnit);
            if (time.Hint.Unit == Unit.None && flow.TimeUnit is not (Unit.None or Unit.Second))
            {
                // What a gap is could not be told before the unit was.
                columns.Problems.RemoveAll(problem => problem.Code is "late-row" or "time-runs-over" or "repeated-rows");
                map = SessionCutter.Cut(columns, axis, time);
                if (map is null)
                {
                    return (axis, map, null);
                }
            }
        }

        map = ModeCutter.Cut(columns, axis, map);
        if (columns.UsedUp.Count == 0)
        {
            Standstill.Tell(columns, axis, time);
        }

        ClockJumps.Tell(columns, axis, map);
        CounterStretches.Tell(columns, axis, map);
        TwinColumns.Check(columns);
        SummaryRow.Check(columns, axis);
        TellWhatIsOdd(columns, map);
        return columns.IsRefused ? (axis, map, null) : (axis, map, new Emitter(columns, axis, map).Emit());
    }

    // Before samples are emitted, which lets go of the values as they were logged.
    private static void TellWhatIsOdd(LogColumns columns, SessionMap map)
    {
        TellWhatWasLeftOut(columns);
        LabelBlocks.Tell(columns);
        CellPlaces.TellOrder(columns);
        CellPlaces.TellTwins(columns);
        CellPlaces.TellRounded(columns);
        FrozenCells.Tell(columns, map);
        OddVoltages voltages = columns.OddVoltages.GetAwaiter().GetResult();
        OddRows.Tell(columns, map, voltages);
        PackAgainstCells.Tell(columns, voltages);
        foreach (ColumnRole cell in columns.Cells.Where(cell => cell.Profile!.Min * cell.Factor < LowCellVolts))
        {
            // Where packs of fewer cells follow, the others' columns are filled with noughts.
            bool mayBeNone = map.Count > 1 && columns.Single(ColumnMeaning.PackLabel) is not null;
            (int at, double before) = (-1, 0);
            int? row = LogColumns.FirstRow(cell, cell.Factor, value =>
            {
                (at, double was, before) = (at + 1, before, value);
                return value < LowCellVolts && (value > 0 || !mayBeNone || (was > LowCellVolts && map.SegmentOf(at).Start < at));
            });
            if (row is null)
            {
                continue;
            }

            columns.Notice("low-cell", row, cell, $"cell {cell.Number} below 2.5 V", "read as logged; have a look at the pack");
        }

        foreach (ColumnRole cell in columns.Cells.Where(cell => cell.Profile!.Max * cell.Factor > HighCellVolts))
        {
            columns.Notice("high-cell", LogColumns.FirstRow(cell, cell.Factor, value => value > HighCellVolts), cell, $"cell {cell.Number} above 4.5 V, as no lithium cell is charged", "read as logged; have a look at the balance lead, and at the pack");
        }
    }

    private static (LogColumns Columns, ColumnRole? Time) Pivoted(LogColumns columns, LongPivot pivot, ColumnRole time, Dialect dialect)
    {
        RawTable? wide = pivot.Pivot(time);
        if (wide is null)
        {
            return (columns, time);
        }

        var pivoted = new LogColumns(wide, dialect, columns.Guide, pivot.Hints);
        pivoted.Problems.AddRange(columns.Problems);
        pivoted.UsedUp.Add(new ColumnReading(pivot.CellColumn + 1, wide.Frame.Headers[pivot.CellColumn], ColumnMeaning.CellNumber, null, null, columns.Table.Frame.HasHeader ? "its header names a cell and its values number them" : "it counts the cells from the first to the last again and again while the time stands still"));
        pivoted.Reasons.Add($"Column {pivot.CellColumn + 1} numbers the cells: each row holds one cell, and rows of one moment were put together.");
        TimeFinder.Find(pivoted);
        return (pivoted, TimeColumn(pivoted));
    }

    // A column that a moment is made of must be sound before rows are put together.
    private static bool FailedCell(LogColumns columns, LongPivot pivot)
    {
        ColumnRole? failed = columns.Roles.Where(role => (role.IsUsed || role.Column.Index == pivot.CellColumn || role.Hint.Quantity == Quantity.Voltage) && role.Column.FailedLine > 0).MinBy(role => role.Column.FailedLine);
        if (failed is not null)
        {
            columns.Problems.Add(Refusals.Refuse(
                "not-a-number", failed.Column.FailedLine, failed.Column.Index + 1, $"\"{failed.Column.FailedText}\" where a number is due", "correct that value, or clear it if there was no reading"));
        }

        return failed is not null;
    }

    private static TimeAxis? Axis(LogColumns columns, ColumnRole time, Unit unit, ReadOptions options)
    {
        if (time.Column.FailedLine > 0 || time.Column.Present < columns.Table.Rows)
        {
            if (!FailedCell(columns))
            {
                int? row = LogColumns.FirstRow(time, 1, double.IsNaN);
                columns.Refuse("no-time", row, time, "a row without a time", "correct or remove that line");
            }

            return null;
        }

        if (time.Meaning == ColumnMeaning.ElapsedTime)
        {
            time.Unit = unit;
            if (time.Profile is not null)
            {
                return TimeAxis.FromNumbers(time.Column, unit);
            }

            bool hours = time.Column.TimeShape == TimeShape.TwoPart && time.Hint.Unit == Unit.HourMinute;
            return TimeAxis.FromClock(time.Column, hours, timeOfDay: false);
        }

        if (time.Meaning == ColumnMeaning.Timestamp && time.Profile is not null)
        {
            return time.Unit == Unit.Day ? TimeAxis.FromSerialDates(time.Column, options.Zone) : TimeAxis.FromUnixTime(time.Column, time.Unit == Unit.Millisecond);
        }

        ColumnRole? date = columns.Single(ColumnMeaning.Date);
        if (time.Meaning == ColumnMeaning.ClockTime && date is null)
        {
            return TimeAxis.FromClock(time.Column, time.Column.TimeShape == TimeShape.TwoPart, timeOfDay: true);
        }

        ColumnRole day = date is not null && time.Meaning == ColumnMeaning.ClockTime ? date : time;
        TimeAxis? axis = LogDates.Axis(columns, day, time, options);
        if (axis is { HasOffset: false } && columns.StatedZone is null && columns.Guide?.Zone is null
            && StartFinder.TryLines(columns.Table.Around, out TimeToken start) && start is { Shape: TimeShape.DateAndTime, OffsetMinutes: not TimeToken.NoOffset }
            && StatedZone.OfStart(TimeAxis.Instant(SecondsAt(axis, 0), axis.FirstOffset).DateTime, StartFinder.Local(start), start.OffsetMinutes) is { } zone)
        {
            columns.StatedZone = zone;
            return LogDates.Axis(columns, day, time, options with { Zone = zone });
        }

        return axis;
    }

    // What the log says of its zone goes before what is usual on this machine.
    private static ReadOptions Zoned(LogColumns columns, ColumnRole time, ReadOptions options)
    {
        if (columns.Guide?.Zone is not null)
        {
            return options;
        }

        if ((StatedZone.Of(time.Header) ?? StatedZone.Of(columns.Single(ColumnMeaning.Date)?.Header)) is { } ofHeader)
        {
            columns.StatedZone = ofHeader;
            time.Why = $"{time.Why}; its header says that it is {ofHeader.Id}";
            return options with { Zone = ofHeader };
        }

        columns.StatedZone = StatedZone.Of(columns.Table.Around, out string? unread);
        columns.UnreadZone = columns.StatedZone is null ? unread : null;
        return columns.StatedZone is { } ofLine ? options with { Zone = ofLine } : options;
    }

    private static bool FailedCell(LogColumns columns)
    {
        ColumnRole? failed = columns.Roles.Where(role => role.IsUsed && role.Column.FailedLine > 0).MinBy(role => role.Column.FailedLine);
        if (failed is null)
        {
            return false;
        }

        string due = failed.Column.Shape == ColumnShape.Time ? "a time" : "a number";
        columns.Problems.Add(Refusals.Refuse(
            "not-a-number", failed.Column.FailedLine, failed.Column.Index + 1, $"\"{failed.Column.FailedText}\" where {due} is due", "correct that value, or clear it if there was no reading"));
        return true;
    }

    private static LogReading Describe(LogColumns columns, LogText text, Dialect dialect, TimeAxis? axis, LogLayout layout)
    {
        TableFrame frame = columns.Table.Frame;
        List<string> reasons =
        [
            text.IsLegacy ? "The bytes are not valid UTF-8, so the text is taken for Windows-1252." : $"The text is {text.EncodingName}.",
            $"Split at {dialect.DelimiterName}, every row has {frame.Width} fields.",
            $"Numbers are written with a {dialect.DecimalName}: only so do all of them fit.",
            frame.HasHeader ? $"The header ends on line {frame.FirstLine - 1}; samples begin on line {frame.FirstLine}." : $"There is no header; samples begin on line {frame.FirstLine} and the columns are told by their content.",
            .. columns.Reasons,
            .. columns.Guide is null ? [] : (string[])[$"A reading guide was applied{(columns.Guide.Name is null ? "" : $": {columns.Guide.Name}")}."],
        ];
        return new LogReading(
            dialect.Delimiter, dialect.DecimalMark, text.EncodingName, layout, axis?.Words ?? "unknown", Readings(columns), reasons);
    }

    // Several numbers in one field are one column of the log.
    private static List<ColumnReading> Readings(LogColumns columns) =>
    [
        .. columns.UsedUp.Concat(columns.Roles.GroupBy(role => role.Column.Index).Select(group =>
        {
            ColumnReading first = group.First().ToReading();
            return group.Count() == 1 ? first : first with
            {
                Header = columns.Table.Frame.Headers[group.Key],
                Meaning = first.Meaning == ColumnMeaning.CellVoltage && columns.UsedUp.Count == 0 ? ColumnMeaning.CellVoltages : first.Meaning,
                Cell = null,
                Why = columns.UsedUp.Count == 0 ? $"{group.Count()} numbers in each field; of the first: {first.Why}" : $"one cell a row; of the first: {first.Why}",
            };
        })).OrderBy(reading => reading.Index),
    ];

    private static List<SessionLog> Sessions(LogColumns columns, TimeAxis axis, SessionMap map, SampleSeries[] series, LogSource source, ReadOptions options)
    {
        List<string> around = columns.Table.Around;
        string? named = StartFinder.PackName(around);
        (DateTimeOffset start, TimeQuality quality, string why) = Start(columns, axis, around, source, options);
        columns.Reasons.Add(why);
        if (options.Started is { } given && start != given)
        {
            columns.Notice("started-unused", null, null, "a log that dates itself", "the start that you gave was not used; leave --started out, or correct the times in the log");
        }

        if (quality == TimeQuality.Inferred && !axis.HasOffset && columns.UnreadZone is { } unread)
        {
            columns.Notice("zone-unread", null, null, $"a time zone that is not understood, \"{Refusals.Snippet(unread)}\"", $"{options.Zone.Id} was taken; if that is not it, give one with --zone");
        }

        // A battery of the clock was empty, or nobody ever set it.
        if ((axis.IsAbsolute || columns.Dated is { IsAbsolute: true }) && (start.Year < FirstYear || start.Year > source.LastWritten.Year + 1))
        {
            columns.Notice("odd-date", 0, TimeColumn(columns), string.Create(System.Globalization.CultureInfo.InvariantCulture, $"a log of the year {start.Year}, in a file of {source.LastWritten.Year}: the clock may not have been set"), "it was kept as logged; if it is wrong, take the import back and correct the dates");
        }

        if (map.Count > 1)
        {
            columns.Reasons.Add($"The table holds {map.Count} sessions.");
        }

        var sessions = new List<SessionLog>();
        (int First, int Last)[] rows = map.Bounds();
        var anchors = new (DateTimeOffset Moment, decimal Seconds)[map.Count];
        DateTimeOffset next = start;
        DateTimeOffset end = start;
        for (int s = 0; s < map.Count; s++)
        {
            decimal first = SecondsAt(axis, rows[s].First);
            DateTimeOffset started;
            TimeQuality how = quality;

            // Packs that take turns were logged side by side.
            int beside = Array.FindLastIndex(rows, Math.Max(0, s - 1), s, earlier => rows[s].First < earlier.Last);
            if (s > 0 && columns.Dated is { } dated)
            {
                // A day alone says no more than that.
                DateTimeOffset said = start.AddTicks((long)((SecondsAt(dated, rows[s].First) - SecondsAt(dated, rows[0].First)) * TimeSpan.TicksPerSecond));
                started = dated.IsOfDays && said < next ? next : said;
            }
            else if (s > 0 && (axis.IsAbsolute || axis.IsTimeOfDay || beside >= 0 || first > SecondsAt(axis, rows[s - 1].Last)))
            {
                (DateTimeOffset moment, decimal at) = axis.IsAbsolute || axis.IsTimeOfDay ? anchors[0] : anchors[beside >= 0 ? beside : s - 1];
                started = moment.AddTicks((long)((first - at) * TimeSpan.TicksPerSecond));
                anchors[s] = (moment, at);
            }
            else
            {
                started = s == 0 ? start : end;
                anchors[s] = (started, first);
            }

            if (s > 0 && quality == TimeQuality.Exact && !axis.IsAbsolute && columns.Dated is null)
            {
                how = TimeQuality.Inferred;
            }

            decimal duration = series[s].Count > 0 ? SecondsAt(axis, rows[s].Last) - first : 0;
            next = started.AddTicks((long)(duration * TimeSpan.TicksPerSecond));
            end = next > end ? next : end;
            NoticeDoubledHour(columns, axis, quality, options.Zone, rows[s].First, started, next);
            sessions.Add(new SessionLog(started, how, map.Labels[s] ?? columns.Guide?.Pack ?? named, columns.Table.LineOf(rows[s].First), columns.Table.LastLineOf(rows[s].Last), series[s]));
        }

        // A file is written last when its log ends.
        TimeSpan back = quality == TimeQuality.FileDate ? end - source.LastWritten : TimeSpan.Zero;
        return back == TimeSpan.Zero ? sessions : [.. sessions.Select(session => session with { Started = session.Started - back })];
    }

    // A log that begins and ends within the hour that comes twice in autumn does not tell which of both it is.
    private static void NoticeDoubledHour(LogColumns columns, TimeAxis axis, TimeQuality quality, TimeZoneInfo zone, int row, DateTimeOffset started, DateTimeOffset ended)
    {
        if (quality == TimeQuality.Inferred && !axis.HasOffset && IsDoubled(started) && IsDoubled(ended) && !columns.Problems.Any(problem => problem.Code == "doubled-hour"))
        {
            string local = started.ToString("yyyy-MM-dd HH:mm", System.Globalization.CultureInfo.InvariantCulture);
            columns.Notice(
                "doubled-hour", row, null, $"a session at {local}, an hour that comes twice where clocks are set back ({zone.Id})",
                "the first of both was taken; if it was the second, take the import back ('packcare undo') and import again with an offset in place of the zone, for instance --zone Etc/GMT-1 for UTC+01:00");
        }

        bool IsDoubled(DateTimeOffset moment) => zone.IsAmbiguousTime(DateTime.SpecifyKind(moment.DateTime, DateTimeKind.Unspecified)) && moment.Offset > zone.GetUtcOffset(moment.UtcDateTime.AddHours(2));
    }

    private static decimal SecondsAt(TimeAxis axis, int row)
    {
        (long scaled, int places) = axis.At(row);
        int decimals = places + axis.Shift;
        decimal value = (decimal)scaled * axis.Multiplier;
        for (int i = 0; i < decimals; i++)
        {
            value /= 10;
        }

        return value;
    }

    private static (DateTimeOffset Start, TimeQuality Quality, string Why) Start(LogColumns columns, TimeAxis axis, List<string> around, LogSource source, ReadOptions options)
    {
        if (axis.IsAbsolute)
        {
            return (TimeAxis.Instant(SecondsAt(axis, 0), axis.FirstOffset), axis.HasOffset ? TimeQuality.Exact : TimeQuality.Inferred, axis.HasOffset
                ? "The log gives date, time and offset from UTC."
                : columns.StatedZone is { } stated ? $"The log gives date and time, and states the zone: {stated.Id}."
                : $"The log gives local date and time; the zone {options.Zone.Id} is assumed.");
        }

        if (columns.Dated is { IsAbsolute: true } dated)
        {
            return (TimeAxis.Instant(SecondsAt(dated, 0), dated.FirstOffset), dated.HasOffset ? TimeQuality.Exact : TimeQuality.Inferred, "The first row's date and time give the start.");
        }

        if (options.Started is { } given)
        {
            return (given, TimeQuality.Exact, "You gave the start.");
        }

        TimeAxis? ofDay = axis.IsTimeOfDay ? axis : columns.Dated;
        decimal clock = ofDay is null ? 0 : SecondsAt(ofDay, 0);
        if (StartFinder.TryLines(around, out TimeToken token) || StartFinder.TryName(source.Name, out token))
        {
            DateTime said = StartFinder.Local(token);
            DateTime local = ofDay is not null ? said.Date.AddTicks((long)(clock * TimeSpan.TicksPerSecond)) : said;
            TimeSpan offset = token.OffsetMinutes != TimeToken.NoOffset ? TimeSpan.FromMinutes(token.OffsetMinutes) : options.Zone.GetUtcOffset(local);
            return (new DateTimeOffset(local, offset), TimeQuality.Inferred, "The start is taken from the lines around the table or from the file's name.");
        }

        if (ofDay is not null)
        {
            DateTimeOffset written = TimeZoneInfo.ConvertTime(source.LastWritten, options.Zone);
            DateTime local = DateTime.SpecifyKind(written.Date, DateTimeKind.Unspecified).AddTicks((long)(clock * TimeSpan.TicksPerSecond));
            if (local > written.DateTime)
            {
                local = local.AddDays(-1);
            }

            return (new DateTimeOffset(local, options.Zone.GetUtcOffset(local)), TimeQuality.Inferred, "The log gives the time of day; the day is taken from the file's own date.");
        }

        return (source.LastWritten, TimeQuality.FileDate, "Nothing dates the log; it is taken to end when its file was last written.");
    }
}
