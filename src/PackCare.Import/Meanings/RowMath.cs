using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace PackCare.Import.Meanings;

/// <summary>What is done alike to all rows of a block, several at a time.</summary>
internal static class RowMath
{
    /// <summary>Adds one column to another.</summary>
    internal static void Add(Span<double> to, ReadOnlySpan<double> more)
    {
        ref double sums = ref MemoryMarshal.GetReference(to);
        ref double added = ref MemoryMarshal.GetReference(more[..to.Length]);
        int i = 0;
        for (; i + 4 <= to.Length; i += 4)
        {
            (Vector256.LoadUnsafe(ref sums, (nuint)i) + Vector256.LoadUnsafe(ref added, (nuint)i)).StoreUnsafe(ref sums, (nuint)i);
        }

        for (; i < to.Length; i++)
        {
            to[i] += more[i];
        }
    }

    /// <summary>The median of what several columns hold in one row; NaN where none has a reading.</summary>
    /// <param name="columns">The columns.</param>
    /// <param name="row">The row.</param>
    /// <param name="near">Room for as many numbers as there are columns.</param>
    internal static double MedianOf(double[][] columns, int row, Span<double> near)
    {
        int count = 0;
        foreach (double[] column in columns)
        {
            double value = column[row];
            if (!double.IsFinite(value))
            {
                continue;
            }

            int at = count++;
            for (; at > 0 && near[at - 1] > value; at--)
            {
                near[at] = near[at - 1];
            }

            near[at] = value;
        }

        return count == 0 ? double.NaN : (near[count / 2] + near[(count - 1) / 2]) / 2;
    }

    /// <summary>The middle one of three.</summary>
    internal static double Middle(double a, double b, double c) => Math.Max(Math.Min(a, b), Math.Min(Math.Max(a, b), c));

    /// <summary>The middle one of three in a row.</summary>
    internal static double Middle(double[] values, int from) => Middle(values[from], values[from + 1], values[from + 2]);

    /// <summary>Takes one column off another.</summary>
    internal static void Subtract(Span<double> from, ReadOnlySpan<double> less)
    {
        ref double rests = ref MemoryMarshal.GetReference(from);
        ref double taken = ref MemoryMarshal.GetReference(less[..from.Length]);
        int i = 0;
        for (; i + 4 <= from.Length; i += 4)
        {
            (Vector256.LoadUnsafe(ref rests, (nuint)i) - Vector256.LoadUnsafe(ref taken, (nuint)i)).StoreUnsafe(ref rests, (nuint)i);
        }

        for (; i < from.Length; i++)
        {
            from[i] -= less[i];
        }
    }

    /// <summary>The first row from one on that differs from the row before it by more than a limit; the number of rows where there is none.</summary>
    internal static int NextStepOver(ReadOnlySpan<double> values, int from, double limit)
    {
        ref double start = ref MemoryMarshal.GetReference(values);
        Vector256<double> most = Vector256.Create(limit);
        int i = Math.Max(from, 1);
        for (; i + 4 <= values.Length; i += 4)
        {
            Vector256<double> steps = Vector256.LoadUnsafe(ref start, (nuint)i) - Vector256.LoadUnsafe(ref start, (nuint)(i - 1));
            if (Vector256.GreaterThanAny(Vector256.Abs(steps), most))
            {
                break;
            }
        }

        while (i < values.Length && !(Math.Abs(values[i] - values[i - 1]) > limit))
        {
            i++;
        }

        return i;
    }

    /// <summary>The first row that is further from a value than a limit; the number of rows where there is none.</summary>
    internal static int NextAwayFrom(ReadOnlySpan<double> values, double value, double limit)
    {
        ref double start = ref MemoryMarshal.GetReference(values);
        Vector256<double> middle = Vector256.Create(value);
        Vector256<double> most = Vector256.Create(limit);
        int i = 0;
        for (; i + 4 <= values.Length; i += 4)
        {
            if (Vector256.GreaterThanAny(Vector256.Abs(Vector256.LoadUnsafe(ref start, (nuint)i) - middle), most))
            {
                break;
            }
        }

        while (i < values.Length && !(Math.Abs(values[i] - value) > limit))
        {
            i++;
        }

        return i;
    }

