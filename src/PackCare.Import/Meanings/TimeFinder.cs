using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Lexing;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Finds the columns that tell the time.</summary>
internal static class TimeFinder
{
    /// <summary>2001 as seconds since 1970.</summary>
    internal const double UnixFrom = 978_307_200;

    // 2100.
    private const double UnixTo = 4_102_444_800;

    /// <summary>Gives the time columns their meaning.</summary>
    internal static void Find(LogColumns columns)
    {
        ColumnRole? stamp = null;
        ColumnRole? date = null;
        ColumnRole? clock = null;
        ColumnRole? elapsed = null;
        foreach (ColumnRole role in columns.Roles.Where(role => role.Column.Shape == ColumnShape.Time && role.Column.Present > 0 && !(StandsStill(role) && columns.Roles.Any(other => other != role && IsGoingOn(other))) && !BeginsAnewWithSteps(columns, role)))
        {
            switch (role.Column.TimeShape)
            {
                case TimeShape.DateAndTime when stamp is null:
                    role.Take(ColumnMeaning.Timestamp, Unit.None, null, "each field is a date with a time of day");
                    stamp = role;
                    break;
                case TimeShape.Date when date is null:
                    role.Take(ColumnMeaning.Date, Unit.None, null, "each field is a date");
                    date = role;
                    break;
                case TimeShape.ThreePart or TimeShape.TwoPart:
                    if (IsClock(role, date is not null || columns.Roles.Any(r => r.Column.TimeShape == TimeShape.Date)))
                    {
                        if (clock is null)
                        {
                            role.Take(ColumnMeaning.ClockTime, Unit.None, null, "each field is a time of day");
                            clock = role;
                        }
                    }
                    else if (elapsed is null)
                    {
                        role.Take(ColumnMeaning.ElapsedTime, role.Hint.Unit, null, "each field is a duration with colons, starting near zero or counting beyond a day");
                        elapsed = role;
                    }

                    break;
            }
        }

        ColumnRole? number = NumericTime(columns, stamp ?? clock ?? elapsed, stamp is null && clock is null && elapsed is null);
        if ((stamp ?? clock ?? elapsed ?? number ?? columns.Single(ColumnMeaning.Timestamp)) is { } time)
        {
            RefuseParts(columns, time);
        }
    }

    // The time since a step began, beside one that goes on from step to step.
    private static bool BeginsAnewWithSteps(LogColumns columns, ColumnRole role) => role.Column is { TimeShape: TimeShape.ThreePart or TimeShape.TwoPart, Profile: { Falls: > 0 } profile } && columns.Roles.Any(other => other != role && IsGoingOn(other)
        && ((NamesStep(role) && !NamesStep(other)) || (other.Column is { TimeShape: TimeShape.ThreePart or TimeShape.TwoPart } && other.Column.Profile.Falls < profile.Falls && !IsClock(role, hasDate: false) && !IsClock(other, hasDate: false))));

    private static bool NamesStep(ColumnRole role) => role.Header is { } header && Array.Exists(StepWords, word => header.Contains(word, StringComparison.OrdinalIgnoreCase));

    private static readonly string[] StepWords = ["step", "stage", "phase", "segment", "lap ", "schritt", "etape", "étape", "paso", "passo", "fase", "stap", "krok", "etap"];

    // The start of the log in every row, or when a clock was last set.
    private static bool StandsStill(ColumnRole role) => role.Column.TimeShape != TimeShape.Date && role.Column.Profile is { Count: > 2, Rises: 0 };

    private static bool IsGoingOn(ColumnRole role) => role.Column.Shape == ColumnShape.Time
        ? role.Column.Profile.Rises * 2 > role.Column.Profile.Count && role.Column.Profile.Falls * 6 < role.Column.Profile.Count
        : role is { Hint: { Quantity: Quantity.Elapsed or Quantity.Timestamp or Quantity.Clock, IsDerived: false }, Profile: { Count: > 2 } profile } && profile.Rises * 2 > profile.Count && profile.Falls * 6 < profile.Count && !SideBySide.NamesAnotherTime(role);

    private const long Minute = 60_000_000_000;

