namespace PackCare.Core.Reading;

/// <summary>Something wrong with an input, as a value.</summary>
/// <param name="Code">Stable word for programs, lower case with hyphens, for instance <c>ambiguous-decimal</c>.</param>
/// <param name="Level">What it does to the file.</param>
/// <param name="Line">Line number from 1, or null where it concerns the whole file.</param>
/// <param name="Column">Column (field) number from 1, or null.</param>
/// <param name="Found">What was found, in one clause.</param>
/// <param name="Advice">What to do, in one clause.</param>
public sealed record InputProblem(string Code, ProblemLevel Level, int? Line, int? Column, string Found, string Advice);
