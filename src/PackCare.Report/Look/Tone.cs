namespace PackCare.Report.Look;

/// <summary>One colour role, with its value on a light and on a dark page.</summary>
/// <param name="Name">Short name, a CSS identifier.</param>
/// <param name="Light">Six hexadecimal digits on a light page.</param>
/// <param name="Dark">Six hexadecimal digits on a dark page.</param>
internal sealed record Tone(string Name, string Light, string Dark);