    private static bool IsClock(ColumnRole role, bool hasDate)
    {
        if (role.Hint.Quantity == Quantity.Clock)
        {
            return true;
        }

        long first = FirstNanoseconds(role.Column, out long largest);
        if (role.Hint.Unit is Unit.MinuteSecond || IsElapsedWord(role))
        {
            // No duration begins late in the day and falls to nought at its end: a clock does, whatever it is headed.
            return role.Hint.Unit is not Unit.MinuteSecond && role.Column is { TimeShape: TimeShape.ThreePart, Profile.Falls: 1 } && first >= 60 * Minute && largest is >= (24 * 60 * Minute) - (30 * Minute) and < 24 * 60 * Minute;
        }

        if (role.Column.TimeShape == TimeShape.TwoPart)
        {
            return hasDate || role.Hint.Unit == Unit.HourMinute;
        }

        return largest < 24 * 60 * Minute && (hasDate || first >= 60 * Minute);
    }

    private static bool IsElapsedWord(ColumnRole role)
    {
        string header = role.Header?.ToLowerInvariant() ?? "";
        return header.Contains("elapsed", StringComparison.Ordinal) || header.Contains("dauer", StringComparison.Ordinal) || header.Contains("laufzeit", StringComparison.Ordinal)
            || header.Contains("durat", StringComparison.Ordinal) || header.Contains("durée", StringComparison.Ordinal) || header.Contains("duur", StringComparison.Ordinal) || header.Contains("runtime", StringComparison.Ordinal);
    }

    private static long FirstNanoseconds(RawColumn column, out long largest)
    {
        long first = -1;
        largest = 0;
        long[] scaled = new long[Channel.BlockRows];
        foreach (SampleBlock block in column.Values)
        {
            BlockCodec.Decode(block, scaled);
            for (int i = 0; i < block.Count; i++)
            {
                if (scaled[i] != BlockCodec.Missing)
                {
                    first = first < 0 ? scaled[i] : first;
                    largest = Math.Max(largest, scaled[i]);
                }
            }
        }

        return first;
    }

    // A time that is spread over columns is neither the one nor the other.
    private static void RefuseParts(LogColumns columns, ColumnRole time)
    {
        foreach (ColumnRole role in columns.Roles.Where(role => role != time && role.Profile is { Count: > 2 } && !VoltageFinder.LooksLikeCell(role) && !NumbersCells(role)))
        {
            bool isFraction = (!role.IsUsed || role.Meaning == ColumnMeaning.ElapsedTime) && role.Hint.Quantity is Quantity.Unknown or Quantity.Elapsed && SideBySide.IsPartOf(time, role);
            bool isWhole = time.Profile is { Max: < 60 } && time.Column.MaxDecimals == 0 && role.Column.MaxDecimals == 0 && role.Hint.Quantity is Quantity.Unknown or Quantity.Elapsed && SideBySide.IsPartOf(role, time);
            if (isFraction || isWhole)
            {
                columns.Refuse(
                    "ambiguous-time", 0, role, $"a time in parts: column {(isFraction ? role : time).Column.Index + 1} begins anew with each step of column {(isFraction ? time : role).Column.Index + 1}",
                    "write the time in one column, for instance 00:01:30.250");
                return;
            }
        }
    }

    // 1, 2, 3, 4 and again, at each moment.
    private static bool NumbersCells(ColumnRole role) =>
        role is { Column.MaxDecimals: 0, Profile: { Min: 1, First: 1, Max: >= 2 and <= VoltageFinder.MostCells } profile } && profile.Falls * profile.Max <= profile.Count && profile.Falls * profile.Max >= 0.8 * (profile.Count - profile.Max) && profile.Rises + profile.Falls == profile.Count - 1;

    // A header that is a unit of time and nothing else: over a column that does not go on as a time does, it means something else, as "min" beside "max".
    private static bool IsUnitAlone(ColumnRole role) => role.Header is { } header && UnitMarks.QuantityOf(UnitMarks.Parse(header)) == Quantity.Elapsed;

    private static bool HardlyFalls(NumberProfile profile) => profile.Falls <= 1 || profile.Falls * 20 <= profile.Rises;

    private static bool GoesOn(NumberProfile profile) => HardlyFalls(profile) && profile.Rises * 2 >= profile.Count - 1;

