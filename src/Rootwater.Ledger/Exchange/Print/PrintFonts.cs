using PdfSharp.Drawing;
using PdfSharp.Fonts;

namespace Rootwater.Ledger.Exchange.Print;

/// <summary>The faces that go into printed sheets: Noto Sans 2.004, under the SIL Open Font License 1.1 (data/fonts/OFL.txt), carried in the program, so that a tag looks alike on every machine.</summary>
internal sealed class PrintFonts : IFontResolver
{
    private const string Family = "Noto Sans";
    private static readonly Lock s_once = new();

    public static XFont Of(double points, bool bold = false, bool italic = false)
    {
        lock (s_once)
        {
            GlobalFontSettings.FontResolver ??= new PrintFonts();
        }

        return new XFont(Family, points, bold ? XFontStyleEx.Bold : italic ? XFontStyleEx.Italic : XFontStyleEx.Regular);
    }

    public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic) => new(isBold ? "Bold" : isItalic ? "Italic" : "Regular");

    public byte[]? GetFont(string faceName)
    {
        using var stream = typeof(PrintFonts).Assembly.GetManifestResourceStream($"data/fonts/NotoSans-{faceName}.ttf")
            ?? throw new InvalidOperationException($"The face {faceName} is not in the program.");
        using var bytes = new MemoryStream();
        stream.CopyTo(bytes);
        return bytes.ToArray();
    }
}
