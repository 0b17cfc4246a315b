using System.Globalization;
using AngleSharp.Dom;
using AngleSharp.Html.Parser;
using CsCheck;
using PackCare.Core.Packs;
using PackCare.Core.Units;
using PackCare.Report.Labels;
using PackCare.Report.Pages;
using PackCare.Report.Tests.Fixtures;
using ZXing;
using ZXing.Common;

namespace PackCare.Report.Tests;

public sealed class LabelsCanBePrinted : IDisposable
{
    private readonly string _path = Path.GetTempFileName();

    public static readonly TheoryData<string> Labels =
    [
        "Heron 1",
        "A",
        "12345",
        "BOAT 1",
        "Kr\u00E4henbeere \u00F1\u00E9",
        "\u041B\u043E\u0434\u043A\u0430 3",
        "\u8239\u306E\u96FB\u6C60 \u4E8C",
        "\u05E1\u05D9\u05E8\u05D4 7",
        "\uD83D\uDD0B two \uD83D\uDC69\u200D\uD83D\uDD2C",
        "<b>&amp;\"'</b>",
        "https://example.com/?a=b&c=d",
        "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW",
        "\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60\u96FB\u6C60",
    ];

    public void Dispose() => File.Delete(_path);

    // Read back by a decoder that has nothing in common with the encoder.
    [Theory]
    [MemberData(nameof(Labels))]
    public void The_code_says_the_label_to_an_independent_reader(string label)
    {
        foreach (SheetFormat format in SheetFormat.Known.Values)
        {
            double side = format.HeightMillimetres * 6;
            Assert.Equal(label, Decode(QrSymbol.Of(label, side, 4)));
        }
    }

    [Fact]
    public void Any_label_comes_back_from_its_code() =>
        Gen.String[Gen.Char[' ', '\u2FFF'], 1, 60].Where(text => text.Trim().Length > 0 && !text.Any(char.IsControl)).Sample(
            text => Decode(QrSymbol.Of(text, 250, 4)) == text,
            iter: 60);

    [Fact]
    public void Error_correction_gives_way_before_modules_get_too_small_to_read()
    {
        string label = new('W', 60);
        Assert.True(QrSymbol.Of(label, 60, 4).Size < QrSymbol.Of(label, 600, 4).Size);
        Assert.Equal(QrSymbol.Of("A", 10_000, 4).Size, QrSymbol.Of("A", 200, 4).Size);
    }

    [Fact]
    public void A_sticker_says_label_cells_capacity_and_first_use()
    {
        DateText dates = DateText.In(DateOrder.YearFirst);
        ReportPack used = StoryTeller.Tell(new Story { Label = "One", Charges = 3 }, 1);
        Assert.Equal(["4S1P LiPo", "5000 mAh", "First use 2026-04-20"], Sticker.Details(new LabelPack(used.History.Pack, DateOnly.FromDateTime(used.History.Sessions[0].Started.DateTime)), dates));

        LabelPack never = With(new PackDetails("Two", 6, Parallel: 2, Chemistry: Chemistry.LiIon, RatedCapacity: new AmpereHours(7), Bought: new DateOnly(2026, 3, 4)));
        Assert.Equal(["6S2P Li-ion", "7000 mAh", "Bought 2026-03-04"], Sticker.Details(never, dates));
        Assert.Equal("Bought 4\u00A0Mar\u00A02026", Sticker.Details(never, DateText.In(DateOrder.DayFirst))[2]);
        Assert.Equal(["1S1P LiPo", "Capacity unknown", "First use unknown"], Sticker.Details(With(new PackDetails("Three", 1)), dates));
    }

    [Theory]
    [MemberData(nameof(Labels))]
    public void A_label_is_on_its_sticker_whole_and_does_nothing(string label)
    {
        foreach (SheetFormat format in SheetFormat.Known.Values)
        {
            LabelWriter.Write(new LabelInput([With(new PackDetails(label, 4))], format), _path);
            IDocument page = new HtmlParser(new HtmlParserOptions { IsStrictMode = true }).ParseDocument(File.ReadAllText(_path));
            Assert.Empty(page.QuerySelectorAll("script, img, link, b, [style], [href], [src]"));
            IElement sticker = Assert.Single(page.QuerySelectorAll("svg.sticker"));
            Assert.StartsWith(label + ": ", sticker.GetAttribute("aria-label"), StringComparison.Ordinal);
            string shown = string.Concat(sticker.QuerySelectorAll("text").SkipLast(3).Select(line => line.TextContent));
            Assert.Equal(label.Replace(" ", "", StringComparison.Ordinal), shown.Replace(" ", "", StringComparison.Ordinal));
        }
    }

    [Fact]
    public void Letters_stay_inside_the_room_they_have_and_no_smaller_than_asked() =>
        Gen.Select(Gen.String[Gen.Char[' ', '~'], 1, 60], Gen.Double[80, 600], Gen.Double[60, 250]).Sample((text, width, height) =>
        {
            LabelLines lines = LabelLines.Fit(text, width, height, 70, 18);
            return lines.Size is >= 18 * 0.94 and <= 70
                && lines.Lines.Count >= 1
                && lines.Height <= Math.Max(height, lines.Size * LabelLines.Leading) + 1e-9
                && lines.Lines.All(line => LabelLines.Width(line, lines.Size) <= width + 1e-6);
        });