    private static ColumnRole? NumericTime(LogColumns columns, ColumnRole? clock, bool needed)
    {
        List<ColumnRole> numbers = [.. columns.Roles.Where(role => role.Profile is { Count: > 0 })];
        ColumnRole? unix = numbers.FirstOrDefault(role => IsUnix(role, out _) && (role.Hint.Quantity is Quantity.Unknown or Quantity.Elapsed or Quantity.Timestamp or Quantity.Clock or Quantity.Date || (NamesDateAndTime(role) && role.Profile!.Rises > 0)));
        List<ColumnRole> hinted = [.. numbers.Where(role => role != unix && role.Hint is { Quantity: Quantity.Elapsed or Quantity.Timestamp or Quantity.Clock, IsBare: false } && !IsUnitAlone(role))];
        if (clock is null && unix is null)
        {
            hinted.AddRange(numbers.Where(role => (role.Hint.Quantity == Quantity.Date || NamesDateAndTime(role)) && LooksLikeSerialDates(role)));
        }

        if (hinted.Count == 0)
        {
            // Where a column numbers cells or names packs, the time stands still meanwhile.
            bool takesTurns = columns.Roles.Any(role => role.Hint is { Quantity: Quantity.CellNumber or Quantity.PackLabel });
            hinted = [.. numbers.Where(role => role != unix && role.Hint is { Quantity: Quantity.Elapsed or Quantity.Timestamp, IsBare: true, Number: null } && (GoesOn(role.Profile!) || (takesTurns && HardlyFalls(role.Profile!))))];
        }

        // Only where nothing else is headed as a time that goes on.
        List<ColumnRole> units = [.. numbers.Where(role => role != unix && role.Hint.Quantity is Quantity.Elapsed && IsUnitAlone(role))];
        if (hinted.Count == 0 || units.Exists(role => GoesOn(role.Profile!)) && !hinted.Exists(role => GoesOn(role.Profile!)))
        {
            hinted.AddRange(units.Where(role => role.Profile!.Rises > 0 || units.Count == 1));
        }

        if (numbers.FirstOrDefault(role => role.Profile!.Min > UnixFrom * 1e6 && role.Hint.Quantity is Quantity.Unknown or Quantity.Elapsed or Quantity.Timestamp or Quantity.Clock) is { } fine)
        {
            columns.Refuse("time-form", 0, fine, "a time that could be micro- or nanoseconds since 1970", "write it in seconds or milliseconds since 1970, or as 2026-03-14 09:30:00");
            return null;
        }

        if (unix is not null && columns.Single(ColumnMeaning.Timestamp) is null)
        {
            IsUnix(unix, out bool milliseconds);
            unix.Take(ColumnMeaning.Timestamp, milliseconds ? Unit.Millisecond : Unit.Second, null, $"{(milliseconds ? "milliseconds" : "seconds")} since 1970: the values lie in this century and rise");
        }

        // What does not run along with the clock beside it, or rises less steadily than another, is no time of the row.
        if ((clock ?? columns.Single(ColumnMeaning.Timestamp)) is { } beside)
        {
            foreach (ColumnRole other in hinted.Where(role => role.Hint is not { Quantity: Quantity.Timestamp, Unit: Unit.Day } && !SideBySide.RunsAlong(beside, role)).ToList())
            {
                other.Why = $"it does not run along with the time in column {beside.Column.Index + 1}; left out";
                hinted.Remove(other);
            }
        }
        else if (hinted.Count > 1)
        {
            List<ColumnRole> steady = [.. hinted.Where(role => role.Profile!.Rises > role.Profile.Falls && !SideBySide.NamesAnotherTime(role))];
            int fewest = steady.Count == 0 ? 0 : steady.Min(role => role.Profile!.Falls);
            hinted = steady.Count == 0 ? hinted : [.. steady.Where(role => role.Profile!.Falls == fewest)];
        }

        ColumnRole? chosen = hinted.FirstOrDefault(role => role.Hint.Unit != Unit.None && role.Profile!.Rises > 0) ?? hinted.FirstOrDefault(role => role.Profile!.Rises > 0) ?? hinted.FirstOrDefault();
        if (chosen is { Hint: { Quantity: Quantity.Timestamp, Unit: Unit.Day } } || (chosen is { Hint: { Quantity: Quantity.Timestamp or Quantity.Date, Unit: Unit.None } } && AreSerialDates(chosen)))
        {
            chosen.Take(ColumnMeaning.Timestamp, Unit.Day, null, "days since 1899-12-30, as spreadsheets count them");
            return null;
        }

        if (chosen is not null)
        {
            columns.MayBeClockDigits = (chosen.Hint.Unit == Unit.None && LooksLikeClockDigits(chosen)) || (chosen.Hint.Unit == Unit.Second && LooksLikeClockDigits(chosen) && IsEvenAsClockOnly(chosen));
            chosen.Take(ColumnMeaning.ElapsedTime, chosen.Hint.Unit, null, $"its header names a time{(chosen.Hint.Unit != Unit.None ? " in " + UnitMarks.Symbol(chosen.Hint.Unit) : "")}");
            return chosen;
        }

        if (!needed || unix is not null)
        {
            return null;
        }

        // Without a header: the column that rises with nearly each row, never falls, or begins anew now and then.
        List<ColumnRole> rises = [.. numbers.Where(role => role.Hint.Quantity == Quantity.Unknown
            && ((role.Profile is { Falls: 0, Missing: 0, Min: >= 0 } p && p.Rises >= 0.9 * (p.Count - 1) && p.Count > 1) || (!columns.Table.Frame.HasHeader && BeginsAnew(role))))];
        if (rises.Any(role => !VoltageFinder.LooksLikeCell(role)))
        {
            rises.RemoveAll(VoltageFinder.LooksLikeCell);
        }

        // Dates as spreadsheets count them, beside row numbers and counters; "zork_min" is minutes as well as the lowest of something.
        if (rises.Find(role => role.Column.MaxDecimals >= 5 && LooksLikeSerialDates(role)) is { } serial)
        {
            rises = [serial];
        }
        else if (rises.Count > 0 && numbers.Find(role => role is { IsUsed: false, Hint: { IsDerived: true, IsCell: false, IsPack: false }, Header: not null, Profile: { Falls: 0, Missing: 0, Count: > 2 } profile } && profile.Rises == profile.Count - 1
            && !VoltageFinder.LooksLikeCell(role) && UnitMarks.QuantityOf(UnitMarks.Parse(role.Header.Split(' ', '_', '-')[^1])) == Quantity.Elapsed) is { } minutes)
        {
            columns.Refuse("ambiguous-time", 0, minutes, $"columns {rises[0].Column.Index + 1} and {minutes.Column.Index + 1} could both be the time", "name the columns in a header, for instance time_min");
            return null;
        }

        if (rises.Count > 1)
        {
            HashSet<ColumnRole> sums = VoltageFinder.SumsOfCells(columns);
            rises.RemoveAll(sums.Contains);
            numbers.RemoveAll(sums.Contains);
        }

        // A counter stands still while the pack rests; a clock does not, but for its last digit.
        rises.RemoveAll(rises.Exists(role => role.Profile!.Rises == role.Profile.Count - 1)
            ? role => role.Profile!.Falls == 0 && role.Profile.Rises < role.Profile.Count - 1
            : role => role.Profile!.Falls == 0 && LongestStand(role) > MostStanding);
        ColumnRole? rising = rises.Count > 1 ? RisingTime.Choose(columns, rises, numbers) : rises.FirstOrDefault();
        if (columns.IsRefused)
        {
            return null;
        }

        rising ??= columns.Table.Frame.HasHeader ? null : numbers.FirstOrDefault(role => role.Column.Index == 0 && role.Profile is { Count: 1, Min: >= 0 });
        rising ??= columns.Table.Rows > 1 ? TurnTaking.StandingTime(columns, numbers) : null;
        columns.MayBeClockDigits = rising is not null && LooksLikeClockDigits(rising);
        rising?.Take(ColumnMeaning.ElapsedTime, Unit.None, null, rises.Count > 1 ? "several columns rise with each row; only over this one does a charge counter add up" : "the column whose values rise with each row and never fall");
        return rising;
    }

