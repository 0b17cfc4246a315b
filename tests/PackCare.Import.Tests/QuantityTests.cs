using System.Globalization;
using PackCare.Core.Reading;

namespace PackCare.Import.Tests;

/// <summary>Which column is the current, the counter or a temperature, where other quantities stand beside them. The logs are invented: three cells that are discharged by a current that goes down.</summary>
public class QuantityTests
{
    [Theory]
    [InlineData("I;P", "current,power")]
    [InlineData("P;I", "power,current")]
    [InlineData("I;P;E", "current,power,ignored")]
    [InlineData("E;I;P", "ignored,current,power")]
    [InlineData("I;Q;P", "current,charge,power")]
    [InlineData("E;P;Q;I", "ignored,power,charge,current")]
    public void A_column_that_is_the_current_times_the_voltage_is_the_power(string columns, string meanings)
    {
        Assert.Equal(meanings, Meanings(Read(columns, named: false)));
        Assert.Equal(meanings, Meanings(Read(columns, named: false, headers: columns.Split(';').Select((_, i) => $"qux{(char)('a' + i)}"))));
    }

    [Theory]
    [InlineData("Ladung ein (Ah);Ladung aus (Ah)")]
    [InlineData("lading in (Ah);lading uit (Ah)")]
    [InlineData("charge entrée (Ah);charge sortie (Ah)")]
    [InlineData("ładunek wprowadzony (Ah);ładunek oddany (Ah)")]
    [InlineData("carica immessa (Ah);carica estratta (Ah)")]
    [InlineData("laddat (Ah);urladdat (Ah)")]
    [InlineData("carregado (Ah);descarregado (Ah)")]
    [InlineData("carga (Ah);descarga (Ah)")]
    [InlineData("charge A (Ah);charge B (Ah)")]
    public void Of_two_counters_the_one_that_stands_still_is_not_the_charge_of_a_discharge(string headers)
    {
        ReadResult result = Read("I;0;O", named: true, headers: ["current (A)", .. headers.Split(';')]);

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        decimal? last = result.Sessions[0].Samples[Core.Samples.ChannelKey.Charge]!.ToDecimals().Last();
        Assert.Equal(-decimal.Parse(Rows("O", named: true, ["x"]).Last().Split(';')[^1], CultureInfo.InvariantCulture), last);
    }

    [Theory]
    [InlineData("0", "charge (Ah)")]
    [InlineData("K", "capacity [mAh]")]
    public void A_charge_that_stands_still_while_current_flows_is_left_out_with_a_notice(string column, string header)
    {
        ReadResult result = Read($"I;{column}", named: true, headers: ["current (A)", header]);

        Assert.Equal("current,ignored", Meanings(result));
        Assert.Contains(result.Problems, problem => problem.Code == "charge-disagrees");
    }

    [Theory]
    [InlineData("Sollstrom (A)")]
    [InlineData("consigne (A)")]
    [InlineData("corriente ajustada (A)")]
    [InlineData("börvärde (A)")]
    [InlineData("ingesteld (A)")]
    [InlineData("zadany prąd (A)")]
    [InlineData("balance 1 [mA]")]
    [InlineData("other current (A)")]
    public void A_set_value_or_the_current_of_a_balancer_is_not_the_current(string header) =>
        Assert.Equal("current,charge,ignored", Meanings(Read("I;Q;S", named: true, headers: ["current (A)", "charge (Ah)", header])));

    [Theory]
    [InlineData("(4.00)")]
    [InlineData("4.00-")]
    [InlineData("0xC8")]
    [InlineData("4.00*")]
    [InlineData("~4.00")]
    public void A_named_current_that_holds_no_numbers_refuses_the_log_at_its_first_line(string value)
    {
        string[] rows = [.. Rows("I", named: true, ["current [A]"])];
        string log = string.Join('\n', rows.Select((row, i) => i < 5 ? row : $"{row[..row.LastIndexOf(';')]};{value}"));

        ReadResult result = Logs.ReadText(log);

        Assert.True(result.Refused);
        Assert.Equal(6, result.Problems.First(problem => problem.Level == ProblemLevel.Refusal).Line);
    }

    [Fact]
    public void A_temperature_of_words_is_left_out_with_a_notice()
    {
        ReadResult result = Read("I;X", named: true, headers: ["current [A]", "temperature"]);

        Assert.Equal("current,ignored", Meanings(result));
        Assert.Contains(result.Problems, problem => problem.Code == "no-numbers");
    }

