using System.Text;
using CsCheck;
using PackCare.Import.Text;

namespace PackCare.Import.Tests;

public class PlainTextTests
{
    [Fact]
    public void Every_byte_at_every_place_is_told_as_one_by_one()
    {
        for (int length = 1; length <= 70; length++)
        {
            for (int value = 0; value < 256; value++)
            {
                byte[] bytes = Encoding.ASCII.GetBytes(new string('7', length));
                bytes[(value * 31) % length] = (byte)value;
                bool plain = value is (>= 32 and <= 126) or '\n' or '\r' or '\t';

                Assert.Equal(plain, PlainText.Is(bytes, out int feeds, out int returns));
                if (plain)
                {
                    Assert.Equal((value == '\n' ? 1 : 0, value == '\r' ? 1 : 0), (feeds, returns));
                }
            }
        }
    }

    [Fact]
    public void Lines_are_counted_alike_however_the_text_is_cut_into_stretches() =>
        Gen.Char["\r\n7;"].Array[0, 140_000].Sample(
            letters =>
            {
                byte[] bytes = Encoding.ASCII.GetBytes([.. letters, '1']);
                int expected = 1;
                for (int i = 0; i < bytes.Length; i++)
                {
                    expected += bytes[i] == '\n' || (bytes[i] == '\r' && (i + 1 == bytes.Length || bytes[i + 1] != '\n')) ? 1 : 0;
                }

                using var stream = new MemoryStream(bytes);
                TextProbe.Probe(stream, null, out _, out int lines);
                return lines == expected;
            },
            iter: 60,
            seed: "0000000000000");
}
