using System.Globalization;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Meanings;
using PackCare.Import.Tables;

namespace PackCare.Import.Sessions;

/// <summary>Cuts a table into sessions: another pack, another session number, a clock that starts anew, a long gap.</summary>
internal static class SessionCutter
{
    private const double GapSeconds = 1800;
    private const double GapSecondsAnew = 60;
    private const double GapRatio = 20;
    private const double FromBelow = 5;

    // Minutes and seconds, hours, two bytes, five digits; in seconds or in milliseconds.
    private static readonly double[] RunOver = [65.536, 3600, 6000, 43_200, 65_536, 86_400, 100_000, 3_600_000, 43_200_000, 65_536_000, 86_400_000];

    private static readonly double[] UnitRatios = [60, 1000, 3600, 1 / 60.0, 1 / 1000.0, 1 / 3600.0];

    // Three years: longer than any pack is left on a logger.
    private const double MostSeconds = 3 * 365 * 86_400.0;
    private const int MostSegments = 1_000_000;

    // Packs that take turns are hardly more.
    private const int MostAhead = 256;
    private const int MostSessions = 10_000;

    private sealed class State
    {
        internal int Session;
        internal double First = double.PositiveInfinity;
        internal double Previous = double.NaN;
        internal double BeforePrevious = double.NaN;
        internal double Step = double.NaN;
        internal int Rows;
        internal string Number = "";
    }

