namespace PackCare.Cli.Output;

/// <summary>How a word looks on a terminal. It never says more than the word itself.</summary>
internal enum Look
{
    /// <summary>As everything else.</summary>
    Plain,

    /// <summary>Fainter: headings.</summary>
    Faint,

    /// <summary>Bold: notable.</summary>
    Bold,

    /// <summary>Bold and inverted: grave.</summary>
    Grave,
}
