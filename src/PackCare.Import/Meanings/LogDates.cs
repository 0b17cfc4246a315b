using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Guides;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>What the columns of dates and times of day say, be it instead of an elapsed time or beside it.</summary>
internal static class LogDates
{
    /// <summary>The moments that stand beside an elapsed time, for where sessions begin: of date and time, of a time of day alone, or of a day alone; null where there are none.</summary>
    /// <param name="columns">The columns, with their meanings; refused where the order of day and month is open.</param>
    /// <param name="options">The zone of times without an offset.</param>
    internal static TimeAxis? Beside(LogColumns columns, ReadOptions options)
    {
        ColumnRole? stamp = Whole(columns, ColumnMeaning.Timestamp);
        if (stamp is { Profile: not null })
        {
            return TimeAxis.FromUnixTime(stamp.Column, stamp.Unit == Unit.Millisecond);
        }

        ColumnRole? clock = Whole(columns, ColumnMeaning.ClockTime);
        ColumnRole? date = stamp ?? Whole(columns, ColumnMeaning.Date);
        if (date is not null && options.Started is not null && OrderOf(date, columns.Guide) == RawDates.Open)
        {
            return null;
        }

        return date is not null ? Axis(columns, date, stamp ?? clock ?? date, options)
            : clock is not null ? TimeAxis.FromClock(clock.Column, clock.Column.TimeShape == Lexing.TimeShape.TwoPart, timeOfDay: true)
            : null;
    }

    private static ColumnRole? Whole(LogColumns columns, ColumnMeaning meaning) => columns.Single(meaning) is { Column: { Present: > 0, FailedLine: 0 } column } role && column.Present == columns.Table.Rows ? role : null;

    /// <summary>Moments from dates and times of day.</summary>
    /// <param name="columns">Refused where a date is impossible, or the order of day and month open.</param>
    /// <param name="date">The dates.</param>
    /// <param name="time">The times of day; may be the same column.</param>
    /// <param name="options">The zone of times without an offset.</param>
    internal static TimeAxis? Axis(LogColumns columns, ColumnRole date, ColumnRole time, ReadOptions options)
    {
        RawDates order = OrderOf(date, columns.Guide);
        if (order == RawDates.Open)
        {
            columns.Refuse(
                "ambiguous-date", 0, date, $"dates whose day and month could be either way round: {EitherWay(date.Column)}",
                "write the year first, or say which in a reading guide: \"dateOrder\": \"day-first\" or \"month-first\"");
            return null;
        }

        TimeAxis? axis = TimeAxis.FromDates(date.Column, time.Column, order == RawDates.DayFirst, options.Zone, out (int Row, string Found)? problem);
        if (problem is { } found)
        {
            columns.Refuse("bad-date", found.Row, date, found.Found, "correct that line");
        }
        else if (!date.Column.OrderKnown)
        {
            date.Why = $"{date.Why}; {(order == RawDates.DayFirst ? "the day" : "the month")} comes first, {(columns.Guide?.DayFirst is null ? "for one part exceeds 12" : "as the guide says")}";
        }

        return axis;
    }

    // "3 April or 4 March 2026".
    private static string EitherWay(RawColumn column)
    {
        long[] dates = new long[column.Dates[0].Count];
        BlockCodec.Decode(column.Dates[0], dates);
        long date = dates.FirstOrDefault(one => one != BlockCodec.Missing && one / 100 % 100 != one % 100);
        (int year, int one, int other) = ((int)(date / 10_000), (int)(date / 100 % 100), (int)(date % 100));
        return $"{one} {Month(other)} or {other} {Month(one)} {year}";

        static string Month(int month) => System.Globalization.CultureInfo.InvariantCulture.DateTimeFormat.GetMonthName(Math.Clamp(month, 1, 12));
    }

    private enum RawDates
    {
        Open,
        DayFirst,
        MonthFirst,
    }

    private static RawDates OrderOf(ColumnRole date, ReadingGuide? guide)
    {
        if (date.Column.OrderKnown)
        {
            return RawDates.MonthFirst;
        }

        if (guide?.DayFirst is bool said)
        {
            return said ? RawDates.DayFirst : RawDates.MonthFirst;
        }

        bool dayFirst = date.Column.MaxSecond <= 12;
        bool monthFirst = date.Column.MaxFirst <= 12;
        return dayFirst && monthFirst && IsSameEitherWay(date.Column) ? RawDates.DayFirst
            : dayFirst == monthFirst ? RawDates.Open : dayFirst ? RawDates.DayFirst : RawDates.MonthFirst;
    }

    // The fourth of April is written alike both ways.
    private static bool IsSameEitherWay(RawColumn column)
    {
        long[] dates = new long[Channel.BlockRows];
        foreach (SampleBlock block in column.Dates)
        {
            BlockCodec.Decode(block, dates);
            for (int i = 0; i < block.Count; i++)
            {
                if (dates[i] != BlockCodec.Missing && dates[i] / 100 % 100 != dates[i] % 100)
                {
                    return false;
                }
            }
        }

        return true;
    }
}
