namespace PackCare.Import.Lexing;

/// <summary>What a field is as a number under one decimal mark.</summary>
internal enum NumberShape
{
    /// <summary>Not a number under this mark.</summary>
    None,

    /// <summary>A word or sign for "no reading", or nothing at all.</summary>
    Missing,

    /// <summary>Digits alone: the same under either mark.</summary>
    Whole,

    /// <summary>Could not be read otherwise under the other mark.</summary>
    Proof,

    /// <summary>Written with an exponent.</summary>
    Scientific,

    /// <summary>Would be another number under the other mark: <c>1.234</c>.</summary>
    EitherMark,
}
