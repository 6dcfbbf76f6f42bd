using PdfSharp.Drawing;
using QRCoder;

namespace Rootwater.Ledger.Exchange.Print;

/// <summary>Drawing in millimetres from the upper left corner.</summary>
internal static class PrintPage
{
    private const double PointsPerMillimetre = 72 / 25.4;

    public static double Points(double millimetres) => millimetres * PointsPerMillimetre;

    public static double Width(this XGraphics page, string text, XFont font) => page.MeasureString(text, font).Width / PointsPerMillimetre;

    /// <summary>A line of text whose top is at <paramref name="y"/>.</summary>
    public static void Text(this XGraphics page, string text, XFont font, double x, double y, XBrush? brush = null) =>
        page.DrawString(text, font, brush ?? XBrushes.Black, Points(x), Points(y), XStringFormats.TopLeft);

    public static void TextRight(this XGraphics page, string text, XFont font, double right, double y) =>
        page.Text(text, font, right - page.Width(text, font), y);

    public static void Line(this XGraphics page, double x1, double y1, double x2, double y2, double width = 0.15) =>
        page.DrawLine(new XPen(XColors.Black, Points(width)), Points(x1), Points(y1), Points(x2), Points(y2));

    /// <summary>Words in lines no wider than a width; a word that is wider by itself is broken.</summary>
    public static IReadOnlyList<string> Wrap(this XGraphics page, string text, XFont font, double width)
    {
        var lines = new List<string>();
        var line = "";
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries).SelectMany(word => Pieces(page, word, font, width)))
        {
            var longer = line.Length == 0 ? word : $"{line} {word}";
            if (page.Width(longer, font) <= width)
            {
                line = longer;
                continue;
            }

            lines.Add(line);
            line = word;
        }

        if (line.Length > 0)
        {
            lines.Add(line);
        }

        return lines;
    }

    /// <summary>A QR code (ISO/IEC 18004) as vectors, with the four modules of quiet margin the standard asks for. Error correction M: a wet or scratched tag still reads.</summary>
    /// <returns>The side of one module, mm.</returns>
    public static double QrCode(this XGraphics page, string text, double x, double y, double side)
    {
        using var code = QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.M);
        var rows = code.ModuleMatrix;
        var module = side / rows.Count;
        for (var row = 0; row < rows.Count; row++)
        {
            for (var column = 0; column < rows.Count; column++)
            {
                var from = column;
                while (column < rows.Count && rows[row][column])
                {
                    column++;
                }

                if (column > from)
                {
                    page.DrawRectangle(XBrushes.Black, Points(x + (from * module)), Points(y + (row * module)), Points((column - from) * module), Points(module));
                }
            }
        }

        return module;
    }

    private static IEnumerable<string> Pieces(XGraphics page, string word, XFont font, double width)
    {
        var from = 0;
        while (from < word.Length)
        {
            var length = word.Length - from;
            while (length > 1 && page.Width(word.Substring(from, length), font) > width)
            {
                length--;
            }

            yield return word.Substring(from, length);
            from += length;
        }
    }
}
