using System.Text;
using PdfSharp.Pdf;
using PdfSharp.Pdf.IO;
using Rootwater.Ledger.Exchange.Print;

namespace Rootwater.Ledger.Tests.Exchange;

/// <summary>Printed sheets: sizes, pages, a font of our own within. How they look is looked at (docs/guide/exchange.md says how).</summary>
public sealed class PrintTests
{
    private static readonly DateTimeOffset s_now = new(2026, 3, 14, 9, 0, 0, TimeSpan.Zero);

    [Fact]
    public void A_tag_is_60_by_30_millimetres()
    {
        var pdf = Written(stream => TagSheet.WriteOne(stream, new PlantTag(12, "Cattleya walkeriana 'Moonrise'", "https://lean-to.local:5443/p/12"), s_now));
        pdf.PageCount.ShouldBe(1);
        (pdf.Pages[0].Width.Millimeter, pdf.Pages[0].Height.Millimeter).ShouldSatisfyAllConditions(size => size.Item1.ShouldBe(60, 0.01), size => size.Item2.ShouldBe(30, 0.01));
    }

    [Theory]
    [InlineData(0, 1)]
    [InlineData(27, 1)]
    [InlineData(28, 2)]
    [InlineData(500, 19)]
    public void Twenty_seven_tags_go_on_a_sheet(int tags, int sheets) =>
        Written(stream => TagSheet.WriteSheets(stream, [.. Enumerable.Range(1, tags).Select(number => new PlantTag(number, "Dendrobium kingianum", "https://lean-to.local:5443/p/1"))], s_now)).PageCount.ShouldBe(sheets);

    [Theory]
    [InlineData("")]
    [InlineData("×Rhyncholaeliocattleya Sehrlangernamederzuweitgeht 'Ein Kultivarname der auch noch dazu kommt' (Erste Mutterpflanze × Zweite Vaterpflanze) AM/AOS")]
    [InlineData("日本の蘭")]
    [InlineData("Aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa")]
    public void Any_name_fits_or_is_cut_and_never_stops_the_printing(string name) => Written(stream => TagSheet.WriteOne(stream, new PlantTag(99999, name, null), s_now)).PageCount.ShouldBe(1);

    [Fact]
    public void The_font_is_carried_within()
    {
        using var stream = new MemoryStream();
        TagSheet.WriteOne(stream, new PlantTag(12, "Cattleya walkeriana", null), s_now);
        Encoding.Latin1.GetString(stream.ToArray()).ShouldContain("/FontFile2");
    }

    private static PdfDocument Written(Action<Stream> write)
    {
        var stream = new MemoryStream();
        write(stream);
        stream.Position = 0;
        return PdfReader.Open(stream, PdfDocumentOpenMode.Import);
    }
}