    /// <summary>Cuts the table, or refuses it where time goes wrong.</summary>
    internal static SessionMap? Cut(LogColumns columns, TimeAxis axis, ColumnRole timeRole)
    {
        ColumnRole? label = columns.Single(ColumnMeaning.PackLabel);
        ColumnRole? number = columns.Single(ColumnMeaning.SessionNumber);
        var restarts = new HashSet<int>(columns.Table.Restarts);
        bool hasRestarts = restarts.Count > 0;
        bool hasLabels = label is not null;
        bool hasNumbers = number is not null;
        var segments = new List<Segment>();
        var labels = new List<string?>();
        var states = new Dictionary<string, State>(StringComparer.Ordinal);
        string? currentLabel = null;
        State? state = null;
        int segmentStart = 0;
        int row = 0;
        var repeated = new List<int>();
        int ranOver = 0;
        var blanks = new HashSet<int>(columns.Table.Blanks);
        bool hasBlanks = blanks.Count > 0;
        bool byTimeOnly = !hasLabels && !hasNumbers && !hasRestarts;
        int longest = axis.Blocks.Max(block => block.Count);
        using var one = new RowBuffer(longest);
        using var other = new RowBuffer(axis.Blocks.Count > 1 ? longest : 0);
        double[] buffer = one.Values;
        double[] nextBuffer = other.Values;
        axis.Seconds(0, buffer);
        long[]? nextLabelIds = Ids(label, 0);
        for (int b = 0; b < axis.Blocks.Count; b++)
        {
            ReadOnlySpan<double> seconds = buffer.AsSpan(0, axis.Blocks[b].Count);
            ReadOnlySpan<double> next = nextBuffer.AsSpan(0, b + 1 < axis.Blocks.Count ? axis.Blocks[b + 1].Count : 0);
            if (!next.IsEmpty)
            {
                axis.Seconds(b + 1, nextBuffer);
            }

            long[]? labelIds = nextLabelIds;
            nextLabelIds = next.IsEmpty ? null : Ids(label, b + 1);
            long[]? numberIds = Ids(number, b);
            for (int i = 0; i < seconds.Length; i++, row++)
            {
                // Where time goes on by ordinary steps nothing begins.
                if (byTimeOnly && !hasBlanks && i > 1 && state is not null && OrdinarySteps(seconds, i) is > 0 and int ordinary)
                {
                    i += ordinary;
                    row += ordinary;
                    state.Rows += ordinary;
                    state.BeforePrevious = seconds[i - 2];
                    state.Previous = seconds[i - 1];
                    state.Step = state.Previous - state.BeforePrevious;
                    if (i == seconds.Length)
                    {
                        break;
                    }
                }

                double time = seconds[i];
                if (double.IsNaN(time))
                {
                    columns.Refuse("no-time", row, timeRole, "a row without a time", "correct or remove that line");
                    return null;
                }

                string name = labelIds is null ? "" : Word(label!, labelIds[i]);
                if (labelIds is not null && name.Length == 0 && currentLabel is not null)
                {
                    name = currentLabel;
                }

                string sessionNumber = numberIds is null ? "" : Word(number!, numberIds[i]);
                bool begins = false;
                if (state is null || (hasLabels && name != currentLabel))
                {
                    begins = !states.TryGetValue(name, out State? known);
                    known ??= states[name] = new State();
                    CloseSegment();
                    state = known;
                    currentLabel = name;
                }

                if (hasNumbers && !begins && sessionNumber != state.Number)
                {
                    begins = true;
                }

                double step = time - state.Previous;
                if (!begins && step < 0)
                {
                    double after = AheadOf(seconds, next, labelIds, nextLabelIds, i, 1);
                    if (!axis.IsAbsolute && IsInOtherUnit(state, time, after - time))
                    {
                        RefuseOtherUnit(row);
                        return null;
                    }

                    bool anew = (hasRestarts && restarts.Contains(row))
                        || (!axis.IsAbsolute && !axis.IsTimeOfDay && state.Rows > 1 && FreshStart.Is(state.First, state.Step, state.Previous, time, after, AheadOf(seconds, next, labelIds, nextLabelIds, i, 2)));
                    if (!anew)
                    {
                        bool jumped = time >= state.BeforePrevious && !(after >= state.Previous);
                        columns.Refuse(
                            "time-backwards", jumped && !hasLabels ? row - 1 : row, timeRole,
                            jumped ? string.Create(CultureInfo.InvariantCulture, $"time jumps ahead by {state.Previous - state.BeforePrevious:0.###} s, and back in the next row") : string.Create(CultureInfo.InvariantCulture, $"time steps back by {-step:0.###} s"),
                            "correct that line, or split the file there");
                        return null;
                    }

                    begins = true;
                    if (!hasRestarts && ranOver < OddRows.MostTold && Array.Exists(RunOver, end => state.Previous < end && state.Previous + (1.5 * state.Step) >= end))
                    {
                        ranOver++;
                        columns.Notice("time-runs-over", row, timeRole, string.Create(CultureInfo.InvariantCulture, $"a time that begins anew right after {state.Previous:0.###}, where clocks run over"), "it was taken for a session of its own; if it is the same one, log the time without running over");
                    }
                }

                if (hasLabels && !begins && step == 0 && repeated.Count < 100)
                {
                    repeated.Add(row);
                }

                if (!begins && step > MostSeconds && !(AheadOf(seconds, next, labelIds, nextLabelIds, i, 1) < time))
                {
                    columns.Refuse("impossible-value", row, timeRole, string.Create(CultureInfo.InvariantCulture, $"a time that jumps ahead by {step / 86_400:0} days"), "correct or remove that line");
                    return null;
                }

                if (!begins && step > GapSeconds && state.Rows > 2 && row == columns.Table.Rows - 1 && step > GapRatio * state.Step)
                {
                    columns.Notice("late-row", row, timeRole, string.Create(CultureInfo.InvariantCulture, $"a last row that comes {step:0.###} s after the one before it, where rows were {state.Step:0.###} s apart"), "have a look: its time may have been damaged; it was kept as logged");
                }

                if (!begins && state.Rows == 1 && !hasLabels && state.Previous < 0 && time >= 0 && !axis.IsAbsolute && AheadOf(seconds, next, labelIds, nextLabelIds, i, 1) - time is > 0 and var afterwards && step > FromBelow * afterwards)
                {
                    columns.Refuse("impossible-value", row - 1, timeRole, string.Create(CultureInfo.InvariantCulture, $"a time of {state.Previous:0.###} s before one of {time:0.###} s, where rows are {afterwards:0.###} s apart"), "correct or remove that line");
                    return null;
                }

                // A header that is written again, or a blank line, says that a logger began anew, where time says so too.
                begins = begins || (state.Rows > 1 && step > GapSecondsAnew && step > GapRatio * state.Step && ((hasRestarts && restarts.Contains(row)) || (hasBlanks && blanks.Contains(row))));

                // Behind the first row of all the steps ahead tell.
                if (!begins && step > GapSeconds && (state.Rows == 1 || step > GapRatio * state.Step))
                {
                    double following = AheadOf(seconds, next, labelIds, nextLabelIds, i, 1) - time;
                    begins = following >= 0 && step > GapRatio * following && following > 0;
                    if (IsInOtherUnit(state, time, following))
                    {
                        RefuseOtherUnit(row);
                        return null;
                    }
                }

                if (begins)
                {
                    CloseSegment();
                    if (labels.Count == MostSessions)
                    {
                        columns.Refuse("too-many-sessions", row, timeRole, $"more than {MostSessions} sessions", "check the time column");
                        return null;
                    }

                    state.Session = labels.Count;
                    state.Rows = 0;
                    state.First = Math.Min(state.First, time);
                    state.Step = double.NaN;
                    state.Number = sessionNumber;
                    labels.Add(name.Length == 0 ? null : name);
                }
                else
                {
                    state.Step = step;
                }

                state.BeforePrevious = begins ? double.NaN : state.Previous;
                state.Previous = time;
                state.Rows++;
                if (segments.Count > MostSegments)
                {
                    columns.Refuse("too-many-packs", row, label, "packs take turns too often", "write one file a pack");
                    return null;
                }
            }

            (buffer, nextBuffer) = (nextBuffer, buffer);
        }

        CloseSegment();
        if (label is not null)
        {
            DamagedLabels.CheckMoments(columns, label, repeated);
        }

        var map = new SessionMap(segments, labels);
        if (!columns.IsRefused)
        {
            RepeatedRows.Check(columns, axis, map);
            if (byTimeOnly && !columns.IsRefused && map.Count > 1)
            {
                PastedRows.Check(columns, axis, map, timeRole);
            }
        }

        return columns.IsRefused ? null : map;

        void RefuseOtherUnit(int at) => columns.Refuse("ambiguous-time-unit", at, timeRole, "a time that goes on by the same steps in another unit from here on", "write all times in one unit, or split the file there");

        void CloseSegment()
        {
            if (state is not null && row > segmentStart)
            {
                segments.Add(new Segment(segmentStart, row, state.Session));
            }

            segmentStart = row;
        }
    }

