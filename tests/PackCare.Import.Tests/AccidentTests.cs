using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;
using static PackCare.Import.Tests.TestSession;

namespace PackCare.Import.Tests;

/// <summary>What happens to logs between logger and import, and headers that mean something else than they seem to.</summary>
public class AccidentTests
{
    private const string Header = "time [s],current [A],cell 1 [V],cell 2 [V],cell 3 [V]";

    [Theory]
    [InlineData("t", "s", "1")]
    [InlineData("Time", "min", "lowest")]
    [InlineData("Time", "Min", "lowest")]
    public void A_header_that_is_a_unit_of_time_is_none_beside_a_time(string time, string other, string what)
    {
        List<Row> rows = Charge();
        string log = Log($"{time},i,c1,c2,c3,{other},max", rows, (row, _) => FormattableString.Invariant($"{row.T},{row.I},{row.V},{(what == "lowest" ? row.Cells.Min() : 1):0.###},{row.Cells.Max():0.###}"));

        SampleSeries samples = Assert.Single(Logs.ReadText(log).Sessions).Samples;

        Assert.Equal(rows.Select(row => row.Seconds), samples.TimeSeconds());
        Assert.Equal(3, samples.CellCount);
    }

    [Fact]
    public void A_number_sign_heads_row_numbers_and_no_time()
    {
        string log = Log("#;Current [A];Cell 1 [V];Cell 2 [V];Cell 3 [V]", Charge(), (row, i) => $"{i + 1};{row.I};{row.V.Replace(',', ';')}");

        Assert.Equal("no-time", Logs.ReadText(log).Problems[0].Code);
    }

    [Theory]
    [InlineData("Doelspanning [V]")]
    [InlineData("Målspänning [V]")]
    [InlineData("Uset [V]")]
    [InlineData("xyz spanning [V]")]
    public void A_voltage_that_never_changes_while_the_cells_do_is_not_the_packs(string header)
    {
        string log = Log($"{Header},{header}", Charge(), (row, _) => $"{row.T},{row.I},{row.V},12.60");

        ReadResult result = Logs.ReadText(log);

        Assert.True(result.Refused || result.Sessions[0].Samples[ChannelKey.PackVoltage] is null);
    }

    [Fact]
    public void The_lowest_of_the_cells_is_no_cell_of_its_own()
    {
        string log = Log("", Of(60, 40, 3.7, i => i < 3 || i >= 57 ? 0 : 4), (row, i) =>
        {
            double[] cells = [.. row.Cells.Select((volts, c) => volts + (0.004 * c) + (0.001 * ((i * 5 * (c + 1)) % 4)))];
            return FormattableString.Invariant($"{row.T};{row.I};{cells[0]:F3};{cells[1]:F3};{cells[2]:F3};{cells.Min():F3}");
        });

        Assert.Equal(("ambiguous-cells", 6), (Logs.ReadText(log).Problems[0].Code, Logs.ReadText(log).Problems[0].Column));
    }

    [Theory]
    [InlineData(30)]
    [InlineData(60)]
    public void Hours_and_minutes_are_not_taken_for_minutes_and_seconds_in_which_the_cells_fill(int seconds)
    {
        string log = Log("Time,Current [A],Cell 1 [V],Cell 2 [V],Cell 3 [V]", Charge(120, 30), (row, i) => FormattableString.Invariant($"{i * seconds / 3600:00}:{i * seconds / 60 % 60:00},{row.I},{row.V}"));

        Assert.Equal("ambiguous-time-unit", Logs.ReadText(log).Problems[0].Code);
    }

    [Theory]
    [InlineData("Date")]
    [InlineData("dt")]
    public void Seconds_since_1970_are_the_time_under_a_header_for_dates(string header)
    {
        string log = Log($"{header},current [A],cell 1 [V],cell 2 [V],cell 3 [V]", Charge(), (row, _) => FormattableString.Invariant($"{1_770_000_000 + row.Seconds:0},{row.I},{row.V}"));

        Assert.Equal(DateTimeOffset.FromUnixTimeSeconds(1_770_000_000), Assert.Single(Logs.ReadText(log).Sessions).Started);
    }

