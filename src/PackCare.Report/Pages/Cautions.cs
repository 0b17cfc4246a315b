using PackCare.Report.Html;

namespace PackCare.Report.Pages;

/// <summary>The usual cautions. Common practice; fire services and makers give the like advice, and theirs goes first.</summary>
internal static class Cautions
{
    public static Markup Section { get; } = new("""
        <section class="cautions">
        <h2>Whatever the figures say</h2>
        <p>The maker’s instructions and local rules come before anything on this page. These figures are drawn from logs, and a log does not show a crushed corner, a cut lead or water inside. No standing here says that a pack is free of danger.</p>
        <ul>
        <li><b>Charging:</b> stay with it, on a surface that does not burn and away from what does. Use a charger made for the chemistry, with the right cell count and current. Stop at once at swelling, heat, smell or smoke.</li>
        <li><b>Swollen or damaged:</b> do not charge, discharge or use the pack, do not press or open it. Put it outdoors or in a place where a fire does no harm, away from people, and have it taken away as local rules say.</li>
        <li><b>Hot or cold:</b> do not charge below 0 °C or above 40 °C, nor a pack that is still hot from use, unless its maker allows it.</li>
        <li><b>Low cells:</b> a cell that was deeply discharged can fail when it is charged again. Do not bring it back unattended, or at all where the maker says so.</li>
        <li><b>Storage:</b> at storage level, cool and dry, terminals covered, away from escape routes.</li>
        <li><b>Fire:</b> leave, close the door, call the fire service. It can start again hours later.</li>
        <li><b>Disposal:</b> never in household waste. Tape the terminals and take the pack to a collection point; ask first about a damaged one.</li>
        </ul>
        </section>
        """.ReplaceLineEndings("\n"));
}
