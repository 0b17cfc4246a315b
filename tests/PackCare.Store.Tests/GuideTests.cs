using PackCare.Store.Exchange;

namespace PackCare.Store.Tests;

public sealed class GuideTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly string _path;

    public GuideTests() => _path = _folder.File("history.db");

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_guide_is_kept_under_its_name_replaced_and_removed()
    {
        using (History history = Make.NewHistory(_path))
        {
            history.KeepGuide(new StoredGuide("bench", """{ "guide": 1 }"""));
            history.KeepGuide(new StoredGuide("attic", """{ "guide": 1, "decimal": "," }"""));
            history.KeepGuide(new StoredGuide("bench", """{ "guide": 1, "decimal": "." }"""));
        }

        using History again = History.Open(_path, create: false);
        Assert.Equal([new StoredGuide("attic", """{ "guide": 1, "decimal": "," }"""), new StoredGuide("bench", """{ "guide": 1, "decimal": "." }""")], again.Guides());
        Assert.True(again.RemoveGuide("attic"));
        Assert.False(again.RemoveGuide("attic"));
        Assert.Equal("bench", Assert.Single(again.Guides()).Name);
    }

    [Fact]
    public void What_is_no_json_is_not_kept()
    {
        using History history = Make.NewHistory(_path);

        Assert.Throws<HistoryException>(() => history.KeepGuide(new StoredGuide("bench", "guide: 1")));

        Assert.Empty(history.Guides());
    }

    [Fact]
    public void An_export_of_an_earlier_version_without_guides_is_taken_in()
    {
        using History history = Make.NewHistory(_path);
        string folder = _folder.File("out");
        HistoryFile.Export(history, folder);
        File.Delete(Path.Combine(folder, Exporter.GuidesName));
        string list = Path.Combine(folder, HashedFolder.ListName);
        File.WriteAllLines(list, File.ReadAllLines(list).Where(line => !line.EndsWith(Exporter.GuidesName, StringComparison.Ordinal)));

        HistoryFile.Import(folder, _folder.File("again.db"));

        using History again = History.Open(_folder.File("again.db"), create: false);
        Assert.Empty(again.Guides());
    }
}
