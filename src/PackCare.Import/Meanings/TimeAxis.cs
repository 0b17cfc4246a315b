using PackCare.Core.Samples;
using PackCare.Import.Lexing;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>The time of every row, exact, in seconds.</summary>
internal sealed class TimeAxis
{
    /// <summary>What absolute seconds are counted from.</summary>
    internal static readonly DateTimeOffset Epoch = new(2000, 1, 1, 0, 0, 0, TimeSpan.Zero);

    private const long NanosecondsAnHour = 3_600_000_000_000;
    private const long NanosecondsADay = 86_400_000_000_000;

    private BlockCursor? _cursor;

    /// <summary>Values that give seconds when multiplied and shifted.</summary>
    internal required IReadOnlyList<SampleBlock> Blocks { get; init; }

    /// <summary>How many decimals more a value has in seconds.</summary>
    internal int Shift { get; init; }

    /// <summary>What a value is multiplied by to give seconds.</summary>
    internal long Multiplier { get; init; } = 1;

    /// <summary>Whether seconds count from <see cref="Epoch"/>; otherwise from a start that must be found elsewhere.</summary>
    internal bool IsAbsolute { get; init; }

    /// <summary>Whether seconds count from the midnight before the first row.</summary>
    internal bool IsTimeOfDay { get; init; }

    /// <summary>Whether days are all that is known of the moments.</summary>
    internal bool IsOfDays { get; init; }

    /// <summary>Whether the log itself gives the offset from UTC.</summary>
    internal bool HasOffset { get; init; }

    /// <summary>The offset of the first row, for showing times as the log does.</summary>
    internal TimeSpan FirstOffset { get; init; }

    /// <summary>How time is given, in words.</summary>
    internal required string Words { get; init; }

    /// <summary>One value before it is multiplied and shifted, and its decimals.</summary>
    internal (long Scaled, int Decimals) At(int row) => (_cursor ??= new BlockCursor(Blocks)).At(row);

    /// <summary>One row as seconds, as the whole block would have it.</summary>
    internal double SecondsAt(int row)
    {
        (long scaled, int decimals) = At(row);
        return scaled == BlockCodec.Missing ? double.NaN : scaled / (Math.Pow(10, decimals) / (Multiplier / Math.Pow(10, Shift)));
    }

    /// <summary>One block as seconds.</summary>
    internal double[] Seconds(int block) => Seconds(block, Blocks[block].Count);

    /// <summary>The first rows of one block as seconds.</summary>
    internal double[] Seconds(int block, int rows)
    {
        var seconds = new double[rows];
        Seconds(block, seconds);
        return seconds;
    }

    /// <summary>One block as seconds, into an array that is there already.</summary>
    internal void Seconds(int block, double[] into) => LogColumns.Read(Blocks[block], Multiplier / Math.Pow(10, Shift), into);

    /// <summary>Time from a column of numbers.</summary>
    internal static TimeAxis FromNumbers(RawColumn column, Unit unit)
    {
        (long multiplier, int shift) = unit switch
        {
            Unit.Millisecond => (1L, 3),
            Unit.Microsecond => (1L, 6),
            Unit.Minute => (60L, 0),
            Unit.Hour => (3600L, 0),
            Unit.Day => (86_400L, 0),
            _ => (1L, 0),
        };
        string words = unit switch
        {
            Unit.Millisecond => "elapsed milliseconds",
            Unit.Microsecond => "elapsed microseconds",
            Unit.Minute => "elapsed minutes",
            Unit.Hour => "elapsed hours",
            Unit.Day => "elapsed days",
            _ => "elapsed seconds",
        };
        return new TimeAxis { Blocks = column.Values, Multiplier = multiplier, Shift = shift, Words = words };
    }

