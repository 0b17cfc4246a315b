using System.Globalization;
using System.Text;
using PackCare.Report.Look;

namespace PackCare.Report.Labels;

/// <summary>The style sheet of a page of labels. On paper, and on a screen wide enough for it, the sheet has its true size; else the stickers flow.</summary>
internal static class LabelStyle
{
    /// <summary>The style sheet for a format.</summary>
    public static string Of(LabelInput input)
    {
        SheetFormat format = input.Format;
        var css = new StringBuilder("\n");
        css.Append(":root{color-scheme:light dark;").AppendJoin(';', Shown.Select(tone => $"--{tone.Name}:#{tone.Light}")).Append("}\n");
        css.Append("@media (prefers-color-scheme:dark){:root{").AppendJoin(';', Shown.Select(tone => $"--{tone.Name}:#{tone.Dark}")).Append("}}\n");
        css.Append(Rules.ReplaceLineEndings("\n"));

        string grid = string.Create(
            CultureInfo.InvariantCulture,
            $".sheet{{display:grid;max-width:none;grid-template-columns:repeat({format.Columns},{format.WidthMillimetres:0.##}mm);grid-auto-rows:{format.HeightMillimetres:0.##}mm;gap:0 {format.GapMillimetres:0.##}mm;width:210mm;height:296.5mm;padding:{format.TopMillimetres:0.###}mm 0 0 {format.LeftMillimetres:0.###}mm;align-content:start}}");
        css.Append("@media screen and (min-width:60rem){").Append(grid).Append("}\n");
        css.Append("@media print{@page{size:A4;margin:0}:root{color-scheme:light}body{background:#FFFFFF}header,footer{display:none}main{padding:0;max-width:none}.sheet{margin:0;background:none;box-shadow:none}.sheet+.sheet{break-before:page}.sheet li{outline:0;break-inside:avoid}").Append(grid).Append("}\n");
        if (input.Outline)
        {
            css.Append("@media print{.sheet li:not(.used){outline:.2mm solid #808080;outline-offset:-.1mm}}\n");
        }

        return css.ToString();
    }

    private static readonly Tone[] Shown = [Tones.Paper, Tones.Ink, Tones.Muted, Tones.Rule];

    private const string Rules = """
        *{box-sizing:border-box}
        html{-webkit-text-size-adjust:100%;text-size-adjust:100%}
        body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.5 "Liberation Sans",Arimo,Arial,Helvetica,sans-serif}
        header,main,footer{max-width:60rem;margin:0 auto;padding:0 1rem}
        header{padding-top:1.75rem}
        h1{font-size:1.7rem;line-height:1.2;margin:.2rem 0 .6rem;font-weight:650}
        p,ul{margin:.35rem 0;max-width:46rem}
        ul{padding-left:1.1rem}
        footer{color:var(--muted);font-size:.875rem;padding-top:1rem;padding-bottom:2.5rem}
        .sheet{list-style:none;max-width:none;margin:1.5rem 0 0;padding:0;display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,17rem),1fr));gap:.75rem}
        .sheet li{background:#FFFFFF;outline:1px solid var(--rule)}
        .sticker{display:block;width:100%;height:auto}
        .sticker text{fill:#000000;unicode-bidi:plaintext}
        .sticker .code{fill:#000000;shape-rendering:crispEdges}
        @media screen and (max-width:59.999rem){.used{display:none}}
        @media screen and (min-width:60rem){.sheet{background:#FFFFFF;gap:0;margin:1.5rem auto 0;box-shadow:0 0 0 1px var(--muted)}.sheet li{outline:1px dashed #9AA0A6}.sheet .used{background:repeating-linear-gradient(45deg,#FFFFFF,#FFFFFF 8px,#E4E4E0 8px,#E4E4E0 9px)}}

        """;
}