    /// <summary>The first row from one on in which the difference of two columns is another one than in the row before by more than a limit; the number of rows where there is none.</summary>
    internal static int NextPartingOver(ReadOnlySpan<double> values, ReadOnlySpan<double> others, int from, double limit)
    {
        ref double start = ref MemoryMarshal.GetReference(values);
        ref double beside = ref MemoryMarshal.GetReference(others[..values.Length]);
        Vector256<double> most = Vector256.Create(limit);
        int i = Math.Max(from, 1);
        for (; i + 4 <= values.Length; i += 4)
        {
            Vector256<double> now = Vector256.LoadUnsafe(ref start, (nuint)i) - Vector256.LoadUnsafe(ref beside, (nuint)i);
            Vector256<double> before = Vector256.LoadUnsafe(ref start, (nuint)(i - 1)) - Vector256.LoadUnsafe(ref beside, (nuint)(i - 1));
            if (Vector256.GreaterThanAny(Vector256.Abs(now - before), most))
            {
                break;
            }
        }

        while (i < values.Length && !(Math.Abs(values[i] - others[i] - (values[i - 1] - others[i - 1])) > limit))
        {
            i++;
        }

        return i;
    }

    /// <summary>The first row from one on that is the same as the row before it; the number of rows where there is none.</summary>
    internal static int NextRepeat(ReadOnlySpan<double> values, int from)
    {
        ref double start = ref MemoryMarshal.GetReference(values);
        int i = Math.Max(from, 1);
        for (; i + 4 <= values.Length; i += 4)
        {
            if (Vector256.EqualsAny(Vector256.LoadUnsafe(ref start, (nuint)i), Vector256.LoadUnsafe(ref start, (nuint)(i - 1))))
            {
                break;
            }
        }

        while (i < values.Length && values[i] != values[i - 1])
        {
            i++;
        }

        return i;
    }

    /// <summary>What <see cref="DirectionOf"/> says of no reading.</summary>
    internal const int NoReading = 2;

    /// <summary>1 for a current above a limit, -1 for one below its negative, 0 for one between.</summary>
    internal static int DirectionOf(double amperes, double least) =>
        amperes > least ? 1 : amperes < -least ? -1 : double.IsNaN(amperes) ? NoReading : 0;

    /// <summary>The first row from one on in which the current has another direction; the number of rows where there is none.</summary>
    internal static int EndOfFlow(ReadOnlySpan<double> amperes, int from, int direction, double least)
    {
        ref double start = ref MemoryMarshal.GetReference(amperes);
        int i = from;
        if (direction is 1 or -1)
        {
            Vector256<double> signs = Vector256.Create((double)direction);
            Vector256<double> limits = Vector256.Create(least);
            while (i + 4 <= amperes.Length && Vector256.GreaterThanAll(Vector256.LoadUnsafe(ref start, (nuint)i) * signs, limits))
            {
                i += 4;
            }
        }

        while (i < amperes.Length && DirectionOf(amperes[i], least) == direction)
        {
            i++;
        }

        return i;
    }

    /// <summary>What flowed from the first row to the last: each row's current over the time since the row before.</summary>
    internal static double Integral(ReadOnlySpan<double> amperes, ReadOnlySpan<double> seconds)
    {
        ref double current = ref MemoryMarshal.GetReference(amperes);
        ref double time = ref MemoryMarshal.GetReference(seconds[..amperes.Length]);
        Vector256<double> sums = Vector256<double>.Zero;
        int i = 1;
        for (; i + 4 <= amperes.Length; i += 4)
        {
            sums += Vector256.LoadUnsafe(ref current, (nuint)i) * (Vector256.LoadUnsafe(ref time, (nuint)i) - Vector256.LoadUnsafe(ref time, (nuint)(i - 1)));
        }

        double sum = Vector256.Sum(sums);
        for (; i < amperes.Length; i++)
        {
            sum += amperes[i] * (seconds[i] - seconds[i - 1]);
        }

        return sum;
    }
}