    [Theory]
    [InlineData("H")]
    [InlineData("R;R;R")]
    public void Shares_of_charge_and_resistances_are_no_temperatures_without_a_header(string columns)
    {
        ReadResult result = Read($"I;Q;{columns}", named: false);

        Assert.DoesNotContain(result.Reading!.Columns, column => column.Meaning == ColumnMeaning.Temperature);
        Assert.Contains(result.Problems, problem => problem.Code is "share-or-temperature" or "resistance-or-temperature" or "left-out");
    }

    [Fact]
    public void A_power_contradicts_a_unit_of_the_current_that_is_a_thousand_times_off() =>
        Assert.Contains(Read("M;P", named: true, headers: ["current [A]", "power [W]"]).Problems, problem => problem.Code == "unit-unclear" && problem.Level == ProblemLevel.Refusal);

    [Fact]
    public void A_power_tells_milliamperes_where_the_header_leaves_them_open() =>
        Assert.Equal("mA", Read("M;P", named: true, headers: ["current", "power [W]"]).Reading!.Columns.Single(column => column.Meaning == ColumnMeaning.Current).Unit);

    [Fact]
    public void Amperes_called_milliamperes_are_refused_for_what_the_cells_do() =>
        Assert.Contains(Read("I", named: true, headers: ["current [mA]"]).Problems, problem => problem.Code == "unit-unclear");

    [Fact]
    public void Ampere_seconds_are_known_and_left_out_with_a_notice()
    {
        ReadResult result = Read("I;C", named: true, headers: ["current [A]", "charge [As]"]);

        Assert.Equal("current,ignored", Meanings(result));
        Assert.Contains(result.Problems, problem => problem.Code == "charge-unit");
    }

    private static string Meanings(ReadResult result) => string.Join(',', result.Reading!.Columns.Skip(4).Select(column => column.Meaning.ToString().ToLowerInvariant()));

    private static ReadResult Read(string columns, bool named, IEnumerable<string>? headers = null) => Logs.ReadText(string.Join('\n', Rows(columns, named, headers)) + "\n");

    // I current, M in mA, P power, E energy, Q charge, O charge out, C coulombs, 0 a counter that stays zero, K a constant, S a set value, H share of charge, R a resistance, X a word.
    private static IEnumerable<string> Rows(string columns, bool named, IEnumerable<string>? headers)
    {
        if (headers is not null)
        {
            yield return string.Join(';', [.. named ? (string[])["time (s)", "Cell 1 (V)", "Cell 2 (V)", "Cell 3 (V)"] : ["foo", "bar1", "bar2", "bar3"], .. headers]);
        }

        double charge = 0;
        double energy = 0;
        for (int row = 0; row < 60; row++)
        {
            double amps = row is < 4 or > 56 ? 0 : -4.5 + (0.02 * row);
            double[] cells = [.. Enumerable.Range(0, 3).Select(cell => Math.Round(4.05 + (0.003 * cell) + (0.35 * charge) + ((0.012 + (0.002 * cell)) * amps), 3))];
            double volts = cells.Sum();
            yield return string.Join(';', [(row * 10).ToString(CultureInfo.InvariantCulture), .. cells.Select(cell => Text(cell, 3)), .. columns.Split(';').Select((column, i) => column switch
            {
                "I" => Text(amps, 2),
                "M" => Text(amps * 1000, 0),
                "P" => Text(amps * volts, 2),
                "E" => Text(energy, 4),
                "Q" => Text(charge, 4),
                "O" => Text(-charge, 4),
                "C" => Text(charge * 3600, 1),
                "0" => "0.0000",
                "K" => "5000",
                "S" => "5.00",
                "H" => Text(78 + (charge / 2.2 * 100), 0),
                "R" => Text(13 + (2 * i) + (0.1 * ((row * 7 * (i + 1)) % 4)), 1),
                _ => "ERR",
            })]);
            double next = row + 1 is < 4 or > 56 ? 0 : -4.5 + (0.02 * (row + 1));
            charge += (amps + next) / 2 * 10 / 3600;
            energy += (amps + next) / 2 * volts * 10 / 3600;
        }
    }

    private static string Text(double value, int decimals) => Math.Round(value + 0.0, decimals) == 0 ? 0.0.ToString($"F{decimals}", CultureInfo.InvariantCulture) : value.ToString($"F{decimals}", CultureInfo.InvariantCulture);
}
