namespace PackCare.Core.Reading;

/// <summary>What an input problem does to its file.</summary>
public enum ProblemLevel
{
    /// <summary>Worth knowing; the file was read.</summary>
    Notice,

    /// <summary>The file was refused and nothing of it is stored.</summary>
    Refusal,
}