    [Fact]
    public void What_is_too_long_for_the_smallest_letters_ends_in_an_ellipsis()
    {
        LabelLines lines = LabelLines.Fit(new string('W', 60), 100, 41, 50, 18);
        Assert.EndsWith("\u2026", lines.Lines[^1], StringComparison.Ordinal);
        Assert.Equal(2, lines.Lines.Count);
    }

    [Theory]
    [InlineData("3x7", 3, 7, 63.5, 38.1, 2.5, 7.25, 15.15)]
    [InlineData("3X8", 3, 8, 70, 37, 0, 0, 0.5)]
    [InlineData("2x7", 2, 7, 99.1, 38.1, 2.5, 4.65, 15.15)]
    [InlineData("5x13", 5, 13, 38.1, 21.2, 2.5, 4.75, 10.7)]
    [InlineData("4x10:48.5x25.4", 4, 10, 48.5, 25.4, 0, 8, 21.5)]
    [InlineData("1x1:210x297", 1, 1, 210, 297, 0, 0, 0)]
    public void A_format_lies_in_the_middle_of_the_sheet(string text, int columns, int rows, double width, double height, double gap, double left, double top)
    {
        SheetFormat format = SheetFormat.Parse(text)!;
        Assert.Equal(new SheetFormat(columns, rows, width, height, gap), format);
        Assert.Equal(left, format.LeftMillimetres, 1e-9);
        Assert.Equal(top, format.TopMillimetres, 1e-9);
    }

    [Theory]
    [InlineData("")]
    [InlineData("4x4")]
    [InlineData("0x7:63.5x38.1")]
    [InlineData("4x7:63.5x38.1")]
    [InlineData("3x8:63.5x38.1")]
    [InlineData("9x20:20x14")]
    [InlineData("3x7:63,5x38,1")]
    [InlineData("3x7:63.5x38.1+40")]
    [InlineData("-3x7:63.5x38.1")]
    public void What_is_no_format_or_does_not_fit_the_sheet_is_refused(string text) => Assert.Null(SheetFormat.Parse(text));

    [Theory]
    [InlineData(21, 0, 1)]
    [InlineData(22, 0, 2)]
    [InlineData(16, 5, 1)]
    [InlineData(17, 5, 2)]
    [InlineData(43, 20, 3)]
    public void Places_that_are_used_up_stay_free(int count, int skip, int sheets)
    {
        var input = new LabelInput([.. Enumerable.Range(1, count).Select(number => With(new PackDetails($"Pack {number.ToString(CultureInfo.InvariantCulture)}", 4)))], SheetFormat.Known["3x7"], skip);
        LabelWriter.Write(input, _path);
        IDocument page = WrittenReport.Parse(_path);
        Assert.Equal(sheets, input.Sheets);
        Assert.Equal(sheets, page.QuerySelectorAll(".sheet").Length);
        Assert.Equal(skip, page.QuerySelectorAll(".sheet")[0].QuerySelectorAll("li.used").Length);
        Assert.Equal(skip, page.QuerySelectorAll("li.used").Length);
        Assert.Equal(count, page.QuerySelectorAll("svg.sticker").Length);
        Assert.All(page.QuerySelectorAll(".sheet"), sheet => Assert.InRange(sheet.ChildElementCount, 1, 21));
    }

    [Fact]
    public void The_policy_allows_its_own_style_sheet_and_a_file_of_ours_is_known_again()
    {
        LabelWriter.Write(new LabelInput([With(new PackDetails("One", 4))], SheetFormat.Known["3x7"], Outline: true), _path);
        IDocument page = WrittenReport.Parse(_path);
        string policy = page.QuerySelector("meta[http-equiv=Content-Security-Policy]")!.GetAttribute("content")!;
        Assert.Equal(Look.ContentPolicy.Allowing(page.QuerySelector("style")!.TextContent), policy);
        Assert.True(LabelWriter.Made(_path));
        File.WriteAllText(_path, "<p>mine</p>");
        Assert.False(LabelWriter.Made(_path));
    }

    internal static LabelPack With(PackDetails details) => new(new Pack(1, details, StoryTeller.Now), null);

    // Four pixels a module, and the quiet zone that the sticker leaves.
    private static string? Decode(QrSymbol symbol)
    {
        const int scale = 4;
        int size = (symbol.Size + (2 * QrSymbol.QuietModules)) * scale;
        byte[] grey = new byte[size * size];
        for (int y = 0; y < size; y++)
        {
            for (int x = 0; x < size; x++)
            {
                int row = (y / scale) - QrSymbol.QuietModules;
                int column = (x / scale) - QrSymbol.QuietModules;
                bool dark = row >= 0 && row < symbol.Size && column >= 0 && column < symbol.Size && symbol.IsDark(row, column);
                grey[(y * size) + x] = dark ? (byte)0 : (byte)255;
            }
        }

        return new BarcodeReaderGeneric { Options = new DecodingOptions { PossibleFormats = [BarcodeFormat.QR_CODE], PureBarcode = true } }
            .Decode(new RGBLuminanceSource(grey, size, size, RGBLuminanceSource.BitmapFormat.Gray8))?.Text;
    }
}