    // How many rows from one on come neither before the one ahead of them nor long after it.
    private static int OrdinarySteps(ReadOnlySpan<double> seconds, int from)
    {
        int i = from;
        ref double start = ref MemoryMarshal.GetReference(seconds);
        for (; i + 4 <= seconds.Length; i += 4)
        {
            Vector256<double> steps = Vector256.LoadUnsafe(ref start, (nuint)i) - Vector256.LoadUnsafe(ref start, (nuint)(i - 1));
            if (!Vector256.GreaterThanOrEqualAll(steps, Vector256<double>.Zero) || !Vector256.LessThanOrEqualAll(steps, Vector256.Create(GapSeconds)))
            {
                break;
            }
        }

        while (i < seconds.Length && seconds[i] - seconds[i - 1] is >= 0 and <= GapSeconds)
        {
            i++;
        }

        return i - from;
    }

    // Seconds after minutes, milliseconds after seconds and the like: the next step of the one, in the other.
    private static bool IsInOtherUnit(State state, double time, double following) =>
        state.Rows > 3 && state.Step > 0 && Array.Exists(UnitRatios, ratio => Math.Abs(following - (ratio * state.Step)) <= 0.02 * following && Math.Abs(time - (ratio * (state.Previous + state.Step))) <= Math.Max(0.02 * time, 0.2 * following));

    // The same among the rows of one label, which may take turns with those of others.
    private static double AheadOf(ReadOnlySpan<double> seconds, ReadOnlySpan<double> next, long[]? labels, long[]? nextLabels, int row, int count)
    {
        if (labels is null)
        {
            return Ahead(seconds, next, row + count);
        }

        for (int ahead = row + 1; ahead < Math.Min(row + MostAhead, seconds.Length + next.Length); ahead++)
        {
            long label = ahead < seconds.Length ? labels[ahead] : nextLabels![ahead - seconds.Length];
            if ((label == labels[row] || label == BlockCodec.Missing) && --count == 0)
            {
                return Ahead(seconds, next, ahead);
            }
        }

        return double.NaN;
    }

    // The time some rows on, which may stand in the next block; NaN behind the last.
    private static double Ahead(ReadOnlySpan<double> seconds, ReadOnlySpan<double> next, int row) =>
        row < seconds.Length ? seconds[row] : row - seconds.Length < next.Length ? next[row - seconds.Length] : double.NaN;

    private static long[]? Ids(ColumnRole? role, int block)
    {
        if (role is null)
        {
            return null;
        }

        long[] ids = new long[role.Column.Values[block].Count];
        BlockCodec.Decode(role.Column.Values[block], ids);
        return ids;
    }

    private static string Word(ColumnRole role, long id) => id == BlockCodec.Missing ? ""
        : role.Column.Shape == ColumnShape.Text ? role.Column.Words[(int)id]
        : id.ToString(CultureInfo.InvariantCulture);
}