    [Theory]
    [InlineData("Date")]
    [InlineData("Zeitstempel")]
    public void Dates_as_spreadsheets_count_them_are_read_under_a_header_for_dates(string header)
    {
        string log = Log($"{header};current [A];cell 1 [V];cell 2 [V];cell 3 [V]", Charge(), (row, _) => FormattableString.Invariant($"{46_080.4 + (row.Seconds / 86_400):F8};{row.I};{row.V.Replace(',', ';')}"));

        SessionLog session = Assert.Single(Logs.ReadText(log).Sessions);

        Assert.Equal(new DateTime(2026, 2, 27, 9, 36, 0), session.Started.DateTime);
        Assert.Equal(40, session.Samples.TimeSeconds()[1], 1e-3);
    }

    [Theory]
    [InlineData("xyz")]
    [InlineData("time")]
    public void Dates_as_spreadsheets_count_them_are_refused_where_nothing_says_that_they_are_dates(string header)
    {
        string log = Log($"#;{header};current [A];cell 1 [V];cell 2 [V];cell 3 [V]", Charge(), (row, i) => FormattableString.Invariant($"{i + 68};{46_080.4 + (row.Seconds / 86_400):F8};{row.I};{row.V.Replace(',', ';')}"));

        InputProblem problem = Logs.ReadText(log).Problems.First(problem => problem.Level == ProblemLevel.Refusal);

        Assert.Equal(("ambiguous-time-unit", 2), (problem.Code, problem.Column));
        Assert.Contains("\"timestamp\"", problem.Advice, StringComparison.Ordinal);
    }

    [Fact]
    public void The_lower_line_of_a_header_counts_whatever_its_first_word()
    {
        string log = Log("Tijd,,Cellen,\nMoment xyz,Stroom [A],Cellen [V],Toestand xyz", Charge(), (row, _) => $"{row.T},{row.I},{row.V.Replace(',', ' ')},ok");

        Assert.NotNull(Assert.Single(Logs.ReadText(log).Sessions).Samples[ChannelKey.Current]);
    }

    [Fact]
    public void A_clock_that_was_lost_in_the_middle_is_refused_there()
    {
        string log = Log("time;current [A];cell 1 [V];cell 2 [V];cell 3 [V]", Charge(), (row, i) => FormattableString.Invariant($"{(i < 20 ? 1_770_000_000 + row.Seconds : row.Seconds - 700):0};{row.I};{row.V.Replace(',', ';')}"));

        Assert.Equal(("time-backwards", 22), First(log));
    }

    [Fact]
    public void Times_that_lost_their_last_digits_are_refused()
    {
        string log = Log("time,current [A],cell 1 [V],cell 2 [V],cell 3 [V]", Charge(400, 40, 0.5), (row, i) => $"{(i < 200 ? "1.77000E+09" : "1.77001E+09")},{row.I},{row.V}");

        Assert.Equal("time-form", First(log).Code);
    }

    [Fact]
    public void Times_that_lost_their_seconds_are_told()
    {
        string log = Log("timestamp,current [A],cell 1 [V],cell 2 [V],cell 3 [V]", Charge(120, 10), (row, _) => FormattableString.Invariant($"{new DateTime(2026, 3, 4, 9, 0, 0).AddSeconds(row.Seconds):yyyy-MM-dd HH:mm},{row.I},{row.V}"));

        Assert.Contains(Logs.ReadText(log).Problems, problem => problem.Code == "time-stands-still");
    }

    [Fact]
    public void Times_beside_a_date_that_lost_their_hours_are_refused()
    {
        string log = Log("date,time,current [A],cell 1 [V],cell 2 [V],cell 3 [V]", Charge(60, 10), (row, _) => FormattableString.Invariant($"2026-03-04,{25 + (int)(row.Seconds / 60)}:{row.Seconds % 60:00}.0,{row.I},{row.V}"));

        Assert.Equal(("time-form", 2), First(log));
    }

