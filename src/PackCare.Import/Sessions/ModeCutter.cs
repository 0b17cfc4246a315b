using PackCare.Core.Reading;
using PackCare.Import.Meanings;

namespace PackCare.Import.Sessions;

/// <summary>Cuts a session where lasting charging turns into lasting discharging, or the other way round.</summary>
internal static class ModeCutter
{
    // Braking, test pulses and a short top-up stay within a session; what lasts is one of its own.
    private const double LastsSeconds = 60;
    private const double LastsShare = 0.2;
    private const double LeastSeconds = 10;
    private const double LeastShareOfCharge = 0.02;
    private const int LeastRows = 4;
    private const int LeastRowsWithMode = 3;
    private const int MostSessions = 10_000;

    private sealed class State
    {
        internal double Seconds;
        internal double Previous = double.NaN;
        internal int PreviousRow = -1;
        internal bool PreviousRests;
        internal int Established;
        internal double EstablishedCharge;
        internal int Direction;
        internal double Since;
        internal double Charge;
        internal int Rows;
        internal int CutRow;
    }

    /// <summary>Cuts further what is cut already; the same map where nothing turns.</summary>
    internal static SessionMap Cut(LogColumns columns, TimeAxis axis, SessionMap map)
    {
        ColumnRole? current = columns.Single(ColumnMeaning.Current);
        if (current is not { Profile: { Min: < 0, Max: > 0 } profile })
        {
            return map;
        }

        bool hasModes = columns.Single(ColumnMeaning.Mode) is { } mode && mode.Column.Words.Select(ModeWords.DirectionOf).Where(direction => direction is 1 or -1).Distinct().Count() == 2;
        State[] states = [.. map.Bounds().Select(rows => new State { Seconds = axis.SecondsAt(rows.Last) - axis.SecondsAt(rows.First) })];
        List<int> cuts = Turns(axis, map, current, 0.02 * profile.LargestMagnitude, hasModes, states);
        return cuts.Count == 0 || cuts.Count + map.Count > MostSessions ? map : Divide(map, cuts);
    }

    private static List<int> Turns(TimeAxis axis, SessionMap map, ColumnRole current, double least, bool hasModes, State[] states)
    {
        var cuts = new List<int>();
        int leastRows = hasModes ? LeastRowsWithMode : LeastRows;
        int segment = 0;
        int row = 0;
        int longest = axis.Blocks.Max(block => block.Count);
        using var times = new RowBuffer(longest);
        using var currents = new RowBuffer(longest);
        double[] seconds = times.Values;
        double[] amperes = currents.Values;
        for (int b = 0; b < axis.Blocks.Count; b++)
        {
            axis.Seconds(b, seconds);
            LogColumns.Read(current.Values[b], 1, amperes);
            int count = axis.Blocks[b].Count;
            for (int i = 0; i < count;)
            {
                while (row + i >= map.Segments[segment].End)
                {
                    segment++;
                }

                State state = states[map.Segments[segment].Session];
                double lasts = hasModes ? LeastSeconds : Math.Clamp(LastsShare * state.Seconds, LeastSeconds, LastsSeconds);
                int end = Math.Min(count, map.Segments[segment].End - row);
                while (i < end)
                {
                    int direction = RowMath.DirectionOf(amperes[i], least);
                    int to = RowMath.EndOfFlow(amperes.AsSpan(0, end), i + 1, direction, least);
                    if (direction is 1 or -1)
                    {
                        Flow(state, direction, amperes[i], seconds[i], row + i);
                        state.Charge += RowMath.Integral(amperes.AsSpan(i..to), seconds.AsSpan(i..to));
                        state.Rows += to - i;

                        // Time, rows and charge only grow while the current keeps its direction, so that its end tells.
                        if (seconds[to - 1] - state.Since >= lasts && state.Rows >= leastRows && Math.Abs(state.Charge) >= LeastShareOfCharge * Math.Abs(state.EstablishedCharge))
                        {
                            Establish(state, cuts);
                        }
                    }

                    if (direction != RowMath.NoReading)
                    {
                        state.Previous = seconds[to - 1];
                        state.PreviousRow = row + to - 1;
                        state.PreviousRests = direction == 0;
                    }

                    i = to;
                }
            }

            row += count;
        }

        return cuts;
    }

    // The first row of a stretch in which the current keeps its direction.
    private static void Flow(State state, int direction, double current, double time, int row)
    {
        if (direction != state.Direction)
        {
            state.Direction = direction;
            state.Since = time;
            state.Charge = 0;
            state.Rows = 0;

            // The last row at rest opens the new session: from it the first step is measured.
            state.CutRow = state.PreviousRests ? state.PreviousRow : row;
        }
        else if (!state.PreviousRests)
        {
            state.Charge += current * (time - state.Previous);
        }
    }

    private static void Establish(State state, List<int> cuts)
    {
        if (state.Established == -state.Direction)
        {
            cuts.Add(state.CutRow);
        }

        state.Established = state.Direction;
        state.EstablishedCharge = state.Charge;
    }

    private static SessionMap Divide(SessionMap map, List<int> cuts)
    {
        cuts.Sort();
        var segments = new List<Segment>();
        var labels = new List<string?>();
        int[] now = [.. Enumerable.Repeat(-1, map.Count)];
        int cut = 0;
        foreach (Segment segment in map.Segments)
        {
            int start = segment.Start;
            while (cut < cuts.Count && cuts[cut] < segment.End)
            {
                Add(start, cuts[cut], segment.Session);
                now[segment.Session] = -1;
                start = cuts[cut++];
            }

            Add(start, segment.End, segment.Session);
        }

        return new SessionMap(segments, labels);

        void Add(int start, int end, int session)
        {
            if (end <= start)
            {
                return;
            }

            if (now[session] < 0)
            {
                now[session] = labels.Count;
                labels.Add(map.Labels[session]);
            }

            segments.Add(new Segment(start, end, now[session]));
        }
    }
}
