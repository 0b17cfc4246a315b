using PackCare.Import.Lexing;

namespace PackCare.Import.Meanings;

/// <summary>Holds a column in a unit of time against the dates or times of day beside it: an interval, a limit or a countdown is no time of the row.</summary>
internal static class SideBySide
{
    private const double SecondsADay = 86_400;

    // Of the pace, between one half of a log and the other.
    private const double MostUneven = 0.2;

    // Seconds, milliseconds, minutes, hours and days; by how much a clock of its own may be off, and how many steps of the other one tell it.
    private static readonly double[] Paces = [1, 1000, 1 / 60.0, 1 / 3600.0, 1 / 86_400.0];
    private const double MostOffPace = 0.04;
    private const double CoarseClock = 10;
    private const double FarFromNought = 3;

    private static readonly string[] OtherTimes =
        ["phase", "fase", "step", "stage", "loop", "interval", "timeout", "remain", "restant", "rest", "left", "schritt", "étape", "etape", "etapa", "schleife", "cycle", "zyklus", "delta", "pozosta", "resterend"];

    /// <summary>Whether a header names a time that is not that of the row: of a phase, of a loop, what remains.</summary>
    internal static bool NamesAnotherTime(ColumnRole role) =>
        role.Header is { } header && (OtherTimes.Any(word => header.Contains(word, StringComparison.OrdinalIgnoreCase)) || header.StartsWith("dt", StringComparison.OrdinalIgnoreCase));

    /// <summary>Whether elapsed time goes by the same steps as the time of day in another column, but for where it begins anew.</summary>
    internal static bool RunsAlong(ColumnRole clock, ColumnRole elapsed)
    {
        if (NamesAnotherTime(elapsed) || elapsed.Values.Count == 0 || elapsed.Values[0].Count < 3)
        {
            return !NamesAnotherTime(elapsed) && elapsed.Values.Count > 0;
        }

        double[] day = Clock(clock, out double digit);
        double[] run = LogColumns.Values(elapsed, 0, elapsed.Hint.Unit == Unit.None ? 1 : UnitMarks.Factor(elapsed.Hint.Unit));
        double went = 0;
        double ran = 0;
        (double Ran, double Went) half = (0, 0);
        for (int i = 1; i < Math.Min(day.Length, run.Length); i++)
        {
            double step = run[i] - run[i - 1];
            double past = day[i] - day[i - 1];
            if (!double.IsNaN(step + past) && step >= 0)
            {
                ran += step;
                went += past < -SecondsADay / 2 ? past + SecondsADay : past;
            }

            half = i == day.Length / 2 ? (ran, went) : half;
        }

        // Without a unit its steps may stand for anything, as long as it goes on, in both halves alike.
        bool isEven = half.Went <= 2 * digit || went - half.Went <= 2 * digit || Math.Abs((half.Ran / half.Went) - ((ran - half.Ran) / (went - half.Went))) <= (MostUneven + (2 * digit / half.Went)) * ran / went;
        // "T" that begins far above how far it goes is a temperature; the clock tells the time as well.
        bool isFar = elapsed.Hint.IsBare && elapsed.Profile!.First > FarFromNought * ran;
        bool isUnit = went < CoarseClock * digit || Array.Exists(Paces, pace => Math.Abs((ran / went / pace) - 1) <= MostOffPace + (2 * digit / went));
        return elapsed.Hint.Unit == Unit.None ? ran > 0 && isEven && isUnit && !isFar && elapsed.Profile!.Falls * 6 <= elapsed.Profile.Count : Math.Abs(ran - went) <= digit + (0.05 * Math.Max(ran, went));
    }

    /// <summary>Whether a column of numbers begins anew with each step of the time beside it, which stands still meanwhile: a part of the time, such as the fraction of its seconds.</summary>
    internal static bool IsPartOf(ColumnRole time, ColumnRole part)
    {
        if (part.Profile is not { Min: >= 0, Max: < 1000, Missing: 0, IsConstant: false, Rises: > 2, Falls: > 0 } || part == time)
        {
            return false;
        }

        double[] large = time.Profile is null ? Clock(time, out _) : LogColumns.Values(time, 0, 1);
        double[] small = LogColumns.Values(part, 0, 1);
        int stepped = 0;
        for (int i = 1; i < Math.Min(large.Length, small.Length); i++)
        {
            bool steps = large[i] != large[i - 1];
            stepped += steps ? 1 : 0;
            if (steps ? small[i] > small[i - 1] : small[i] <= small[i - 1])
            {
                return false;
            }
        }

        // A place at the charger, which changed once; minutes are below sixty.
        return stepped > 1 || large[0] < 60;
    }

    private static double[] Clock(ColumnRole role, out double digit)
    {
        double unit = role.Column.TimeShape == TimeShape.TwoPart && role.Hint.Unit == Unit.HourMinute ? 60 : 1;
        digit = role.Profile is not null ? 1 : role.Column.FractionDigits > 0 ? 0.1 : role.Column.TimeShape == TimeShape.ThreePart ? 2 : 61;
        return role.Profile is null ? LogColumns.Values(role, 0, unit / 1e9) : LogColumns.Values(role, 0, role.Unit == Unit.Millisecond ? 0.001 : 1);
    }
}