    [Theory]
    [InlineData("2026_03_04")]
    [InlineData("> 2026-03-04")]
    public void A_date_in_another_form_is_not_replaced_by_that_of_the_file(string date)
    {
        string log = Log("date,time,cell 1 [V],cell 2 [V],cell 3 [V]", Charge(), (row, _) => FormattableString.Invariant($"{date},{new DateTime(2026, 3, 4, 9, 0, 0).AddSeconds(row.Seconds):HH:mm:ss},{row.V}"));

        Assert.Equal("time-form", First(log).Code);
    }

    [Theory]
    [InlineData(2099)]
    [InlineData(2000)]
    public void A_year_in_which_nobody_can_have_logged_is_told(int year)
    {
        string log = Log("timestamp,current [A],cell 1 [V],cell 2 [V],cell 3 [V]", Charge(), (row, _) => FormattableString.Invariant($"{new DateTime(year, 1, 1).AddSeconds(row.Seconds):yyyy-MM-dd HH:mm:ss},{row.I},{row.V}"));

        Assert.Equal("odd-date", Assert.Single(Logs.ReadText(log).Problems).Code);
    }

    [Fact]
    public void A_dated_log_that_was_appended_to_itself_is_refused_where_it_begins_again()
    {
        string log = Log("timestamp,current [A],cell 1 [V],cell 2 [V],cell 3 [V]", Charge(), (row, _) => FormattableString.Invariant($"{new DateTime(2026, 3, 4, 9, 0, 0).AddSeconds(row.Seconds):yyyy-MM-dd HH:mm:ss},{row.I},{row.V}"));

        Assert.Equal(("repeated-rows", 63), First(log + log));
    }

    [Fact]
    public void A_log_of_two_sessions_that_was_appended_to_itself_is_told()
    {
        string log = Log(Header, Charge(), (row, _) => $"{row.T},{row.I},{row.V}") + Log("", Discharge(), (row, _) => $"{row.T},{row.I},{row.V}");

        Assert.Equal([122, 182], [.. Logs.ReadText(log + log[(log.IndexOf('\n', StringComparison.Ordinal) + 1)..]).Problems.Where(problem => problem.Code == "repeated-rows").Select(problem => problem.Line)]);
    }

    [Fact]
    public void Rows_each_of_which_was_written_twice_are_told()
    {
        string log = Log(Header, Charge(), (row, _) => $"{row.T},{row.I},{row.V}\n{row.T},{row.I},{row.V}");

        Assert.Equal("repeated-rows", Assert.Single(Logs.ReadText(log).Problems).Code);
    }

    [Theory]
    [InlineData("doubled")]
    [InlineData("a tenth")]
    [InlineData("begun anew")]
    public void A_counter_and_a_current_that_part_are_told_where_they_do(string damage)
    {
        List<Row> rows = Charge();
        string log = Log($"{Header},charge [Ah]", rows, (row, i) =>
        {
            double amps = i < 40 ? row.Amps : damage == "doubled" ? row.Amps * 2 : damage == "a tenth" ? row.Amps / 10 : row.Amps;
            double charge = damage == "begun anew" && i >= 40 ? row.Charge - rows[40].Charge : row.Charge;
            return FormattableString.Invariant($"{row.T},{amps:F2},{row.V},{charge:F4}");
        });

        InputProblem problem = Logs.ReadText(log).Problems.First(problem => problem.Code is "charge-disagrees" or "ambiguous-unit" or "unit-unclear");

        Assert.InRange(problem.Line ?? 0, 36, 44);
    }

    [Fact]
    public void A_current_that_is_a_copy_of_a_cell_is_refused()
    {
        string log = Log("time [s],cell 1 [mV],current [mA]", Charge(), (row, _) => FormattableString.Invariant($"{row.T},{row.Cells[0] * 1000:F0},{row.Cells[0] * 1000:F0}"));

        Assert.True(Logs.ReadText(log).Refused);
    }

    [Fact]
    public void A_temperature_that_is_a_copy_of_the_counter_is_told()
    {
        string log = Log($"{Header},charge [Ah],temperature [°C]", Charge(), (row, _) => $"{row.T},{row.I},{row.V},{row.Q},{row.Q}");

        Assert.Contains(Logs.ReadText(log).Problems, problem => problem is { Code: "columns-alike", Column: 7 });
    }

