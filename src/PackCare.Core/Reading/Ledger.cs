namespace PackCare.Core.Reading;

/// <summary>The account of every line of a file; the parts add up to the lines.</summary>
/// <param name="Lines">All lines.</param>
/// <param name="Header">Header lines.</param>
/// <param name="Units">Unit rows.</param>
/// <param name="Samples">Lines that became samples.</param>
/// <param name="Comments">Preamble and comment lines.</param>
/// <param name="Footer">Lines after the table.</param>
/// <param name="Blank">Blank lines.</param>
/// <param name="Dropped">Lines left out, each with a problem that names it.</param>
public sealed record Ledger(int Lines, int Header, int Units, int Samples, int Comments, int Footer, int Blank, int Dropped)
{
    /// <summary>A ledger of nothing.</summary>
    public static Ledger Empty { get; } = new(0, 0, 0, 0, 0, 0, 0, 0);

    /// <summary>Whether every line is accounted for exactly once.</summary>
    public bool Balances => Header + Units + Samples + Comments + Footer + Blank + Dropped == Lines;
}
