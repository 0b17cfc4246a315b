namespace PackCare.Cli.Hosting;

/// <summary>What the program tells its caller; documented in every command's help.</summary>
internal static class ExitCode
{
    /// <summary>Done.</summary>
    public const int Done = 0;

    /// <summary>Some input was refused: each is named, the rest is done.</summary>
    public const int Refused = 1;

    /// <summary>Wrong usage.</summary>
    public const int Usage = 2;

    /// <summary>The history cannot be read or is locked.</summary>
    public const int History = 3;

    /// <summary>Something is overdue (only with <c>due --exit-code</c>).</summary>
    public const int Overdue = 4;

    /// <summary>A bug.</summary>
    public const int Bug = 70;
}
