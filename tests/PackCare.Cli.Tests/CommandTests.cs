using System.Globalization;
using System.Text;
using System.Text.Json;
using PackCare.Cli.Tests.Running;

namespace PackCare.Cli.Tests;

/// <summary>Each command through the real executable.</summary>
public sealed class CommandTests : IDisposable
{
    private readonly Bench _bench = new();

    public static TheoryData<string> Commands =>
        new("demo", "add", "import", "watch", "assign", "check", "log", "list", "show", "why", "due", "report", "labels", "retire", "undo", "backup", "restore", "export", "doctor", "recompute", "drawn", "compact");

    public void Dispose() => _bench.Dispose();

    [Theory]
    [MemberData(nameof(Commands))]
    public void Help_shows_usage_examples_and_exit_codes_within_80_columns(string command)
    {
        Outcome help = _bench.Run(command, "--help").Expect(0);

        Assert.Contains("Usage:", help.Out, StringComparison.Ordinal);
        Assert.Contains("packcare " + command, help.Out[help.Out.IndexOf("Examples:", StringComparison.Ordinal)..], StringComparison.Ordinal);
        Assert.Contains("Exit codes:", help.Out, StringComparison.Ordinal);
        Assert.All(help.Out.Split('\n').Where(line => !line.TrimStart().StartsWith("packcare ", StringComparison.Ordinal)), line => Assert.True(line.Length <= 80, line));
    }

