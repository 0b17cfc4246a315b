using PackCare.Report.Look;

namespace PackCare.Report.Tests;

/// <summary>Contrast by the formula of WCAG 2.2 (relative luminance and contrast ratio).</summary>
public class ColoursCanBeSeen
{
    [Theory]
    [InlineData("000000", "FFFFFF", 21.0)] // WCAG 2.2, definition of contrast ratio: from 1 to 21
    [InlineData("767676", "FFFFFF", 4.54)] // common practice: the lightest grey that passes AA on white
    [InlineData("777777", "FFFFFF", 4.48)] // and the first that does not
    public void The_formula_gives_the_published_ratios(string one, string other, double ratio) =>
        Assert.Equal(ratio, Contrast(one, other), 0.005);

    [Fact]
    public void Text_has_four_and_a_half_to_one_on_every_ground_it_stands_on()
    {
        foreach (Tone text in new[] { Tones.Ink, Tones.Muted })
        {
            foreach (Tone ground in new[] { Tones.Paper, Tones.Card, Tones.Within })
            {
                Assert.True(Contrast(text.Light, ground.Light) >= 4.5, $"{text.Name} on {ground.Name}, light");
                Assert.True(Contrast(text.Dark, ground.Dark) >= 4.5, $"{text.Name} on {ground.Name}, dark");
            }
        }
    }

    [Fact]
    public void Lines_and_marks_have_three_to_one_on_the_card_they_stand_on()
    {
        foreach (Tone mark in Tones.Cells.Concat([Tones.Ink, Tones.Muted]))
        {
            Assert.True(Contrast(mark.Light, Tones.Card.Light) >= 3, $"{mark.Name}, light");
            Assert.True(Contrast(mark.Dark, Tones.Card.Dark) >= 3, $"{mark.Name}, dark");
        }

        foreach (Tone mark in new[] { Tones.Blue, Tones.Vermillion, Tones.Muted })
        {
            Assert.True(Contrast(mark.Light, Tones.Paper.Light) >= 3, $"{mark.Name} of a standing, light");
            Assert.True(Contrast(mark.Dark, Tones.Paper.Dark) >= 3, $"{mark.Name} of a standing, dark");
        }
    }

    // Okabe M., Ito K. (2008), Color Universal Design, the set of eight colours, in RGB.
    [Fact]
    public void Colours_that_tell_things_apart_are_those_of_the_published_set()
    {
        string[] published = ["000000", "E69F00", "56B4E9", "009E73", "F0E442", "0072B2", "D55E00", "CC79A7", "FFFFFF"];
        Assert.All(Tones.Cells, tone => Assert.Contains(tone.Light, published));
        Assert.All(Tones.Cells, tone => Assert.Contains(tone.Dark, published));
    }

    [Fact]
    public void No_two_tones_share_a_colour_on_either_page()
    {
        Assert.Equal(Tones.All.Count, Tones.All.Select(tone => tone.Light).Distinct().Count());
        Assert.Equal(Tones.All.Count, Tones.All.Select(tone => tone.Dark).Distinct().Count());
    }

    [Fact]
    public void Twenty_four_cells_look_different_each_and_neighbours_differ_without_colour()
    {
        CellStyle[] styles = [.. Enumerable.Range(1, 24).Select(CellStyle.Of)];
        Assert.Equal(24, styles.Select(style => (style.Tone.Name, string.Join(' ', style.Dash), style.Mark)).Distinct().Count());
        for (int cell = 1; cell < 24; cell++)
        {
            Assert.NotEqual((string.Join(' ', styles[cell - 1].Dash), styles[cell - 1].Mark), (string.Join(' ', styles[cell].Dash), styles[cell].Mark));
        }

        Assert.Equal(12, styles.Take(12).Select(style => (string.Join(' ', style.Dash), style.Mark)).Distinct().Count());
    }

    private static double Contrast(string one, string other)
    {
        double a = Luminance(one);
        double b = Luminance(other);
        return (Math.Max(a, b) + 0.05) / (Math.Min(a, b) + 0.05);
    }

    private static double Luminance(string hex)
    {
        double Part(int at)
        {
            double share = Convert.ToInt32(hex.Substring(at, 2), 16) / 255.0;
            return share <= 0.04045 ? share / 12.92 : Math.Pow((share + 0.055) / 1.055, 2.4);
        }

        return (0.2126 * Part(0)) + (0.7152 * Part(2)) + (0.0722 * Part(4));
    }
}
