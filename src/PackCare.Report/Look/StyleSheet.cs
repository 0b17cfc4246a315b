using System.Text;

namespace PackCare.Report.Look;

/// <summary>The one style sheet of all pages, and the content security policy that allows it and nothing else.</summary>
internal static class StyleSheet
{
    /// <summary>The style sheet.</summary>
    public static string Text { get; } = Build();

    /// <summary>Allows this style sheet and nothing else.</summary>
    public static string Policy { get; } = ContentPolicy.Allowing(Text);

    private static string Build()
    {
        var css = new StringBuilder("\n");
        css.Append(":root{color-scheme:light dark;").AppendJoin(';', Tones.All.Select(tone => $"--{tone.Name}:#{tone.Light}")).Append("}\n");
        css.Append("@media (prefers-color-scheme:dark){:root{").AppendJoin(';', Tones.All.Select(tone => $"--{tone.Name}:#{tone.Dark}")).Append("}}\n");

        // Paper is white whatever the screen is.
        css.Append("@media print{:root{color-scheme:light;").AppendJoin(';', Tones.All.Select(tone => $"--{tone.Name}:#{tone.Light}")).Append("}}\n");
        foreach (Tone tone in Tones.All)
        {
            css.Append($".f-{tone.Name}{{fill:var(--{tone.Name})}}.s-{tone.Name}{{stroke:var(--{tone.Name})}}\n");
        }

        return css.Append(Rules.ReplaceLineEndings("\n")).ToString();
    }

