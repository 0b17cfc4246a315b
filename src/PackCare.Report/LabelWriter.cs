using System.Text;
using PackCare.Report.Labels;

namespace PackCare.Report;

/// <summary>Writes sheets of stickers as one self-contained HTML file, to be printed at its true size.</summary>
public static class LabelWriter
{
    private const int HeadCharacters = 512;

    /// <summary>Writes it. The same input gives the same bytes.</summary>
    /// <param name="input">What to draw.</param>
    /// <param name="path">The file; one of the same name is replaced.</param>
    /// <exception cref="ArgumentOutOfRangeException">More places are skipped than a sheet has.</exception>
    /// <exception cref="IOException">The file cannot be written.</exception>
    /// <exception cref="UnauthorizedAccessException">The file may not be written.</exception>
    public static void Write(LabelInput input, string path)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(input.Skip);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(input.Skip, input.Format.Places);
        using var writer = new StreamWriter(path, append: false, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false));
        LabelPage.Build(input).WriteTo(writer);
    }

    /// <summary>Whether a file is one that <see cref="Write"/> made, so that it may be replaced.</summary>
    /// <exception cref="IOException">The file cannot be read.</exception>
    public static bool Made(string path)
    {
        using var reader = new StreamReader(path, Encoding.UTF8);
        char[] head = new char[HeadCharacters];
        int read = reader.ReadBlock(head);
        return new string(head, 0, read).Contains(LabelPage.Signature, StringComparison.Ordinal);
    }
}