    /// <summary>Time from seconds or milliseconds since 1970.</summary>
    internal static TimeAxis FromUnixTime(RawColumn column, bool milliseconds)
    {
        var writer = new ChannelWriter(ChannelKey.Time);
        long epoch = Epoch.ToUnixTimeSeconds();
        long[] scaled = new long[Channel.BlockRows];
        foreach (SampleBlock block in column.Values)
        {
            int decimals = BlockCodec.Decode(block, scaled) + (milliseconds ? 3 : 0);
            long shift = epoch * (long)Math.Pow(10, decimals);
            for (int i = 0; i < block.Count; i++)
            {
                if (scaled[i] == BlockCodec.Missing || !writer.TryAppend(scaled[i] - shift, decimals))
                {
                    writer.AppendMissing();
                }
            }
        }

        return new TimeAxis { Blocks = writer.ToChannel().Blocks, IsAbsolute = true, HasOffset = true, Words = milliseconds ? "milliseconds since 1970, UTC" : "seconds since 1970, UTC" };
    }

    /// <summary>Time from days since 1899-12-30, local time, as spreadsheets count them.</summary>
    /// <remarks>Rounded to what the digits of a day can tell: whole seconds up to five decimals, milliseconds from eight on.</remarks>
    internal static TimeAxis FromSerialDates(RawColumn column, TimeZoneInfo zone)
    {
        const decimal epochDay = 36_526;
        var writer = new ChannelWriter(ChannelKey.Time);
        long[] scaled = new long[Channel.BlockRows];
        long previousSecond = long.MinValue;
        long previousOffset = long.MinValue;
        TimeSpan? firstOffset = null;
        foreach (SampleBlock block in column.Values)
        {
            int decimals = BlockCodec.Decode(block, scaled);
            int kept = Math.Clamp(column.MaxDecimals - 5, 0, 3);
            decimal unit = (decimal)Math.Pow(10, kept);
            for (int i = 0; i < block.Count; i++)
            {
                if (scaled[i] == BlockCodec.Missing)
                {
                    writer.AppendMissing();
                    continue;
                }

                decimal day = scaled[i] / (decimal)Math.Pow(10, decimals);
                decimal seconds = Math.Round((day - epochDay) * 86_400, kept, MidpointRounding.ToEven);
                long offset = OffsetOf(zone, (long)Math.Floor(seconds), previousSecond, ref previousOffset);
                firstOffset ??= TimeSpan.FromSeconds(offset);
                previousSecond = (long)Math.Floor(seconds) - offset;
                writer.TryAppend((long)((seconds - offset) * unit), kept);
            }
        }

        return new TimeAxis { Blocks = writer.ToChannel().Blocks, IsAbsolute = true, FirstOffset = firstOffset ?? TimeSpan.Zero, Words = "days since 1899-12-30, local time" };
    }

    /// <summary>Time from a column of durations.</summary>
    /// <param name="column">Durations in minutes and seconds, or hours, minutes and seconds.</param>
    /// <param name="hoursAndMinutes">Whether two parts are hours and minutes.</param>
    /// <param name="timeOfDay">Whether they are times of day and may pass midnight.</param>
    internal static TimeAxis FromClock(RawColumn column, bool hoursAndMinutes, bool timeOfDay)
    {
        var writer = new ChannelWriter(ChannelKey.Time);
        long[] scaled = new long[Channel.BlockRows];
        long divisor = (long)Math.Pow(10, 9 - column.FractionDigits);
        long multiplier = hoursAndMinutes ? 60 : 1;
        long days = 0;
        long hours = 0;
        long step = 0;
        long previous = long.MinValue;
        foreach (SampleBlock block in column.Values)
        {
            BlockCodec.Decode(block, scaled);
            for (int i = 0; i < block.Count; i++)
            {
                if (scaled[i] == BlockCodec.Missing)
                {
                    writer.AppendMissing();
                    continue;
                }

                long value = scaled[i] * multiplier;

                // A display of minutes and seconds begins anew with each hour.
                bool isHour = !timeOfDay && !hoursAndMinutes && column.TimeShape == TimeShape.TwoPart && step > 0 && previous < NanosecondsAnHour && Math.Abs(value + NanosecondsAnHour - previous - step) <= step / 2;
                hours += isHour ? 1 : 0;
                step = previous == long.MinValue ? 0 : value - previous + (isHour ? NanosecondsAnHour : 0);
                if (timeOfDay && previous != long.MinValue && previous - value > NanosecondsADay / 2)
                {
                    days++;
                }

                previous = value;
                writer.TryAppend((value + (days * NanosecondsADay) + (hours * NanosecondsAnHour)) / divisor, column.FractionDigits);
            }
        }

        string parts = column.TimeShape == TimeShape.TwoPart ? (hoursAndMinutes ? "hh:mm" : "mm:ss") : "hh:mm:ss";
        return new TimeAxis { Blocks = writer.ToChannel().Blocks, IsTimeOfDay = timeOfDay, Words = timeOfDay ? $"time of day {parts}" : $"elapsed {parts}" };
    }

