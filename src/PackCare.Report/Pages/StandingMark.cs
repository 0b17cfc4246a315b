using PackCare.Analysis.Assessments;
using PackCare.Report.Html;
using PackCare.Report.Look;

namespace PackCare.Report.Pages;

/// <summary>
/// A small shape a standing: the graver, the more of it is filled. Always beside the word, never in its place.
/// </summary>
internal static class StandingMark
{
    public static Markup Of(Standing standing) => standing switch
    {
        Standing.Sound => Svg(Ring(Tones.Muted)),
        Standing.Unknown => Svg(new Markup($"<circle cx=\"8\" cy=\"8\" r=\"6\" fill=\"none\" stroke-width=\"2\" stroke-dasharray=\"2 2.7\" class=\"s-{Tones.Muted.Name}\"/>")),
        Standing.Watch => Svg(new Markup($"{Ring(Tones.Blue).Value}<path d=\"M8 2a6 6 0 0 0 0 12z\" class=\"f-{Tones.Blue.Name}\"/>")),
        Standing.Retire => Svg(new Markup($"<circle cx=\"8\" cy=\"8\" r=\"7\" class=\"f-{Tones.Vermillion.Name}\"/>")),
        Standing.Stop => Svg(new Markup($"<rect x=\"0.5\" y=\"0.5\" width=\"15\" height=\"15\" class=\"f-{Tones.Vermillion.Name}\"/><path d=\"M4 4l8 8M12 4l-8 8\" fill=\"none\" stroke-width=\"2.4\" class=\"s-{Tones.Card.Name}\"/>")),
        _ => throw new ArgumentOutOfRangeException(nameof(standing)),
    };

    public static Markup Of(Finding finding) => Of(finding.Level switch
    {
        FindingLevel.Stop => Standing.Stop,
        FindingLevel.Retire => Standing.Retire,
        FindingLevel.Watch => Standing.Watch,
        _ => finding.Code is FindingCode.TooLittleData or FindingCode.CheckOverdue ? Standing.Unknown : Standing.Sound,
    });

    private static Markup Ring(Tone tone) => new($"<circle cx=\"8\" cy=\"8\" r=\"6\" fill=\"none\" stroke-width=\"1.6\" class=\"s-{tone.Name}\"/>");

    private static Markup Svg(Markup shape) => new($"<svg class=\"mark\" viewBox=\"0 0 16 16\" aria-hidden=\"true\">{shape.Value}</svg>");
}