    [Fact]
    public void A_cell_that_stands_still_while_the_others_go_on_is_told()
    {
        List<Row> rows = Charge();
        string log = Log(Header, rows, (row, i) => FormattableString.Invariant($"{row.T},{row.I},{row.Cells[0]:F3},{rows[Math.Min(i, 20)].Cells[1]:F3},{row.Cells[2]:F3}"));

        Assert.Contains(Logs.ReadText(log).Problems, problem => problem is { Code: "cell-stands-still", Line: 22, Column: 4 });
    }

    [Fact]
    public void A_cell_above_what_any_is_charged_to_is_told()
    {
        string log = Log(Header, Charge(), (row, i) => FormattableString.Invariant($"{row.T},{row.I},{row.Cells[0]:F3},{(i < 40 ? row.Cells[1] : 5):F3},{row.Cells[2]:F3}"));

        Assert.Contains(Logs.ReadText(log).Problems, problem => problem is { Code: "high-cell", Line: 42, Column: 4 });
    }

    [Fact]
    public void A_pack_voltage_that_one_cell_leaves_for_good_is_told()
    {
        string log = Log($"{Header},pack [V]", Charge(), (row, i) => FormattableString.Invariant($"{row.T},{row.I},{row.Cells[0]:F3},{(i < 40 ? row.Cells[1] : row.Cells[1] - 0.4):F3},{row.Cells[2]:F3},{row.Pack}"));

        Assert.Contains(Logs.ReadText(log).Problems, problem => problem is { Code: "pack-not-sum", Line: 42 });
    }

    [Fact]
    public void Minutes_over_a_column_of_volts_are_the_lowest_cell()
    {
        string log = Log("t,I,C1,C2,C3,Min,Max\ns,A,V,V,V,V,V", Charge(), (row, _) => FormattableString.Invariant($"{row.T},{row.I},{row.V},{row.Cells.Min():F3},{row.Cells.Max():F3}"));

        Assert.Equal(3, Assert.Single(Logs.ReadText(log).Sessions).Samples.CellCount);
    }

    [Fact]
    public void Fields_of_hundreds_of_letters_are_left_out()
    {
        string log = Log($"{Header},remarks", Charge(), (row, i) => $"{row.T},{row.I},{row.V},{new string((char)('a' + (i % 20)), 300)}");

        Assert.Equal(60, Assert.Single(Logs.ReadText(log).Sessions).Samples.Count);
    }

    [Theory]
    [InlineData(25)]
    [InlineData(24 * 60)]
    [InlineData((2 * 24 * 60) + 17)]
    public void A_clock_that_was_set_forward_under_load_is_told(int minutes)
    {
        string log = Log("timestamp,current [A],cell 1 [V],cell 2 [V],cell 3 [V]", Charge(), (row, i) => FormattableString.Invariant($"{new DateTime(2026, 3, 4, 9, 0, 0).AddSeconds(row.Seconds).AddMinutes(i < 30 ? 0 : minutes):yyyy-MM-dd HH:mm:ss},{row.I},{row.V}"));

        Assert.Contains(Logs.ReadText(log).Problems, problem => problem is { Code: "clock-jumps", Line: 32 });
    }

    [Fact]
    public void A_logger_that_paused_while_the_charge_went_on_is_no_clock_that_was_set()
    {
        string log = Log("timestamp,current [A],cell 1 [V],cell 2 [V],cell 3 [V]", Charge().Where((_, i) => i is < 20 or >= 45), (row, _) => FormattableString.Invariant($"{new DateTime(2026, 3, 4, 9, 0, 0).AddSeconds(row.Seconds):yyyy-MM-dd HH:mm:ss},{row.I},{row.V}"));

        Assert.Empty(Logs.ReadText(log).Problems);
    }

    private static (string Code, int Line) First(string log)
    {
        InputProblem problem = Logs.ReadText(log).Problems.First(problem => problem.Level == ProblemLevel.Refusal);
        return (problem.Code, problem.Line ?? 0);
    }
}