    /// <summary>Time from dates and times of day.</summary>
    /// <param name="dates">The column with the date.</param>
    /// <param name="clock">The column with the time of day; may be the same.</param>
    /// <param name="dayFirst">The order of day and month where the writing leaves it open.</param>
    /// <param name="zone">The zone in which times without an offset are meant.</param>
    /// <param name="problem">A row without an offset among rows with one, or an impossible date.</param>
    internal static TimeAxis? FromDates(RawColumn dates, RawColumn clock, bool dayFirst, TimeZoneInfo zone, out (int Row, string Found)? problem)
    {
        problem = null;
        var writer = new ChannelWriter(ChannelKey.Time);
        long[] date = new long[Channel.BlockRows];
        long[] time = new long[Channel.BlockRows];
        long[] offset = new long[Channel.BlockRows];
        int digits = clock.FractionDigits;
        long divisor = (long)Math.Pow(10, 9 - digits);
        bool sameColumn = ReferenceEquals(dates, clock);
        long clockFactor = !sameColumn && clock.TimeShape == TimeShape.TwoPart ? 60 : 1;
        bool? hasOffset = null;
        TimeSpan firstOffset = TimeSpan.Zero;
        long lastDate = -1;
        DateTime day = default;
        long previousSecond = long.MinValue;
        long previousOffset = long.MinValue;
        long localBefore = long.MinValue;
        long localStep = 0;
        long offsetBefore = 0;
        int row = 0;
        for (int b = 0; b < clock.Values.Count; b++)
        {
            BlockCodec.Decode(dates.Dates[b], date);
            BlockCodec.Decode(clock.Values[b], time);
            BlockCodec.Decode(sameColumn ? clock.Offsets[b] : clock.Values[b], offset);
            for (int i = 0; i < clock.Values[b].Count; i++, row++)
            {
                if (time[i] == BlockCodec.Missing || date[i] == BlockCodec.Missing)
                {
                    writer.AppendMissing();
                    continue;
                }

                if (date[i] != lastDate)
                {
                    if (!TryDay(date[i], dates.OrderKnown, dayFirst, out day))
                    {
                        problem = (row, "a date that does not exist");
                        return null;
                    }

                    if (lastDate > 0 && lastDate / 10_000 == date[i] / 10_000 && lastDate / 100 % 100 == date[i] % 100 && lastDate % 100 == date[i] / 100 % 100
                        && (time[i] * clockFactor / 1_000_000_000) - (localBefore % 86_400) is >= 0 and < 3600)
                    {
                        problem = (row, "a date with day and month exchanged against the row before, while the time of day goes on");
                        return null;
                    }

                    lastDate = date[i];
                }

                bool offsetHere = sameColumn && offset[i] != BlockCodec.Missing;
                hasOffset ??= offsetHere;
                if (hasOffset != offsetHere)
                {
                    problem = (row, "times with and without an offset in one column");
                    return null;
                }

                long nanoseconds = time[i] * clockFactor;
                long daySeconds = (long)(day - Epoch.DateTime).TotalSeconds;
                long wholeSeconds = daySeconds + (nanoseconds / 1_000_000_000);
                long fraction = (nanoseconds % 1_000_000_000) / divisor;
                long offsetSeconds = offsetHere ? offset[i] * 60 : OffsetOf(zone, wholeSeconds, previousSecond, ref previousOffset);
                if (previousSecond == long.MinValue)
                {
                    firstOffset = TimeSpan.FromSeconds(offsetSeconds);
                }

                if (!offsetHere && offsetBefore - offsetSeconds is > 0 and var setBack && wholeSeconds > localBefore && wholeSeconds - localBefore <= Math.Max(2 * localStep, 1) && localStep > 0)
                {
                    problem = (row, $"a clock that goes on by {wholeSeconds - localBefore} s where clocks were set back by {setBack / 60} min: it was not, so it does not keep the time of {zone.Id}; log the offset from UTC, or give one with --zone, for instance Etc/GMT-1");
                    return null;
                }

                if (!offsetHere && localStep > 0 && offsetSeconds - offsetBefore is > 0 and var setOn && wholeSeconds > localBefore && wholeSeconds - localBefore <= Math.Max(2 * localStep, 1))
                {
                    problem = (row, $"a clock that goes on by {wholeSeconds - localBefore} s where clocks were set forward by {setOn / 60} min: it was not, so it does not keep the time of {zone.Id}; log the offset from UTC, or give one with --zone, for instance Etc/GMT-1");
                    return null;
                }

                (localStep, localBefore, offsetBefore) = (localBefore == long.MinValue ? 0 : wholeSeconds - localBefore, wholeSeconds, offsetSeconds);
                wholeSeconds -= offsetSeconds;
                previousSecond = wholeSeconds;
                writer.TryAppend((wholeSeconds * (long)Math.Pow(10, digits)) + fraction, digits);
            }
        }

        return new TimeAxis
        {
            Blocks = writer.ToChannel().Blocks,
            IsAbsolute = true,
            HasOffset = hasOffset == true,
            IsOfDays = sameColumn && dates.TimeShape == TimeShape.Date,
            FirstOffset = firstOffset,
            Words = hasOffset == true ? "date and time with offset from UTC" : "date and local time",
        };
    }

