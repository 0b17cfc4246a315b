namespace PackCare.CalibrationStudy;

/// <summary>Whether a finding was made, beside whether it was due.</summary>
/// <param name="Code">What it is about.</param>
/// <param name="Due">True where the truth is clearly past the watch limit, false where it is clearly within, null in between.</param>
/// <param name="Found">Whether the analysis found it, as watch or graver.</param>
internal sealed record Verdict(string Code, bool? Due, bool Found);
