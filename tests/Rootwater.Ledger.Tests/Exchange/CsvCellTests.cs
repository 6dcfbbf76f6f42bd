using CsCheck;
using Rootwater.Ledger.Exchange.Csv;

namespace Rootwater.Ledger.Tests.Exchange;

/// <summary>Text in cells: nothing a spreadsheet would run goes out, and what goes out comes back.</summary>
public sealed class CsvCellTests
{
    [Theory]
    [InlineData("=HYPERLINK(\"http://example.invalid\")")]
    [InlineData("+cmd|' /C calc'!A0")]
    [InlineData("-2+3")]
    [InlineData("@SUM(1)")]
    [InlineData("\t=1")]
    public void A_text_that_a_spreadsheet_would_run_goes_out_as_text(string text)
    {
        CsvCell.Write(text)[0].ShouldBe('\'');
        CsvCell.IsFormula(CsvCell.Write(text)).ShouldBeFalse();
        CsvCell.IsFormula(text).ShouldBeTrue();
    }

    [Fact]
    public void A_number_keeps_its_minus() => CsvCell.Write("-2.5").ShouldBe("-2.5");

    [Fact]
    public void Nothing_and_an_empty_text_are_told_apart()
    {
        CsvCell.Read(CsvCell.Write(null)).ShouldBeNull();
        CsvCell.Read(CsvCell.Write("")).ShouldBe("");
    }

    [Fact]
    public void Every_text_comes_back() => Gen.OneOf(Gen.String, Gen.String["=+-@'\t\r\n,;\" ab1"]).Sample(text => CsvCell.Read(CsvCell.Write(text)).ShouldBe(text));

    [Theory]
    [InlineData("1,5", "1.5")]
    [InlineData("1.5", "1.5")]
    [InlineData(" 12 ", "12")]
    [InlineData("-0,25", "-0.25")]
    [InlineData("1e-3", "0.001")]
    public void A_number_may_have_a_comma(string cell, string means) => CsvNumber.Read(cell).ToString().ShouldBe(means);

    [Theory]
    [InlineData("1,250")]
    [InlineData("1.250,00")]
    [InlineData("twelve")]
    [InlineData("")]
    public void What_could_be_two_numbers_is_none(string cell) => Should.Throw<FormatException>(() => CsvNumber.Read(cell));

    [Theory]
    [InlineData("2026", "2026")]
    [InlineData("2026-03", "2026-03")]
    [InlineData("2026-03-14", "2026-03-14")]
    [InlineData("2026-03-14T08:05", "2026-03-14T08:05")]
    [InlineData("2026-03-14 08:05:30", "2026-03-14T08:05")]
    [InlineData("14.03.2026", "2026-03-14")]
    public void A_date_is_known_as_exactly_as_it_is_written(string cell, string means) => CsvWhen.Read(cell, "UTC", "dd.MM.yyyy").ToText().ShouldBe(means);

    [Theory]
    [InlineData("14/03/2026")]
    [InlineData("2026-13")]
    [InlineData("last spring")]
    public void Any_other_way_to_write_a_date_is_refused(string cell) => Should.Throw<FormatException>(() => CsvWhen.Read(cell, "UTC"));
}