    private const string Rules = """
        *{box-sizing:border-box}
        html{-webkit-text-size-adjust:100%;text-size-adjust:100%}
        body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.5 "Liberation Sans",Arimo,Arial,Helvetica,sans-serif;font-variant-numeric:tabular-nums}
        header,main,footer{max-width:80rem;margin:0 auto;padding:0 1.25rem}
        header{padding-top:1.75rem}
        h1{font-size:1.7rem;line-height:1.2;margin:.2rem 0 .3rem;font-weight:650;overflow-wrap:anywhere}
        h2{font-size:1.15rem;line-height:1.3;margin:2.4rem 0 .7rem;font-weight:650}
        h3{font-size:1.08rem;line-height:1.3;margin:0 0 .35rem;font-weight:650}
        p{margin:.35rem 0;max-width:46rem}
        a{color:inherit;text-decoration-thickness:1px;text-underline-offset:.18em;text-decoration-color:var(--muted)}
        a:hover{text-decoration-thickness:2px}
        a:focus-visible,summary:focus-visible{outline:3px solid var(--blue);outline-offset:2px;border-radius:2px}
        bdi{overflow-wrap:anywhere}
        .d{white-space:nowrap}
        .since{white-space:nowrap}
        .quiet,.none{color:var(--muted)}
        .small{font-size:.875rem}
        .notice{border-left:4px solid var(--ink);background:var(--card);padding:.6rem .9rem;margin:0 0 1.2rem;max-width:none}
        .mark{width:1em;height:1em;vertical-align:-.12em;margin-right:.45em;flex:none}
        .word{font-weight:650}
        .tally{display:flex;flex-wrap:wrap;gap:.3rem 1.4rem;list-style:none;margin:.8rem 0 0;padding:0}
        .due,.findings{list-style:none;margin:0;padding:0;border-top:1px solid var(--rule)}
        .due>li,.findings>li{display:grid;grid-template-columns:12rem minmax(0,1fr);gap:.1rem 1.2rem;padding:.65rem 0;border-bottom:1px solid var(--rule)}
        .due p,.findings p{margin:0;max-width:none}
        .due .do,.findings .do{font-weight:650}
        .due .who{overflow-wrap:anywhere}
        .packs{width:100%;border-collapse:collapse}
        .packs td{min-width:5.6rem}
        .packs th,.packs td{text-align:left;vertical-align:top;padding:.6rem .9rem .6rem 0;border-bottom:1px solid var(--rule)}
        .packs thead th{font-size:.875rem;font-weight:400;color:var(--muted);vertical-align:bottom;border-bottom-color:var(--muted)}
        .packs tbody th{font-weight:650;min-width:8.5rem;max-width:15rem;overflow-wrap:anywhere}
        .packs tbody th .small{font-weight:400;display:block}
        .packs .small{line-height:1.35;display:block}
        .packs .k{display:none}
        .packs td:last-child,.packs th:last-child{padding-right:0}
        .spark{display:block;width:132px;height:38px}
        .facts{display:grid;grid-template-columns:repeat(auto-fill,minmax(9rem,1fr));gap:1rem 1.3rem;margin:1rem 0 0}
        .facts div{border-top:1px solid var(--rule);padding-top:.45rem}
        .facts dt{color:var(--muted);font-size:.875rem}
        .facts dd{margin:0;line-height:1.35}
        .facts dd .big{font-size:1.3rem;line-height:1.3;font-weight:650;display:block}
        .standing{display:flex;align-items:baseline;font-size:1.25rem;margin:.7rem 0 .2rem;max-width:none}
        .charts{display:grid;grid-template-columns:minmax(0,1fr);gap:1.25rem}
        figure{margin:0;background:var(--card);border:1px solid var(--rule);border-radius:4px;padding:1.1rem 1.1rem .8rem;min-width:0;break-inside:avoid}
        figcaption p{margin:.2rem 0 .5rem}
        .evidence{margin:.2rem 0 .6rem;padding-left:1.1rem;max-width:46rem}
        .evidence li{margin:.15rem 0}
        .panel{margin:.5rem 0 -.1rem;color:var(--muted);font-size:.875rem}
        .plot{display:block;width:100%;height:auto;max-width:46rem}
        .plot path{stroke-linejoin:round}
        .plot.narrow{display:none}
        .key{display:flex;flex-wrap:wrap;gap:.15rem 1.1rem;list-style:none;margin:.3rem 0 .5rem;padding:0;font-size:.875rem;color:var(--muted)}
        .key svg{width:1.1em;height:1.1em;vertical-align:-.2em;margin-right:.4em}
        details{margin-top:.5rem;font-size:.875rem}
        summary{cursor:pointer;color:var(--muted);padding:.35rem 0}
        .scroll{overflow-x:auto;max-height:22rem;overflow-y:auto}
        .scroll:focus-visible{outline:3px solid var(--blue)}
        .data{border-collapse:collapse}
        .data th,.data td{text-align:right;padding:.15rem .9rem .15rem 0;white-space:nowrap;border-bottom:1px solid var(--grid)}
        .data th:first-child,.data td:first-child{text-align:left}
        .data th{font-weight:400;color:var(--muted)}
        .unknown{margin:0;padding-left:1.1rem}
        .unknown li{margin:.25rem 0;max-width:46rem}
        .cautions{border-top:2px solid var(--ink);margin-top:3rem;padding-top:.3rem}
        .cautions h2{margin-top:.8rem}
        .cautions ul{padding-left:1.1rem;columns:2 26rem;column-gap:2.5rem;margin:.4rem 0}
        .cautions li{margin:0 0 .45rem;break-inside:avoid}
        footer{margin-top:2.2rem;padding-bottom:2.5rem;color:var(--muted);font-size:.875rem}
        @media screen and (min-width:75rem){.charts{grid-template-columns:repeat(2,minmax(0,1fr));align-items:start}}
        @media screen and (max-width:58rem){
        .packs,.packs tbody,.packs tr{display:block}
        .packs thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
        .packs tr{display:grid;grid-template-columns:repeat(auto-fill,minmax(9.5rem,1fr));gap:.5rem 1.2rem;padding:.9rem 0;border-bottom:1px solid var(--rule)}
        .packs tr:first-child{border-top:1px solid var(--muted)}
        .packs th,.packs td{display:block;border:0;padding:0;min-width:0}
        .packs tbody th,.packs .wide{grid-column:1/-1;max-width:none}
        .packs .k{display:block;color:var(--muted);font-size:.875rem}
        }
        @media screen and (max-width:36rem){
        header,main,footer{padding-left:1rem;padding-right:1rem}
        .due>li,.findings>li{grid-template-columns:minmax(0,1fr)}
        figure{margin:0 -1rem;border-left:0;border-right:0;border-radius:0;padding:1rem .9rem .7rem}
        .plot.wide{display:none}
        .plot.narrow{display:block}
        }
        @media print{
        @page{size:A4;margin:14mm 13mm}
        html{font-size:9pt}
        body{background:#FFFFFF}
        .packs th,.packs td{padding-right:.5rem;font-size:8pt;min-width:0}
        .packs tbody th{min-width:6.2rem}
        .packs .small,.packs thead th{font-size:7pt}
        .spark{width:90px;height:26px}
        header,main,footer{max-width:none;padding:0}
        .plot.narrow{display:none}
        .plot.wide{display:block;max-width:none}
        .charts{display:block}
        figure{display:grid;grid-template:auto 1fr/50mm 1fr;column-gap:6mm;border:0;border-top:1px solid var(--rule);border-radius:0;padding:3mm 0 4mm;margin:0}
        figcaption p{margin:.5mm 0 1mm;font-size:8.5pt;line-height:1.4}
        .draw{grid-area:1/2/3/3}
        .panel{margin:0 0 -1mm}
        .how,.evidence{font-size:7.5pt;line-height:1.35}
        .how{grid-area:2/1}
        details,.back{display:none}
        h2,h3,figcaption{break-after:avoid}
        .due>li,.findings>li,.packs tr,.facts div{break-inside:avoid}
        .cautions{margin-top:8mm;break-inside:avoid}
        a{text-decoration:none}
        }

        """;
}
