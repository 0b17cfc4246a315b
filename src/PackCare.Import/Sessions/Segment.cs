namespace PackCare.Import.Sessions;

/// <summary>A run of rows that belong to one session.</summary>
/// <param name="Start">First row, from 0.</param>
/// <param name="End">Row after the last.</param>
/// <param name="Session">Session number, from 0.</param>
internal readonly record struct Segment(int Start, int End, int Session);