    [Fact]
    public void Without_a_command_the_program_explains_itself()
    {
        Assert.Contains("Commands:", _bench.Run().Expect(0).Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Add_enters_a_pack_once()
    {
        Assert.Equal("Entered Heron 1, 4S lipo, 5000 mAh.\n", _bench.Run("add", "Heron 1", "--cells", "4", "--capacity", "5000").Expect(0).Out);
        Assert.Contains("on record already", _bench.Run("add", "heron 1", "--cells", "4").Expect(2).Error, StringComparison.Ordinal);

        JsonElement teal = _bench.Run("add", "Teal", "--cells", "3", "--chemistry", "lihv", "--bought", "2026-03-31", "--price", "34.50", "--currency", "eur", "--json").Expect(0).Json();
        Assert.Equal("lihv", teal.GetProperty("chemistry").GetString());
        Assert.Equal("EUR", teal.GetProperty("currency").GetString());
        Assert.Equal(JsonValueKind.Null, teal.GetProperty("capacityAh").ValueKind);
    }

    [Theory]
    [InlineData("--cells", "0")]
    [InlineData("--cells", "25")]
    [InlineData("--cells", "4", "--capacity", "2,2")]
    [InlineData("--cells", "4", "--capacity", "-5")]
    [InlineData("--cells", "4", "--chemistry", "lead")]
    [InlineData("--cells", "4", "--bought", "31.03.2026")]
    [InlineData("--cells", "4", "--currency", "euros")]
    public void Add_refuses_what_no_pack_can_have(params string[] options)
    {
        Outcome refused = _bench.Run(["add", "Odd", .. options]).Expect(2);

        Assert.Single(refused.Error.TrimEnd().Split('\n'));
    }

    [Fact]
    public void Import_says_what_was_understood_and_the_same_file_twice_changes_nothing()
    {
        _bench.Run("add", "Heron 1", "--cells", "4", "--capacity", "2000").Expect(0);
        string log = _bench.Write("heron-1_2026-10-30T1620.csv", PlainLog.Charge(4, seed: 1));

        JsonElement first = _bench.Run("import", log, "--json").Expect(0).Json();
        Assert.Equal("imported", first.GetProperty("status").GetString());
        Assert.Equal(64, first.GetProperty("sha256").GetString()!.Length);
        Assert.Equal(",", first.GetProperty("reading").GetProperty("delimiter").GetString());
        Assert.Equal("wide", first.GetProperty("reading").GetProperty("layout").GetString());
        JsonElement ledger = first.GetProperty("ledger");
        Assert.Equal(
            ledger.GetProperty("lines").GetInt32(),
            ledger.EnumerateObject().Where(part => part.Name != "lines").Sum(part => part.Value.GetInt32()));
        JsonElement session = Assert.Single(first.GetProperty("sessions").EnumerateArray());
        Assert.Equal("Heron 1", session.GetProperty("pack").GetString());
        Assert.Equal("charge", session.GetProperty("kind").GetString());
        Assert.Equal(6, session.GetProperty("restSpreadMillivolts").GetDouble(), 0.01);
        Assert.Equal(4, session.GetProperty("endMillivolts").GetArrayLength());

        JsonElement second = _bench.Run("import", log, "--json").Expect(0).Json();
        Assert.Equal("already-imported", second.GetProperty("status").GetString());
        Assert.Equal(1, _bench.Run("show", "Heron 1", "--json").Expect(0).Json().GetProperty("usage").GetProperty("sessions").GetInt32());
    }

    [Fact]
    public void Import_dry_run_explains_each_column_and_stores_nothing()
    {
        string log = _bench.Write("some.csv", PlainLog.Charge(4, seed: 2));

        Outcome dry = _bench.Run("import", log, "--dry-run").Expect(0);

        Assert.Contains("cell voltage 3", dry.Out, StringComparison.Ordinal);
        Assert.Contains("first samples as they would be stored", dry.Out, StringComparison.Ordinal);
        Assert.Contains("nothing was stored", dry.Out, StringComparison.Ordinal);
        Assert.False(File.Exists(_bench.History));
    }

    [Fact]
    public void Import_dry_run_explains_a_file_that_was_imported_before_as_well()
    {
        string log = _bench.Write("some_2026-10-01T1000.csv", PlainLog.Charge(4, seed: 2));
        _bench.Run("import", log).Expect(0);

        Outcome dry = _bench.Run("import", log, "--dry-run").Expect(0);

        Assert.Contains("imported before", dry.Out, StringComparison.Ordinal);
        Assert.Contains("cell voltage 3", dry.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void A_large_file_under_another_name_is_known_by_its_bytes()
    {
        var text = new StringBuilder("time_s,current_a,cell1_v,cell2_v\n");
        for (int second = 0; second < 50_000; second++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{second},-1.00,{3.9 - (second * 1e-5):F3},{3.901 - (second * 1e-5):F3}\n");
        }

        Assert.True(text.Length > 1 << 20);
        string first = _bench.Write("first_2026-10-01T1000.csv", text.ToString());
        string copy = _bench.Write("copy2026-10-02T1000.csv", text.ToString());
        _bench.Run("import", first).Expect(0);
        string listed = _bench.Run("export", Path.Combine(_bench.Folder, "before")).Expect(0).Out;

        Assert.Contains("1 imported before", _bench.Run("import", copy).Expect(0).Out, StringComparison.Ordinal);
        Assert.Equal(listed.Replace("before", "after", StringComparison.Ordinal), _bench.Run("export", Path.Combine(_bench.Folder, "after")).Expect(0).Out);
    }

    [Fact]
    public void Import_takes_folders_and_several_files_at_once()
    {
        _bench.Run("add", "Teal", "--cells", "3").Expect(0);
        _bench.Write("logs/a/teal_2026-10-01T1000.csv", PlainLog.Charge(3, seed: 3));
        _bench.Write("logs/teal_2026-10-02T1000.csv", PlainLog.Charge(3, seed: 4));
        string single = _bench.Write("teal_2026-10-03T1000.csv", PlainLog.Charge(3, seed: 5));

        Outcome import = _bench.Run("import", Path.Combine(_bench.Folder, "logs"), single).Expect(0);

        Assert.Contains("Imported 3 files with 3 sessions", import.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_said_of_a_column_is_said_of_the_first_log_of_a_kind_and_counted_for_the_others()
    {
        for (int i = 0; i < 4; i++)
        {
            string log = PlainLog.Charge(3, seed: i);
            _bench.Write($"logs/run-{i}.csv", i < 3 ? log.Replace("temp_c", "tmpp", StringComparison.Ordinal) : log);
        }

        string[] said = _bench.Run("import", Path.Combine(_bench.Folder, "logs")).Expect(0).Error.TrimEnd().Split('\n');

        Assert.Collection(
            said,
            first => Assert.Matches("run-0.csv:2:8: note: a column \"tmpp\" that was left out", first),
            more => Assert.Matches("^2 more files: note: a column \"tmpp\"", more));
    }

    [Fact]
    public void A_log_of_nobody_waits_with_a_suggestion_until_it_is_assigned()
    {
        _bench.Run("add", "Small", "--cells", "3", "--capacity", "400").Expect(0);
        _bench.Run("add", "Fitting", "--cells", "3", "--capacity", "2000").Expect(0);
        _bench.Run("add", "Other", "--cells", "4", "--capacity", "2000").Expect(0);
        string log = _bench.Write("found_2026-10-20T1000.csv", PlainLog.Charge(3, seed: 6));

        JsonElement import = _bench.Run("import", log, "--json").Expect(0).Json();
        Assert.Equal("unassigned", import.GetProperty("status").GetString());
        JsonElement waiting = _bench.Run("assign", "--json").Expect(0).Json();
        Assert.Equal(["Fitting"], waiting.GetProperty("suggestions").EnumerateArray().Select(one => one.GetString()!));

        string id = waiting.GetProperty("id").GetInt64().ToString(System.Globalization.CultureInfo.InvariantCulture);
        Assert.Contains("has 4", _bench.Run("assign", "Other", id).Expect(1).Error, StringComparison.Ordinal);
        _bench.Run("assign", "Fitting", id).Expect(0);
        Assert.Equal(1, _bench.Run("show", "Fitting", "--json").Expect(0).Json().GetProperty("usage").GetProperty("sessions").GetInt32());
        Assert.Contains("Every session belongs to a pack", _bench.Run("assign").Expect(0).Out, StringComparison.Ordinal);
    }

    [Fact]
    public void A_waiting_log_is_assigned_as_soon_as_the_pack_it_names_is_entered()
    {
        _bench.Run("import", _bench.Write("swift-2_2026-10-30T1620.csv", PlainLog.Charge(2, seed: 7))).Expect(0);

        Assert.Contains("is now assigned", _bench.Run("add", "Swift 2", "--cells", "2").Expect(0).Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Check_enters_one_voltage_a_cell_and_says_where_the_pack_stands()
    {
        _bench.Run("add", "Heron 1", "--cells", "4").Expect(0);

        Outcome check = _bench.Run("check", "Heron 1", "3.84", "3.85", "3.84", "3.79", "--temp", "-4.5", "--ir", "4.1,4.0,4.2,4.9").Expect(0);
        Assert.Contains("spread 60 mV", check.Out, StringComparison.Ordinal);
        Assert.Contains("Standing:", check.Out, StringComparison.Ordinal);
        Assert.Contains("4 cells and 3 voltages", _bench.Run("check", "Heron 1", "3.84", "3.85", "3.84").Expect(2).Error, StringComparison.Ordinal);
        Assert.Contains("in volts", _bench.Run("check", "Heron 1", "3840", "3850", "3840", "3790").Expect(2).Error, StringComparison.Ordinal);
        Assert.Contains("3,84", _bench.Run("check", "Heron 1", "3,84", "3,85", "3,84", "3,79").Expect(2).Error, StringComparison.Ordinal);
        Assert.Contains("ahead of now", _bench.Run("check", "Heron 1", "3.8", "3.8", "3.8", "3.8", "--at", "2027-01-01").Expect(2).Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_swollen_pack_is_a_stop_whatever_its_figures()
    {
        _bench.Run("add", "Teal", "--cells", "3").Expect(0);
        _bench.Run("check", "Teal", "3.80", "3.80", "3.80").Expect(0);

        Assert.Contains("stop", _bench.Run("log", "Teal", "inspection", "--swollen").Expect(0).Out, StringComparison.Ordinal);
        JsonElement item = _bench.Run("due", "--json", "--exit-code").Expect(4).JsonLines()[0];
        Assert.Equal("stop", item.GetProperty("urgency").GetString());
        Assert.Equal("swollen", item.GetProperty("finding").GetProperty("code").GetString());
    }

    [Fact]
    public void Log_knows_its_kinds_only()
    {
        _bench.Run("add", "Teal", "--cells", "3").Expect(0);

        Assert.Contains("run, storage, inspection, note", _bench.Run("log", "Teal", "party").Expect(2).Error, StringComparison.Ordinal);
        Assert.Equal("storage", _bench.Run("log", "Teal", "storage", "--at", "2026-10-01T19:00", "--zone", "UTC", "--json").Expect(0).Json().GetProperty("kind").GetString());
    }

    [Fact]
    public void List_puts_the_gravest_first()
    {
        _bench.Run("add", "A quiet one", "--cells", "3").Expect(0);
        _bench.Run("add", "Z swollen", "--cells", "3").Expect(0);
        _bench.Run("log", "Z swollen", "inspection", "--swollen").Expect(0);

        IReadOnlyList<JsonElement> packs = _bench.Run("list", "--json").Expect(0).JsonLines();
        Assert.Equal(["Z swollen", "A quiet one"], packs.Select(pack => pack.GetProperty("pack").GetProperty("label").GetString()!));
        Assert.Equal("unknown", packs[1].GetProperty("standing").GetString());
        Assert.Equal(JsonValueKind.Null, packs[1].GetProperty("restSpreadMillivolts").ValueKind);
        Assert.Contains("Z swollen", _bench.Run("list").Expect(0).Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Show_has_every_key_of_the_contract_and_null_for_what_is_not_known()
    {
        _bench.Run("add", "Teal", "--cells", "3").Expect(0);

        JsonElement show = _bench.Run("show", "Teal", "--json").Expect(0).Json();
        Assert.Equal("unknown", show.GetProperty("standing").GetProperty("level").GetString());
        Assert.Equal(JsonValueKind.Null, show.GetProperty("imbalance").GetProperty("restSpreadMillivolts").ValueKind);
        Assert.Equal(JsonValueKind.Null, show.GetProperty("imbalance").GetProperty("trend").GetProperty("perCycleMillivolts").ValueKind);
        Assert.Equal(JsonValueKind.Null, show.GetProperty("fullCharge").GetProperty("currentSpellDays").ValueKind);
        Assert.Equal(25, show.GetProperty("resistance").GetProperty("referenceCelsius").GetDouble());
        Assert.Equal(JsonValueKind.Null, show.GetProperty("capacity").GetProperty("latestAh").ValueKind);
        Assert.Equal(0, show.GetProperty("usage").GetProperty("sessions").GetInt32());
        Assert.Contains("unknown", _bench.Run("show", "Teal").Expect(0).Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Retire_takes_a_pack_off_the_due_list_and_keeps_it_on_record()
    {
        _bench.Run("add", "Teal", "--cells", "3").Expect(0);
        _bench.Run("log", "Teal", "inspection", "--damaged").Expect(0);

        Assert.Contains("collection point", _bench.Run("retire", "Teal", "--reason", "dented").Expect(0).Out, StringComparison.Ordinal);
        Assert.Empty(_bench.Run("due", "--json", "--exit-code").Expect(0).Out);
        Assert.Contains("already", _bench.Run("retire", "Teal", "--reason", "again").Expect(1).Error, StringComparison.Ordinal);
        Assert.Equal("dented", _bench.Run("list", "--all", "--json").Expect(0).Json().GetProperty("pack").GetProperty("retiredReason").GetString());
        Assert.Empty(_bench.Run("list", "--json").Expect(0).Out);
    }

    [Fact]
    public void Report_writes_pages_that_exist()
    {
        _bench.Run("add", "Heron 1", "--cells", "4").Expect(0);
        _bench.Run("import", _bench.Write("heron-1_2026-10-30T1620.csv", PlainLog.Charge(4, seed: 8))).Expect(0);

        JsonElement report = _bench.Run("report", "--out", "pages", "--json").Expect(0).Json();
        string[] files = [.. report.GetProperty("files").EnumerateArray().Select(file => file.GetString()!)];
        Assert.Equal(2, files.Length);
        Assert.All(files, file => Assert.True(new FileInfo(file).Length > 1000));
        Assert.Equal("Heron 1", report.GetProperty("packs")[0].GetProperty("pack").GetString());
        Assert.Contains("tables", _bench.Run("report", "--out", "pages", "--csv", "--png").Expect(0).Out, StringComparison.Ordinal);
        Assert.StartsWith("pack,cells,", File.ReadAllText(Path.Combine(Path.GetDirectoryName(files[0])!, "data", "packs.csv")), StringComparison.Ordinal);
        Assert.NotEmpty(Directory.GetFiles(Path.Combine(Path.GetDirectoryName(files[0])!, "pictures"), "*.png"));
        Assert.Contains("Heron 1", File.ReadAllText(files[0]), StringComparison.Ordinal);
    }

    [Fact]
    public void A_report_leaves_nothing_of_an_earlier_one_behind_and_never_replaces_what_is_not_its_own()
    {
        _bench.Run("add", "Heron 1", "--cells", "4").Expect(0);
        _bench.Run("add", "Teal", "--cells", "3").Expect(0);
        _bench.Run("report", "--out", "pages", "--csv").Expect(0);
        Assert.Contains("Removed", _bench.Run("report", "Teal", "--out", "pages").Expect(0).Out, StringComparison.Ordinal);
        Assert.False(File.Exists(Path.Combine(_bench.Folder, "pages", "pack-heron-1.html")));
        Assert.Empty(Directory.GetFiles(Path.Combine(_bench.Folder, "pages", "data")));

        string mine = _bench.Write("site/index.html", "<h1>My site</h1>");
        Assert.Contains("not of a report", _bench.Run("report", "--out", "site").Expect(2).Error, StringComparison.Ordinal);
        Assert.Equal("<h1>My site</h1>", File.ReadAllText(mine));
    }

    [Theory]
    [InlineData("dmy", "1 Nov 2026")]
    [InlineData("mdy", "Nov 1, 2026")]
    [InlineData("iso", "2026-11-01")]
    public void Dates_on_pages_follow_the_option_else_the_variable(string order, string now)
    {
        _bench.Run("add", "Heron 1", "--cells", "4").Expect(0);
        string Page(params string[] options)
        {
            _bench.Run(["report", "--out", "pages", .. options]).Expect(0);
            return File.ReadAllText(Path.Combine(_bench.Folder, "pages", "index.html")).Replace('\u00A0', ' ');
        }

        Assert.Contains(now, Page("--dates", order), StringComparison.Ordinal);
        _bench.Environment["PACKCARE_DATES"] = order;
        Assert.Contains(now, Page(), StringComparison.Ordinal);
        Assert.Contains("2026-11-01", Page("--dates", "ISO"), StringComparison.Ordinal);
        Assert.Contains("iso (2026-03-04)", _bench.Run("report", "--dates", "ydm").Expect(2).Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Labels_are_of_packs_in_use_unless_named()
    {
        _bench.Run("add", "Heron 1", "--cells", "4", "--capacity", "5000", "--bought", "2026-03-04").Expect(0);
        _bench.Run("add", "Teal", "--cells", "3").Expect(0);
        _bench.Run("retire", "Teal", "--reason", "dented").Expect(0);

        JsonElement labels = _bench.Run("labels", "--json", "--skip", "3").Expect(0).Json();
        JsonElement label = Assert.Single(labels.GetProperty("labels").EnumerateArray());
        Assert.Equal("Heron 1", label.GetProperty("pack").GetString());
        Assert.Equal(JsonValueKind.Null, label.GetProperty("firstUse").ValueKind);
        Assert.Equal("2026-03-04", label.GetProperty("bought").GetString());
        Assert.Equal(1, labels.GetProperty("sheets").GetInt32());
        string page = File.ReadAllText(labels.GetProperty("file").GetString()!);
        Assert.Contains("Heron 1: 4S1P LiPo, 5000 mAh, Bought 2026-03-04", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Teal", page, StringComparison.Ordinal);

        Assert.Contains("Wrote 3 labels on 1 sheet", _bench.Run("labels", "Teal", "Heron 1", "Teal", "--sheet", "3x8", "--out", "out/labels.html", "--dates", "dmy", "--outline").Expect(0).Out, StringComparison.Ordinal);
        Assert.Contains("Bought 4\u00A0Mar\u00A02026", File.ReadAllText(Path.Combine(_bench.Folder, "out", "labels.html")), StringComparison.Ordinal);
    }

    [Fact]
    public void Labels_refuse_what_cannot_be_printed_or_would_replace_something_else()
    {
        Assert.Equal(3, _bench.Run("labels").ExitCode);
        _bench.Run("add", "Teal", "--cells", "3").Expect(0);
        Assert.Contains("3x7", _bench.Run("labels", "--sheet", "9x9").Expect(2).Error, StringComparison.Ordinal);
        Assert.Contains("0 to 20", _bench.Run("labels", "--skip", "21").Expect(2).Error, StringComparison.Ordinal);
        Assert.Contains("no pack 'Nobody'", _bench.Run("labels", "Nobody").Expect(2).Error, StringComparison.Ordinal);
        string mine = _bench.Write("mine.html", "mine");
        Assert.Contains("not made by this command", _bench.Run("labels", "--out", "mine.html").Expect(2).Error, StringComparison.Ordinal);
        Assert.Equal("mine", File.ReadAllText(mine));
        _bench.Run("labels", "--out", "ours.html").Expect(0);
        _bench.Run("labels", "--out", "ours.html").Expect(0);
        _bench.Run("retire", "Teal", "--reason", "old").Expect(0);
        Assert.Contains("no pack is in use", _bench.Run("labels").Expect(2).Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Recompute_gives_the_same_figures_from_the_samples()
    {
        _bench.Run("add", "Heron 1", "--cells", "4", "--capacity", "2000").Expect(0);
        _bench.Run("import", _bench.Write("heron-1_2026-10-30T1620.csv", PlainLog.Charge(4, seed: 9))).Expect(0);
        string before = _bench.Run("show", "Heron 1", "--json").Expect(0).Out;

        Assert.Contains("1 summary again", _bench.Run("recompute").Expect(0).Out, StringComparison.Ordinal);
        Assert.Equal(before, _bench.Run("show", "Heron 1", "--json").Expect(0).Out);
    }

    [Theory]
    [InlineData("show", "Nobody")]
    [InlineData("retire", "Nobody", "--reason", "x")]
    [InlineData("check", "Nobody", "3.8")]
    [InlineData("log", "Nobody", "note")]
    [InlineData("report", "Nobody")]
    public void An_unknown_pack_is_one_sentence_that_names_those_there_are(params string[] arguments)
    {
        _bench.Run("add", "Teal", "--cells", "3").Expect(0);

        string error = _bench.Run(arguments).Expect(2).Error;
        Assert.Contains("'Nobody'", error, StringComparison.Ordinal);
        Assert.Contains("known: Teal", error, StringComparison.Ordinal);
        Assert.Single(error.TrimEnd().Split('\n'));
    }

    [Fact]
    public void Output_into_a_pipe_is_plain_text()
    {
        _bench.Run("add", "Teal", "--cells", "3").Expect(0);

        Assert.DoesNotContain('\u001B', _bench.Run("list").Expect(0).Out + _bench.Run("due").Expect(0).Out + _bench.Run("show", "Teal").Expect(0).Out);
    }
}
