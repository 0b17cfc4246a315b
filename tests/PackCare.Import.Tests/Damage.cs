using System.Text;

namespace PackCare.Import.Tests;

/// <summary>Damages bytes at random, the ways that cards, cables and editors do.</summary>
internal static class Damage
{
    private static readonly byte[][] Intruders =
    [
        "\""u8.ToArray(), ";"u8.ToArray(), ","u8.ToArray(), "\n"u8.ToArray(), "\r"u8.ToArray(), "."u8.ToArray(), "-"u8.ToArray(), "e"u8.ToArray(), "\t"u8.ToArray(), "#"u8.ToArray(),
        " "u8.ToArray(), "\0"u8.ToArray(), "NaN"u8.ToArray(), "'"u8.ToArray(), [0xFF], [0xC3], [0xEF, 0xBB, 0xBF], [0xC2, 0xA0], "1e9"u8.ToArray(), "9999999999999999999"u8.ToArray(),
        "["u8.ToArray(), "\n\n"u8.ToArray(), "time"u8.ToArray(), "0"u8.ToArray(), "|"u8.ToArray(), ":"u8.ToArray(), "/"u8.ToArray(), [0xE2, 0x88, 0x92], "+"u8.ToArray(), "Infinity"u8.ToArray(),
    ];

    /// <summary>Damages any bytes anywhere, up to a few times.</summary>
    internal static byte[] Anywhere(byte[] bytes, Random random)
    {
        List<byte> damaged = [.. bytes];
        for (int times = random.Next(1, 5); times > 0 && damaged.Count > 0; times--)
        {
            int at = random.Next(damaged.Count);
            int length = Math.Min(damaged.Count - at, random.Next(4) == 0 ? random.Next(1, 200) : random.Next(1, 4));
            switch (random.Next(8))
            {
                case 0:
                    damaged[at] = (byte)random.Next(256);
                    break;
                case 1:
                    damaged.RemoveRange(at, length);
                    break;
                case 2:
                    damaged.InsertRange(at, Intruders[random.Next(Intruders.Length)]);
                    break;
                case 3:
                    damaged.RemoveRange(at, damaged.Count - at);
                    break;
                case 4:
                    damaged.InsertRange(at, damaged.GetRange(random.Next(damaged.Count - length + 1), length));
                    break;
                case 5:
                    for (int i = 0; i < length; i++)
                    {
                        damaged[at + i] = 0;
                    }

                    break;
                case 6:
                    damaged[at] ^= (byte)(1 << random.Next(8));
                    break;
                default:
                    damaged[at] = Intruders[random.Next(Intruders.Length)][0];
                    break;
            }
        }

        return [.. damaged];
    }

    /// <summary>Damages one line within itself, so that all other lines stay as they were.</summary>
    /// <param name="text">The log.</param>
    /// <param name="line">Line number from 1.</param>
    /// <param name="lineEnd">What ends a line.</param>
    /// <param name="random">Chance.</param>
    internal static string OneLine(string text, int line, string lineEnd, Random random)
    {
        string[] lines = text.Split(lineEnd);
        var damaged = new StringBuilder(lines[line - 1]);
        int at = random.Next(damaged.Length);
        switch (random.Next(6))
        {
            case 0:
                damaged[at] = (char)random.Next(32, 127);
                break;
            case 1:
                damaged.Remove(at, Math.Min(damaged.Length - at, random.Next(1, 4)));
                break;
            case 2:
                damaged.Insert(at, (char)random.Next(32, 127));
                break;
            case 3:
                damaged.Insert(at, "\";,.\t-#e:| "[random.Next(11)]);
                break;
            case 4:
                damaged.Length = at;
                break;
            default:
                damaged[at] = "\";,.\t-#e:| "[random.Next(11)];
                break;
        }

        lines[line - 1] = damaged.ToString();
        return string.Join(lineEnd, lines);
    }
}
