using PackCare.Core.Reading;

namespace PackCare.Import.Tables;

/// <summary>Shorthand for problems.</summary>
internal static class Refusals
{
    internal static InputProblem Refuse(string code, int? line, int? column, string found, string advice) =>
        new(code, ProblemLevel.Refusal, line, column, found, advice);

    internal static InputProblem Notice(string code, int? line, int? column, string found, string advice) =>
        new(code, ProblemLevel.Notice, line, column, found, advice);

    /// <summary>A snippet of the log for a message: short, and without control characters.</summary>
    internal static string Snippet(string text)
    {
        string clean = new([.. text.Trim().Select(c => char.IsControl(c) ? ' ' : c)]);
        return clean.Length <= 40 ? clean : string.Concat(clean.AsSpan(0, 37), "...");
    }
}
