using System.Security.Cryptography;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Formats.Jpeg;
using SixLabors.ImageSharp.PixelFormats;

namespace Rootwater.Ledger.Demo.SixYears;

/// <summary>A flower drawn by the program: leaves, a stem, five ellipses and a lip. No photograph of anybody's plant.</summary>
internal static class DemoPicture
{
    private const int Across = 480, Down = 600;

    public static (byte[] Jpeg, string Sha256, int Width, int Height) Draw(string kind, int number, Dice dice)
    {
        using var image = new Image<Rgb24>(Across, Down);
        var ground = Mix(new Rgb24(226, 230, 218), new Rgb24(120, 132, 120), dice.Share() * 0.5);
        image.ProcessPixelRows(rows =>
        {
            for (var y = 0; y < rows.Height; y++)
            {
                rows.GetRowSpan(y).Fill(Mix(ground, new Rgb24(60, 66, 58), 0.5 * y / Down));
            }
        });
        var green = new Rgb24(74, (byte)(112 + 20 * dice.Share()), 58);
        for (var i = 0; i < 4; i++)
        {
            Ellipse(image, Across / 2 + (i % 2 == 0 ? -1 : 1) * 80, Down - 60 - 12 * i, 110, 22, (i % 2 == 0 ? 0.25 : -0.25) + 0.1 * dice.Normal(), green);
        }

        for (var i = 0; i < 40; i++)
        {
            Ellipse(image, Across / 2 + 18 * Math.Sin(i / 14.0), Down - 70 - i * 8, 4, 6, 0, Mix(green, new Rgb24(90, 70, 60), 0.3));
        }

        var (petal, lip) = Colours(kind, number);
        var flowers = kind.Contains("Oncidium", StringComparison.Ordinal) || kind == "Phalaenopsis" ? 3 : 1;
        for (var f = 0; f < flowers; f++)
        {
            var (x, y, size) = (Across / 2 + (f - flowers / 2) * 110 + 10 * dice.Normal(), 190.0 + (f % 2) * 90, (flowers > 1 ? 58 : 120) * (0.9 + 0.2 * dice.Share()));
            Flower(image, x, y, size, petal, lip, 0.1 * dice.Normal());
        }

        using var stream = new MemoryStream();
        image.SaveAsJpeg(stream, new JpegEncoder { Quality = 78 });
        var jpeg = stream.ToArray();
        return (jpeg, Convert.ToHexStringLower(SHA256.HashData(jpeg)), Across, Down);
    }

    private static void Flower(Image<Rgb24> image, double x, double y, double size, Rgb24 petal, Rgb24 lip, double tilt)
    {
        // Three sepals behind, two petals, the lip before them.
        foreach (var angle in new[] { -Math.PI / 2, Math.PI / 6, 5 * Math.PI / 6 })
        {
            Petal(angle, 0.62, 0.2, Mix(petal, new Rgb24(90, 110, 70), 0.18));
        }

        foreach (var angle in new[] { -0.25, Math.PI + 0.25 })
        {
            Petal(angle, 0.6, 0.34, petal);
        }

        Petal(Math.PI / 2, 0.42, 0.3, lip);
        Ellipse(image, x, y, size * 0.12, size * 0.14, 0, new Rgb24(238, 226, 190));

        void Petal(double angle, double reach, double width, Rgb24 colour) =>
            Ellipse(image, x + Math.Cos(angle + tilt) * size * reach * 0.8, y + Math.Sin(angle + tilt) * size * reach * 0.8, size * reach, size * width, angle + tilt, colour);
    }

    /// <summary>Filled, with a soft edge.</summary>
    private static void Ellipse(Image<Rgb24> image, double cx, double cy, double a, double b, double angle, Rgb24 colour)
    {
        var (cos, sin, reach) = (Math.Cos(angle), Math.Sin(angle), Math.Max(a, b) + 1);
        image.ProcessPixelRows(rows =>
        {
            for (var y = Math.Max(0, (int)(cy - reach)); y < Math.Min(rows.Height, cy + reach); y++)
            {
                var row = rows.GetRowSpan(y);
                for (var x = Math.Max(0, (int)(cx - reach)); x < Math.Min(row.Length, cx + reach); x++)
                {
                    var (u, v) = (((x - cx) * cos + (y - cy) * sin) / a, ((y - cy) * cos - (x - cx) * sin) / b);
                    var r = Math.Sqrt(u * u + v * v);
                    if (r < 1)
                    {
                        row[x] = Mix(row[x], Mix(colour, new Rgb24(40, 40, 40), 0.25 * r * r), Math.Min(1, (1 - r) * Math.Min(a, b) / 1.5));
                    }
                }
            }
        });
    }

    private static (Rgb24 Petal, Rgb24 Lip) Colours(string kind, int number) => kind.Split(' ')[^1] switch
    {
        "Oncidium" => (new Rgb24(228, 190, 60), new Rgb24(180, 110, 40)),
        "Masdevallia" => (new Rgb24(196, (byte)(60 + number * 7 % 90), 70), new Rgb24(150, 40, 60)),
        "Paphiopedilum" => (new Rgb24(168, 170, 90), new Rgb24(130, 70, 60)),
        "Dendrobium" => (new Rgb24(226, 200, 226), new Rgb24(120, 40, 90)),
        "Phalaenopsis" => (new Rgb24(214, 150, 196), new Rgb24(150, 40, 110)),
        _ => (new Rgb24((byte)(200 + number % 40), 150, 205), new Rgb24(130, 30, 100)),
    };

    private static Rgb24 Mix(Rgb24 a, Rgb24 b, double share)
    {
        byte Part(byte from, byte to) => (byte)Math.Clamp(from + (to - from) * share, 0, 255);
        return new Rgb24(Part(a.R, b.R), Part(a.G, b.G), Part(a.B, b.B));
    }
}
