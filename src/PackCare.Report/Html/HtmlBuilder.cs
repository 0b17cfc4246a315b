using System.Globalization;
using System.Runtime.CompilerServices;
using System.Text;

namespace PackCare.Report.Html;

/// <summary>
/// Builds a page. Only the literal parts of an interpolated string are markup: every inserted text is escaped
/// unless it is <see cref="Markup"/>, so that forgetting to escape is not possible.
/// </summary>
internal sealed class HtmlBuilder
{
    private readonly StringBuilder _text = new();

    /// <summary>Adds one line.</summary>
    public void Add([InterpolatedStringHandlerArgument("")] ref Handler line)
    {
        _ = line;
        _text.Append('\n');
    }

    /// <summary>Adds markup as it is.</summary>
    public void Add(Markup markup) => _text.Append(markup.Value).Append('\n');

    /// <summary>Adds all that another builder holds.</summary>
    public void Add(HtmlBuilder other) => _text.Append(other._text);

    /// <summary>Writes it without making one long string of it first; a page can be long.</summary>
    public void WriteTo(TextWriter writer)
    {
        foreach (ReadOnlyMemory<char> chunk in _text.GetChunks())
        {
            writer.Write(chunk.Span);
        }
    }

    /// <summary>All that was added.</summary>
    public Markup ToMarkup() => new(_text.ToString());

    /// <summary>Makes a piece of markup from an interpolated string by the same rules.</summary>
    public static Markup Piece(ref PieceHandler piece) => new(piece.ToString());

    /// <summary>Writes into the builder itself.</summary>
    [InterpolatedStringHandler]
    internal readonly ref struct Handler
    {
        private readonly StringBuilder _text;

        public Handler(int literalLength, int formattedCount, HtmlBuilder builder)
        {
            _ = (literalLength, formattedCount);
            _text = builder._text;
        }

        public void AppendLiteral(string markup) => _text.Append(markup);

        public void AppendFormatted(string? text) => _text.Append(HtmlText.Escape(text ?? ""));

        public void AppendFormatted(Markup markup) => _text.Append(markup.Value);

        public void AppendFormatted(int number) => _text.Append(number.ToString(CultureInfo.InvariantCulture));
    }

    /// <summary>Writes into a text of its own.</summary>
    [InterpolatedStringHandler]
    internal readonly ref struct PieceHandler
    {
        private readonly StringBuilder _text;

        public PieceHandler(int literalLength, int formattedCount) => _text = new StringBuilder(literalLength + (formattedCount * 16));

        public void AppendLiteral(string markup) => _text.Append(markup);

        public void AppendFormatted(string? text) => _text.Append(HtmlText.Escape(text ?? ""));

        public void AppendFormatted(Markup markup) => _text.Append(markup.Value);

        public void AppendFormatted(int number) => _text.Append(number.ToString(CultureInfo.InvariantCulture));

        public override string ToString() => _text.ToString();
    }
}
