using System.Text.Json;
using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Guides;

namespace PackCare.Import.Tests;

public class GuideTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "Files");

    [Theory]
    [InlineData(".", "0.001234")]
    [InlineData(",", "1.234")]
    public void A_decimal_mark_that_the_log_leaves_open_is_fixed_by_a_guide(string mark, string amperes)
    {
        ReadResult result = Read("undecidable-group.csv", $$"""{ "guide": 1, "decimal": "{{mark}}" }""");

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.Equal(amperes, result.Sessions[0].Samples[ChannelKey.Current]!.ToDecimals().First()!.Value.ToString(System.Globalization.CultureInfo.InvariantCulture));
    }

    [Theory]
    [InlineData("day-first", 4)]
    [InlineData("month-first", 3)]
    public void An_order_of_day_and_month_that_the_log_leaves_open_is_fixed_by_a_guide(string order, int month)
    {
        ReadResult result = Read("date-ambiguous.csv", $$"""{ "guide": 1, "dateOrder": "{{order}}" }""");

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.Equal(month, result.Sessions[0].Started.Month);
    }

    [Fact]
    public void Dates_as_spreadsheets_count_days_are_read_with_a_guide_that_says_so()
    {
        ReadResult result = Read("times/time-serial-date.csv", """{ "guide": 1, "columns": [ { "index": 1, "meaning": "timestamp", "unit": "d" } ] }""");

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.Equal(new DateTime(2026, 10, 31, 12, 0, 0, DateTimeKind.Utc), result.Sessions[0].Started.UtcDateTime);
        Assert.Equal(Enumerable.Range(0, 30).Select(row => (decimal?)(row * 10)), result.Sessions[0].Samples[ChannelKey.Time]!.ToDecimals());
    }

    [Theory]
    [InlineData("packs-in-turn-unnamed.csv")]
    [InlineData("turns/own-times-no-header.csv")]
    public void Packs_that_take_turns_in_a_log_without_a_header_are_told_apart_by_the_guide_line_that_the_refusal_shows(string file)
    {
        InputProblem refusal = Read(file, """{ "guide": 1 }""").Problems.Single(problem => problem.Level == ProblemLevel.Refusal);
        string line = refusal.Advice[refusal.Advice.IndexOf('{', StringComparison.Ordinal)..(refusal.Advice.IndexOf('}', StringComparison.Ordinal) + 1)];

        ReadResult result = Read(file, $$"""{ "guide": 1, "columns": [ {{line}} ] }""");

        Assert.Equal("rows-take-turns", refusal.Code);
        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.Equal(["Heron", "Teal"], result.Sessions.Select(session => session.PackHint));
    }

    [Fact]
    public void Columns_that_headers_name_wrongly_are_named_by_a_guide()
    {
        ReadResult result = Read("duplicate-cell-header.csv", """{ "guide": 1, "columns": [ { "index": 5, "meaning": "cell-voltage", "unit": "V", "cell": 3 } ] }""");

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.Equal(3, result.Sessions[0].Samples.CellCount);
    }

    [Fact]
    public void A_column_that_a_guide_ignores_is_left_out()
    {
        ReadResult result = Read("semicolon-comma-header.csv", """{ "guide": 1, "columns": [ { "header": "temp [°C]", "meaning": "ignored" } ] }""");

        Assert.Null(result.Sessions[0].Samples[ChannelKey.Temperature(1)]);
        Assert.NotNull(result.Sessions[0].Samples[ChannelKey.Charge]);
    }

    [Fact]
    public void A_guide_does_not_make_the_impossible_possible()
    {
        ReadResult result = Read("semicolon-comma-header.csv", """{ "guide": 1, "columns": [ { "index": 4, "meaning": "cell-voltage", "unit": "mV", "cell": 1 } ] }""");

        Assert.True(result.Refused);
        Assert.Empty(result.Sessions);
    }

    [Fact]
    public void A_guide_against_which_the_cells_speak_is_refused()
    {
        ReadResult result = Read("semicolon-comma-header.csv", """{ "guide": 1, "positiveCurrent": "discharging" }""");

        Assert.Equal("direction-unclear", result.Problems.Single(problem => problem.Level == ProblemLevel.Refusal).Code);
    }

    [Theory]
    [InlineData("semicolon-comma-header.csv")]
    [InlineData("semicolon-comma-no-header.csv")]
    [InlineData("tab-point-milli-no-header.csv")]
    [InlineData("long.csv")]
    [InlineData("cells-bracketed.csv")]
    [InlineData("counters-apart.csv")]
    [InlineData("windows-1252.csv")]
    [InlineData("utf16le-bom.csv")]
    [InlineData("iso-offset.csv")]
    [InlineData("mode-unsigned.csv")]
    [InlineData("two-packs-in-turn.csv")]
    public void A_reading_written_as_a_guide_reads_the_same_log_the_same_way(string file)
    {
        ReadResult before = Logs.ReadFile(Path.Combine(Folder, file));
        string json = GuideFile.Write(ReadingGuide.Of(before.Reading!, file));

        ReadResult after = Read(file, json);

        Assert.False(after.Refused, string.Join("\n", after.Problems) + json);
        Assert.Equal(before.Sessions.Count, after.Sessions.Count);
        Assert.All(before.Sessions.Zip(after.Sessions), pair => Assert.Equal(
            pair.First.Samples.Channels.Select(channel => (channel.Key, string.Join(' ', channel.ToDecimals()))),
            pair.Second.Samples.Channels.Select(channel => (channel.Key, string.Join(' ', channel.ToDecimals())))));
    }

    [Theory]
    [InlineData("{ \"index\": 40, \"meaning\": \"ignored\" }", "column 40")]
    [InlineData("{ \"header\": \"nowhere\", \"meaning\": \"ignored\" }", "\"nowhere\"")]
    [InlineData("{ \"index\": 1, \"header\": \"nowhere\", \"meaning\": \"ignored\" }", "\"nowhere\"")]
    [InlineData("{ \"index\": 3, \"meaning\": \"cell-voltage\", \"cell\": 1 }, { \"index\": 4, \"meaning\": \"cell-voltage\", \"cell\": 1 }", "cell 1 twice")]
    [InlineData("{ \"index\": 3, \"meaning\": \"current\" }, { \"index\": 3, \"meaning\": \"ignored\" }", "two things")]
    public void A_guide_that_does_not_fit_the_log_refuses_it(string columns, string found)
    {
        ReadResult result = Read("units-slash.csv", $"{{ \"guide\": 1, \"columns\": [ {columns} ] }}");

        Assert.True(result.Refused);
        Assert.Contains(found, Assert.Single(result.Problems, problem => problem.Code == "guide-column").Found, StringComparison.Ordinal);
    }

    [Fact]
    public void A_guide_applies_by_itself_to_logs_with_its_headers()
    {
        LogReading reading = Logs.ReadFile(Path.Combine(Folder, "semicolon-comma-header.csv")).Reading!;
        LogReading other = Logs.ReadFile(Path.Combine(Folder, "units-slash.csv")).Reading!;
        var guide = ReadingGuide.Of(reading, "semicolon-comma-header.csv");

        Assert.True(guide.AppliesTo("another.csv", reading));
        Assert.False(guide.AppliesTo("another.csv", other));
        Assert.True(new ReadingGuide { FileName = "bay-?-*.csv" }.AppliesTo("bay-4-0012.csv", null));
        Assert.False(new ReadingGuide().AppliesTo("bay-4-0012.csv", reading));
    }

    [Theory]
    [InlineData("{ \"guide\": 1,\n \"delimeter\": \";\" }", 2)]
    [InlineData("{ \"guide\": 1,\n \"delimiter\": 5 }", 2)]
    [InlineData("{ \"guide\": 1, \"columns\": [ { \"index\": 1, \"meaning\": \"volts\" } ] }", 1)]
    [InlineData("not json", 1)]
    public void A_guide_that_cannot_be_understood_is_refused_with_its_line(string json, int line)
    {
        Assert.Null(GuideFile.Read(json, out InputProblem? problem));
        Assert.Equal("bad-guide", problem!.Code);
        Assert.Equal(line, problem.Line);
    }

    [Theory]
    [InlineData("{ \"guide\": 2 }")]
    [InlineData("{ \"guide\": 1, \"delimiter\": \"x\" }")]
    [InlineData("{ \"guide\": 1, \"decimal\": \";\" }")]
    [InlineData("{ \"guide\": 1, \"encoding\": \"ebcdic\" }")]
    [InlineData("{ \"guide\": 1, \"zone\": \"Nowhere/Land\" }")]
    [InlineData("{ \"guide\": 1, \"columns\": [ { \"meaning\": \"current\" } ] }")]
    [InlineData("{ \"guide\": 1, \"columns\": [ { \"index\": 1, \"meaning\": \"current\", \"unit\": \"furlong\" } ] }")]
    public void A_guide_that_says_what_cannot_be_is_refused(string json)
    {
        Assert.Null(GuideFile.Read(json, out InputProblem? problem));
        Assert.Equal("bad-guide", problem!.Code);
    }

    [Fact]
    public void The_published_schema_knows_every_meaning_and_every_property()
    {
        using JsonDocument schema = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "reading-guide.schema.json")));
        JsonElement column = schema.RootElement.GetProperty("properties").GetProperty("columns").GetProperty("items");
        IEnumerable<string> meanings = Enum.GetValues<ColumnMeaning>().Select(meaning => JsonNamingPolicy.KebabCaseLower.ConvertName(meaning.ToString()));

        Assert.Equal(meanings, column.GetProperty("properties").GetProperty("meaning").GetProperty("enum").EnumerateArray().Select(value => value.GetString()));
        var full = new ReadingGuide
        {
            Name = "n", FileName = "*", Headers = ["a"], Encoding = "utf-8", Delimiter = ';', DecimalMark = ',', DayFirst = true, ChargingIsPositive = true, Zone = "UTC", Pack = "p",
            Columns = [new GuideColumn(1, "a", ColumnMeaning.CellVoltage, "V", 1)],
        };
        using JsonDocument written = JsonDocument.Parse(GuideFile.Write(full));
        Assert.Equal(
            schema.RootElement.GetProperty("properties").EnumerateObject().Select(property => property.Name).Where(name => name != "$schema").Order(StringComparer.Ordinal),
            written.RootElement.EnumerateObject().Select(property => property.Name).Order(StringComparer.Ordinal));
        Assert.Equal(
            column.GetProperty("properties").EnumerateObject().Select(property => property.Name).Order(StringComparer.Ordinal),
            written.RootElement.GetProperty("columns")[0].EnumerateObject().Select(property => property.Name).Order(StringComparer.Ordinal));
    }

    private static ReadResult Read(string file, string json)
    {
        ReadingGuide? guide = GuideFile.Read(json, out InputProblem? problem);
        Assert.True(guide is not null, problem?.ToString());
        using FileStream stream = File.OpenRead(Path.Combine(Folder, file));
        return LogReader.Read(stream, new LogSource(file, Logs.Written), new ReadOptions(null, TimeZoneInfo.Utc, Guide: guide));
    }
}