    private const int MostStanding = 3;

    private static int LongestStand(ColumnRole role)
    {
        int longest = 0;
        int stands = 0;
        double last = double.NaN;
        for (int b = 0; b < role.Values.Count; b++)
        {
            foreach (double value in LogColumns.Values(role, b, 1))
            {
                stands = value == last ? stands + 1 : 0;
                longest = Math.Max(longest, stands);
                last = value;
            }
        }

        return longest;
    }

    // 100358, 100359, 100400: as seconds it jumps at each full minute, as hhmmss it runs on evenly.
    private static bool LooksLikeClockDigits(ColumnRole role)
    {
        if (role.Column.MaxDecimals > 0 || role.Profile is not { Min: >= 0, Max: > 100 and < 240_000, Falls: 0 })
        {
            return false;
        }

        double largestRaw = 0;
        double largestClock = 0;
        double previousRaw = double.NaN;
        double previousClock = double.NaN;
        for (int b = 0; b < role.Values.Count; b++)
        {
            foreach (double value in LogColumns.Values(role, b, 1))
            {
                double minutes = Math.Floor(value / 100) % 100;
                if (value % 100 >= 60 || minutes >= 60)
                {
                    return false;
                }

                double clock = (Math.Floor(value / 10_000) * 3600) + (minutes * 60) + (value % 100);
                largestRaw = Math.Max(largestRaw, value - previousRaw is var raw && double.IsNaN(raw) ? 0 : raw);
                largestClock = Math.Max(largestClock, clock - previousClock is var step && double.IsNaN(step) ? 0 : step);
                previousRaw = value;
                previousClock = clock;
            }
        }

        return largestRaw >= largestClock + 40;
    }

