using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using PackCare.Core.Packs;
using PackCare.Core.Units;
using PackCare.Report.Tests.Browser;
using SkiaSharp;
using ZXing;
using ZXing.Common;

namespace PackCare.Report.Tests;

/// <summary>Sheets of labels as a browser shows and prints them.</summary>
[Collection(OpenReport.Name)]
public sealed partial class LabelsFitThePaper(OpenReport open) : IDisposable
{
    private const double PixelsPerMillimetre = 96 / 25.4; // CSS Values and Units 3, absolute lengths

    private static readonly string[] Names = ["Heron 1", "W\u00F6lfchen", "\u8239\u306E\u96FB\u6C60", "A very long label with many words that has sixty letters in", "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW"];

    private readonly string _path = Path.Combine(Directory.CreateTempSubdirectory("packcare-labels-").FullName, "labels.html");

    public void Dispose() => Directory.Delete(Path.GetDirectoryName(_path)!, recursive: true);

    [Theory]
    [InlineData("3x7")]
    [InlineData("3x8")]
    [InlineData("2x7")]
    [InlineData("5x13")]
    [InlineData("4x10:48.5x25.4")]
    public async Task Stickers_print_at_their_place_and_size_on_exactly_the_sheets_they_take(string format)
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        SheetFormat sheet = SheetFormat.Parse(format)!;
        const int skip = 2;
        int count = (sheet.Places * 2) + 1;
        Write(sheet, count, skip);
        await open.Browser.OpenAsync(_path, 1440, dark: true, stop);

        byte[] pdf = await open.Browser.PrintAsync(stop);
        string name = "labels-" + format.Replace(':', '-');
        await File.WriteAllBytesAsync(Path.Combine(OpenReport.PictureFolder, name + ".pdf"), pdf, stop);
        Assert.Equal(3, SheetOfPaper().Count(System.Text.Encoding.Latin1.GetString(pdf)));

        await open.Browser.LayOutForPaperAsync(stop);
        const string places = """
            [...document.querySelectorAll('.sheet')].map(sheet => {
              const frame = sheet.getBoundingClientRect();
              return [...sheet.children].map(item => { const box = item.getBoundingClientRect(); return [box.left - frame.left, box.top - frame.top, box.width, box.height]; });
            })
            """;
        JsonArray sheets = (await open.Browser.EvaluateAsync(places, stop))!.AsArray();
        Assert.Equal([sheet.Places, sheet.Places, 3], sheets.Select(one => one!.AsArray().Count));
        foreach (JsonArray items in sheets.Select(one => one!.AsArray()))
        {
            for (int place = 0; place < items.Count; place++)
            {
                double[] box = [.. items[place]!.AsArray().Select(value => value!.GetValue<double>() / PixelsPerMillimetre)];
                Assert.Equal(sheet.LeftMillimetres + (place % sheet.Columns * (sheet.WidthMillimetres + sheet.GapMillimetres)), box[0], 0.1);
                Assert.Equal(sheet.TopMillimetres + (place / sheet.Columns * sheet.HeightMillimetres), box[1], 0.1);
                Assert.Equal(sheet.WidthMillimetres, box[2], 0.05);
                Assert.Equal(sheet.HeightMillimetres, box[3], 0.05);
            }
        }
    }

    [Theory]
    [InlineData("3x7")]
    [InlineData("5x13")]
    public async Task What_is_on_a_sticker_stays_on_it_and_its_code_is_read_from_the_picture(string format)
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        SheetFormat sheet = SheetFormat.Parse(format)!;
        Write(sheet, Names.Length, skip: 1);
        await open.Browser.OpenAsync(_path, 1440, dark: false, stop);
        const string outside = """
            [...document.querySelectorAll('svg.sticker')].flatMap(sticker => {
              const frame = sticker.getBoundingClientRect(), code = sticker.querySelector('.code').getBoundingClientRect();
              return [...sticker.querySelectorAll('text')].filter(line => {
                const box = line.getBoundingClientRect();
                return box.left < code.right || box.right > frame.right || box.top < frame.top || box.bottom > frame.bottom;
              }).map(line => line.textContent);
            })
            """;
        Assert.Empty((await open.Browser.EvaluateAsync(outside, stop))!.AsArray().Select(line => (string)line!));

        // Zoomed as a telephone would see it; the labels are read from what the browser painted.
        const string boxes = "[...document.querySelectorAll('svg.sticker')].map(sticker => { const box = sticker.getBoundingClientRect(); return [box.left + scrollX, box.top + scrollY, box.width, box.height]; })";
        JsonArray stickers = (await open.Browser.EvaluateAsync(boxes, stop))!.AsArray();
        byte[] picture = await open.Browser.PictureAsync(stop, scale: 3);
        await File.WriteAllBytesAsync(Path.Combine(OpenReport.PictureFolder, $"labels-{format}.png"), picture, stop);
        using var bitmap = SKBitmap.Decode(picture);
        for (int at = 0; at < Names.Length; at++)
        {
            double[] box = [.. stickers[at]!.AsArray().Select(value => value!.GetValue<double>() * 3)];
            Assert.Equal(Names[at], Read(bitmap, (int)box[0], (int)box[1], (int)box[2], (int)box[3]));
        }
    }

    [Theory]
    [MemberData(nameof(Screens.All), MemberType = typeof(Screens))]
    public async Task The_page_of_labels_can_be_read_on_every_screen(int width, bool dark)
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        Write(SheetFormat.Known["3x7"], 25, skip: 3);
        await open.Browser.OpenAsync(_path, width, dark, stop);
        string name = $"labels-{width.ToString(CultureInfo.InvariantCulture)}{(dark ? "-dark" : "")}.png";
        await File.WriteAllBytesAsync(Path.Combine(OpenReport.PictureFolder, name), await open.Browser.PictureAsync(stop), stop);
        Assert.Empty(await open.Browser.AccessibilityFaultsAsync(stop));
        Assert.True((bool)(await open.Browser.EvaluateAsync("document.documentElement.scrollWidth <= innerWidth", stop))!);
        Assert.False(open.Browser.Complained, "the page breaks its own policy or asks for something that is not there");
    }

    private void Write(SheetFormat format, int count, int skip)
    {
        LabelPack Pack(int at) => LabelsCanBePrinted.With(new PackDetails(Names[at % Names.Length], 4, RatedCapacity: new AmpereHours(5), Bought: new DateOnly(2026, 3, 4)));
        LabelWriter.Write(new LabelInput([.. Enumerable.Range(0, count).Select(Pack)], format, skip), _path);
    }

    private static string? Read(SKBitmap bitmap, int left, int top, int width, int height)
    {
        byte[] grey = new byte[width * height];
        for (int y = 0; y < height; y++)
        {
            for (int x = 0; x < width; x++)
            {
                grey[(y * width) + x] = bitmap.GetPixel(left + x, top + y).Green;
            }
        }

        return new BarcodeReaderGeneric { Options = new DecodingOptions { PossibleFormats = [BarcodeFormat.QR_CODE], TryHarder = true } }
            .Decode(new RGBLuminanceSource(grey, width, height, RGBLuminanceSource.BitmapFormat.Gray8))?.Text;
    }

    [GeneratedRegex(@"/Type\s*/Page\b")]
    private static partial Regex SheetOfPaper();
}
