using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using PdfSharp.Pdf;
using PdfSharp.Pdf.IO;
using Rootwater.Ledger.Exchange.Print;
using ZXing;
using ZXing.Common;
using ZXing.QrCode;

namespace Rootwater.Ledger.Tests.Exchange;

/// <summary>Printed sheets: sizes, pages, a font of our own within. How they look is looked at (docs/guide/exchange.md says how).</summary>
public sealed partial class PrintTests
{
    private static readonly DateTimeOffset s_now = new(2026, 3, 14, 9, 0, 0, TimeSpan.Zero);

    [Fact]
    public void A_tag_is_60_by_30_millimetres()
    {
        var pdf = Written(stream => TagSheet.WriteOne(stream, new PlantTag(12, "Cattleya walkeriana 'Moonrise'", "https://lean-to.local:5443/p/12"), s_now));
        pdf.PageCount.ShouldBe(1);
        (pdf.Pages[0].Width.Millimeter, pdf.Pages[0].Height.Millimeter).ShouldSatisfyAllConditions(size => size.Item1.ShouldBe(60, 0.01), size => size.Item2.ShouldBe(30, 0.01));
    }

    // What is drawn on the page is read back from it by another implementation of ISO/IEC 18004 (ZXing).
    [Theory]
    [InlineData("https://lean-to.local:5443/p/12")]
    [InlineData("http://192.168.178.40:5211/p/10457")]
    public void The_code_on_a_tag_says_its_address(string address)
    {
        var pdf = Written(stream => TagSheet.WriteOne(stream, new PlantTag(12, "Cattleya walkeriana 'Moonrise'", address), s_now));
        var drawn = Encoding.Latin1.GetString(pdf.Pages[0].Contents.CreateSingleContent().Stream.UnfilteredValue);
        const int PerPoint = 6;
        var (width, height) = ((int)(pdf.Pages[0].Width.Point * PerPoint), (int)(pdf.Pages[0].Height.Point * PerPoint));
        var grey = Enumerable.Repeat((byte)255, width * height).ToArray();
        foreach (Match box in Filled().Matches(drawn))
        {
            var at = Enumerable.Range(1, 4).Select(i => double.Parse(box.Groups[i].Value, CultureInfo.InvariantCulture) * PerPoint).ToArray();
            // PDF counts upwards from the foot of the page, a picture downwards from its head.
            var (left, right) = (Math.Min(at[0], at[0] + at[2]), Math.Max(at[0], at[0] + at[2]));
            var (top, foot) = (height - Math.Max(at[1], at[1] + at[3]), height - Math.Min(at[1], at[1] + at[3]));
            for (var y = Math.Max(0, (int)Math.Round(top)); y < Math.Min(height, (int)Math.Round(foot)); y++)
            {
                for (var x = Math.Max(0, (int)Math.Round(left)); x < Math.Min(width, (int)Math.Round(right)); x++)
                {
                    grey[(y * width) + x] = 0;
                }
            }
        }

        var read = new QRCodeReader().decode(new BinaryBitmap(new HybridBinarizer(new RGBLuminanceSource(grey, width, height, RGBLuminanceSource.BitmapFormat.Gray8))));
        read.ShouldNotBeNull("no code was found on the tag");
        read.Text.ShouldBe(address);
    }

    [GeneratedRegex(@"(-?[\d.]+)\s+(-?[\d.]+)\s+(-?[\d.]+)\s+(-?[\d.]+)\s+re\s+f\b")]
    private static partial Regex Filled();

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