    private static bool TryDay(long code, bool orderKnown, bool dayFirst, out DateTime day)
    {
        int year = (int)(code / 10_000);
        int first = (int)(code / 100 % 100);
        int second = (int)(code % 100);
        (int month, int dayOfMonth) = !orderKnown && dayFirst ? (second, first) : (first, second);
        if (month is < 1 or > 12 || dayOfMonth < 1 || dayOfMonth > DateTime.DaysInMonth(year, month))
        {
            day = default;
            return false;
        }

        day = new DateTime(year, month, dayOfMonth, 0, 0, 0, DateTimeKind.Unspecified);
        return true;
    }

    // In the hour that comes twice in autumn the first that does not step back is meant.
    private static long OffsetOf(TimeZoneInfo zone, long localSeconds, long previousUtc, ref long previousOffset)
    {
        DateTime local = Epoch.DateTime.AddSeconds(localSeconds);
        local = DateTime.SpecifyKind(local, DateTimeKind.Unspecified);
        long offset;
        if (zone.IsAmbiguousTime(local))
        {
            long[] offsets = [.. zone.GetAmbiguousTimeOffsets(local).Select(o => (long)o.TotalSeconds).OrderDescending()];
            offset = offsets.FirstOrDefault(o => previousUtc == long.MinValue || localSeconds - o >= previousUtc, offsets[^1]);
            if (previousOffset != long.MinValue && offsets.Contains(previousOffset) && localSeconds - previousOffset >= previousUtc)
            {
                offset = previousOffset;
            }
        }
        else
        {
            offset = (long)zone.GetUtcOffset(local).TotalSeconds;
        }

        previousOffset = offset;
        return offset;
    }

    /// <summary>The reading of an instant from absolute seconds.</summary>
    internal static DateTimeOffset Instant(decimal seconds, TimeSpan offset) =>
        Epoch.AddTicks((long)(seconds * TimeSpan.TicksPerSecond)).ToOffset(offset);
}
