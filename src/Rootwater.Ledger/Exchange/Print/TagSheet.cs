using System.Globalization;
using PdfSharp.Drawing;
using PdfSharp.Pdf;
using Rootwater.Growing.Bench.Names;

namespace Rootwater.Ledger.Exchange.Print;

/// <summary>What a tag says.</summary>
/// <param name="Number">The largest thing on it.</param>
/// <param name="Name">As determined, else as received.</param>
/// <param name="Address">What the QR code opens; null leaves it out.</param>
public sealed record PlantTag(int Number, string Name, string? Address);

/// <summary>Plant tags: one of its own size, or a sheet of A4 to cut apart.</summary>
public static class TagSheet
{
    /// <summary>Millimetres.</summary>
    public const double TagWidth = 60, TagHeight = 30;

    private const double SheetWidth = 210, SheetHeight = 297;
    private const int Columns = 3, Rows = 9;

    public static void WriteOne(Stream to, PlantTag tag, DateTimeOffset now)
    {
        using var document = New($"No. {tag.Number}", now);
        using (var page = Page(document, TagWidth, TagHeight))
        {
            Draw(page, tag, 0, 0);
        }

        document.Save(to, closeStream: false);
    }

    /// <summary>27 to a sheet, with lines to cut along.</summary>
    public static void WriteSheets(Stream to, IReadOnlyList<PlantTag> tags, DateTimeOffset now)
    {
        using var document = New("Plant tags", now);
        var (left, top) = ((SheetWidth - (Columns * TagWidth)) / 2, (SheetHeight - (Rows * TagHeight)) / 2);
        foreach (var sheet in tags.Chunk(Columns * Rows).DefaultIfEmpty([]))
        {
            using var page = Page(document, SheetWidth, SheetHeight);
            for (var column = 0; column <= Columns; column++)
            {
                page.Line(left + (column * TagWidth), top - 4, left + (column * TagWidth), top + (Rows * TagHeight) + 4, 0.1);
            }

            for (var row = 0; row <= Rows; row++)
            {
                page.Line(left - 4, top + (row * TagHeight), left + (Columns * TagWidth) + 4, top + (row * TagHeight), 0.1);
            }

            foreach (var (tag, at) in sheet.Select((tag, at) => (tag, at)))
            {
                Draw(page, tag, left + (at % Columns * TagWidth), top + (at / Columns * TagHeight));
            }
        }

        document.Save(to, closeStream: false);
    }

    private static void Draw(XGraphics page, PlantTag tag, double x, double y)
    {
        const double Margin = 2.5, Code = 25;
        var words = tag.Address is null ? TagWidth - (2 * Margin) : TagWidth - Code - Margin - 2;
        page.Text(tag.Number.ToString(CultureInfo.InvariantCulture), PrintFonts.Of(26, bold: true), x + Margin, y + 1.5);
        var line = y + 13.5;
        // Down to the size at which all of the name is on the tag; below 6 points nobody reads it wet.
        foreach (var size in (double[])[9, 8, 7, 6])
        {
            var height = size * 0.44;
            var lines = NameLines(page, tag.Name, size, words);
            if (lines.Count * height > TagHeight - 13.5 - 1.5 && size > 6)
            {
                continue;
            }

            foreach (var parts in lines.Take((int)((TagHeight - 15) / height)))
            {
                var at = x + Margin;
                foreach (var (text, italic) in parts)
                {
                    page.Text(text, PrintFonts.Of(size, italic: italic), at, line);
                    at += page.Width(text, PrintFonts.Of(size, italic: italic));
                }

                line += height;
            }

            break;
        }

        if (tag.Address is not null)
        {
            page.QrCode(tag.Address, x + TagWidth - Code - 1.5, y + ((TagHeight - Code) / 2), Code);
        }
    }

    // Genus and epithets in italics, the rest upright (ICNCP, 9th ed., and common practice of the ICN), broken between words.
    private static List<List<(string Text, bool Italic)>> NameLines(XGraphics page, string name, double size, double width)
    {
        var reading = NameReader.Read(name);
        IEnumerable<(string Text, bool Italic)> parts = reading.Name is { } read ? read.ToParts().Select(part => (part.Text, part.IsItalic)) : [(name, false)];
        var (lines, used) = (new List<List<(string, bool)>> { new() }, 0.0);
        foreach (var (word, italic) in parts.SelectMany(part => Words(part.Text).Select(word => (word, part.Italic))))
        {
            var font = PrintFonts.Of(size, italic: italic);
            var wide = page.Width(word, font);
            if (used > 0 && used + wide > width)
            {
                lines.Add([]);
                used = 0;
            }

            foreach (var piece in wide > width ? page.Wrap(word, font, width) : [used == 0 ? word.TrimStart() : word])
            {
                if (used > 0 && used + page.Width(piece, font) > width)
                {
                    lines.Add([]);
                    used = 0;
                }

                lines[^1].Add((piece, italic));
                used += page.Width(piece, font);
            }
        }

        return lines;
    }

    // " walkeriana 'Alba'" → " walkeriana", " 'Alba'": every word with the space before it.
    private static IEnumerable<string> Words(string text)
    {
        var from = 0;
        for (var i = 1; i <= text.Length; i++)
        {
            if (i == text.Length || (text[i] == ' ' && text[i - 1] != ' '))
            {
                yield return text[from..i];
                from = i;
            }
        }
    }

    internal static PdfDocument New(string title, DateTimeOffset now)
    {
        var document = new PdfDocument();
        (document.Info.Title, document.Info.Creator, document.Info.CreationDate) = (title, "Rootwater", now.UtcDateTime);
        return document;
    }

    internal static XGraphics Page(PdfDocument document, double width, double height)
    {
        var page = document.AddPage();
        (page.Width, page.Height) = (XUnit.FromMillimeter(width), XUnit.FromMillimeter(height));
        return XGraphics.FromPdfPage(page);
    }
}