    // Seconds by the header: only where they jump at each full minute, and as hhmmss go on evenly.
    private static bool IsEvenAsClockOnly(ColumnRole role)
    {
        double[] raw = LogColumns.Values(role, 0, 1);
        double[] clock = [.. raw.Select(value => (Math.Floor(value / 10_000) * 3600) + (Math.Floor(value / 100) % 100 * 60) + (value % 100))];
        double[] steps = [.. clock.Skip(1).Zip(clock, (next, value) => next - value)];
        double[] rawSteps = [.. raw.Skip(1).Zip(raw, (next, value) => next - value)];
        double longest = steps.Length == 0 ? 0 : steps.Max();
        return steps.Length > 2 && longest <= (1.2 * steps.Min()) + 2 && rawSteps.Count(step => step > longest + 30) >= 3 && rawSteps.Min() < rawSteps.Max() - 30;
    }

    // An elapsed clock of several sessions: it rises with each row, and the few times it falls it goes back to where it began.
    private static bool BeginsAnew(ColumnRole role)
    {
        if (role.Hint.Quantity != Quantity.Unknown || role.Profile is not { Missing: 0, Min: >= 0, Falls: > 0 } profile || profile.Falls * 6 > profile.Count || profile.Rises + profile.Falls != profile.Count - 1)
        {
            return false;
        }

        double previous = double.NaN;
        for (int b = 0; b < role.Values.Count; b++)
        {
            foreach (double value in LogColumns.Values(role, b, 1))
            {
                if (value < previous && value != profile.First)
                {
                    return false;
                }

                previous = value;
            }
        }

        return true;
    }

    // "dt" is a difference of times, or date and time.
    private static bool NamesDateAndTime(ColumnRole role) => role.Header?.Trim() is "dt" or "DT" or "Dt";

    /// <summary>Whether numbers could be days since 1899-12-30 in this century, with the time of day as their fraction.</summary>
    internal static bool LooksLikeSerialDates(ColumnRole role) =>
        role is { Profile: { Min: > 36_526, Max: < 73_050 }, Column.MaxDecimals: >= 4 } && (role.Profile.LargestStep < 1 || role is { Hint.Quantity: Quantity.Date or Quantity.Timestamp, Column.MaxDecimals: >= 5 });

    // The same beyond doubt under a header that names a date: as seconds they would follow each other faster than any pack is logged.
    private static bool AreSerialDates(ColumnRole role)
    {
        const int FinestDecimals = 5;
        const double MostDays = 0.02;
        double[] days = LogColumns.Values(role, 0, 1);
        double[] steps = [.. days.Skip(1).Zip(days, (next, day) => next - day).Where(step => step > 0)];
        return LooksLikeSerialDates(role) && role.Column.MaxDecimals >= FinestDecimals && steps.Length > 1 && Selection.At(steps, steps.Length / 2) < MostDays;
    }

    private static bool IsUnix(ColumnRole role, out bool milliseconds)
    {
        NumberProfile profile = role.Profile!;
        milliseconds = profile.Min > UnixFrom * 1000 && profile.Max < UnixTo * 1000;
        return milliseconds || (profile.Min > UnixFrom && profile.Max < UnixTo);
    }
}
