using System.Globalization;
using PackCare.Core.Samples;

namespace PackCare.Store.Exchange;

/// <summary>Samples as text: one column a channel, one row a sample, every figure with the digits that were logged.</summary>
internal static class SampleText
{
    private static readonly (ChannelKind Kind, string Name, bool Numbered)[] Columns =
    [
        (ChannelKind.Time, "time_s", false),
        (ChannelKind.Current, "current_a", false),
        (ChannelKind.PackVoltage, "pack_v", false),
        (ChannelKind.CellVoltage, "cell#_v", true),
        (ChannelKind.Charge, "charge_ah", false),
        (ChannelKind.Energy, "energy_wh", false),
        (ChannelKind.Temperature, "temp#_c", true),
        (ChannelKind.CellResistance, "cell#_ohm", true),
    ];

    public static void Write(TextWriter text, SampleSeries samples)
    {
        List<Channel> channels = [.. Columns.SelectMany(column => samples.Channels.Where(channel => channel.Key.Kind == column.Kind))];
        text.Write(string.Join(',', channels.Select(channel => Name(channel.Key))));
        text.Write('\n');
        List<IEnumerator<decimal?>> values = [.. channels.Select(channel => channel.ToDecimals().GetEnumerator())];
        for (int row = 0; row < samples.Count; row++)
        {
            for (int i = 0; i < values.Count; i++)
            {
                if (i > 0)
                {
                    text.Write(',');
                }

                values[i].MoveNext();
                if (values[i].Current is { } figure)
                {
                    text.Write(figure.ToString(CultureInfo.InvariantCulture));
                }
            }

            text.Write('\n');
        }
    }

    /// <exception cref="FormatException">The text is not what <see cref="Write"/> makes; the message names the line.</exception>
    public static SampleSeries Read(TextReader text)
    {
        ChannelWriter[] writers = [.. (text.ReadLine() ?? "").Split(',').Select(name => new ChannelWriter(Key(name)))];
        for (int line = 2; text.ReadLine() is { } row; line++)
        {
            int column = 0;
            foreach (Range field in row.AsSpan().Split(','))
            {
                if (column == writers.Length || !Append(writers[column++], row.AsSpan(field)))
                {
                    throw new FormatException(string.Create(CultureInfo.InvariantCulture, $"line {line}, column {column}: no figure as expected"));
                }
            }

            if (column < writers.Length)
            {
                throw new FormatException(string.Create(CultureInfo.InvariantCulture, $"line {line}: {column} of {writers.Length} fields"));
            }
        }

        try
        {
            return new SampleSeries(writers.Select(writer => writer.ToChannel()));
        }
        catch (ArgumentException error)
        {
            throw new FormatException(error.Message, error);
        }
    }

    private static string Name(ChannelKey key) => Columns
        .First(column => column.Kind == key.Kind).Name
        .Replace("#", key.Index.ToString(CultureInfo.InvariantCulture), StringComparison.Ordinal);

    private static ChannelKey Key(string name)
    {
        foreach ((ChannelKind kind, string pattern, bool numbered) in Columns)
        {
            string[] around = pattern.Split('#');
            if (!numbered && name == pattern)
            {
                return new ChannelKey(kind, 0);
            }

            if (numbered
                && name.StartsWith(around[0], StringComparison.Ordinal)
                && name.EndsWith(around[1], StringComparison.Ordinal)
                && int.TryParse(name.AsSpan()[around[0].Length..Math.Max(around[0].Length, name.Length - around[1].Length)], NumberStyles.None, CultureInfo.InvariantCulture, out int index)
                && index >= 1)
            {
                return new ChannelKey(kind, index);
            }
        }

        throw new FormatException($"line 1: '{name}' is no column of an export");
    }

    private static bool Append(ChannelWriter writer, ReadOnlySpan<char> field)
    {
        if (field.IsEmpty)
        {
            writer.AppendMissing();
            return true;
        }

        int point = field.IndexOf('.');
        int decimals = point < 0 ? 0 : field.Length - point - 1;
        Span<char> digits = stackalloc char[field.Length];
        field.CopyTo(digits);
        if (point >= 0)
        {
            field[(point + 1)..].CopyTo(digits[point..]);
            digits = digits[..^1];
        }

        return decimals <= BlockCodec.MaxDecimals
            && long.TryParse(digits, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long scaled)
            && writer.TryAppend(scaled, decimals);
    }
}
