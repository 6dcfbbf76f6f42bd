using System.IO.Compression;
using System.Text;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Formats.Jpeg;
using SixLabors.ImageSharp.Metadata.Profiles.Exif;
using SixLabors.ImageSharp.PixelFormats;

namespace Rootwater.Ledger.Tests.Photos;

/// <summary>Pictures drawn for tests: left half red, right half blue, so that turning shows.</summary>
internal static class Pictures
{
    public static byte[] Jpeg(int width = 64, int height = 32, Action<ExifProfile>? exif = null)
    {
        using var image = Draw(width, height);
        if (exif is not null)
        {
            image.Metadata.ExifProfile = new ExifProfile();
            exif(image.Metadata.ExifProfile);
        }

        using var stream = new MemoryStream();
        image.SaveAsJpeg(stream, new JpegEncoder { Quality = 95 });
        return stream.ToArray();
    }

    public static byte[] Png(int width = 64, int height = 32)
    {
        using var stream = new MemoryStream();
        Draw(width, height).SaveAsPng(stream);
        return stream.ToArray();
    }

    public static byte[] Webp(int width = 64, int height = 32)
    {
        using var stream = new MemoryStream();
        Draw(width, height).SaveAsWebp(stream);
        return stream.ToArray();
    }

    /// <summary>With the place, the camera and the time it was taken, as a telephone writes them.</summary>
    public static void FromATelephone(ExifProfile exif)
    {
        exif.SetValue(ExifTag.GPSLatitudeRef, "N");
        exif.SetValue(ExifTag.GPSLatitude, [new Rational(12), new Rational(34), new Rational(56)]);
        exif.SetValue(ExifTag.GPSLongitudeRef, "E");
        exif.SetValue(ExifTag.GPSLongitude, [new Rational(65), new Rational(43), new Rational(21)]);
        exif.SetValue(ExifTag.Make, "INVENTED CAMERA MAKER");
        exif.SetValue(ExifTag.DateTimeOriginal, "2024:05:06 07:08:09");
    }

    /// <summary>A PNG whose head promises more than anybody could unpack.</summary>
    public static byte[] PngThatPromises(int width, int height)
    {
        using var stream = new MemoryStream();
        stream.Write([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]);
        Chunk(stream, "IHDR", [.. BigEndian(width), .. BigEndian(height), 8, 2, 0, 0, 0]);
        using var packed = new MemoryStream();
        using (var deflate = new ZLibStream(packed, CompressionLevel.SmallestSize, leaveOpen: true))
        {
            deflate.Write(new byte[1 << 20]);
        }

        Chunk(stream, "IDAT", packed.ToArray());
        Chunk(stream, "IEND", []);
        return stream.ToArray();
    }

    private static void Chunk(Stream to, string type, byte[] data)
    {
        var typed = (byte[])[.. Encoding.ASCII.GetBytes(type), .. data];
        to.Write(BigEndian(data.Length));
        to.Write(typed);
        to.Write(BigEndian((int)Crc(typed)));
    }

    private static byte[] BigEndian(int value) => [(byte)(value >> 24), (byte)(value >> 16), (byte)(value >> 8), (byte)value];

    // PNG, annex D.
    private static uint Crc(byte[] bytes)
    {
        var crc = uint.MaxValue;
        foreach (var one in bytes)
        {
            crc ^= one;
            for (var bit = 0; bit < 8; bit++)
            {
                crc = (crc & 1) != 0 ? 0xEDB88320 ^ (crc >> 1) : crc >> 1;
            }
        }

        return ~crc;
    }

    private static Image<Rgb24> Draw(int width, int height)
    {
        var image = new Image<Rgb24>(width, height);
        image.ProcessPixelRows(rows =>
        {
            for (var y = 0; y < rows.Height; y++)
            {
                rows.GetRowSpan(y)[..(width / 2)].Fill(new Rgb24(220, 20, 20));
                rows.GetRowSpan(y)[(width / 2)..].Fill(new Rgb24(20, 20, 220));
            }
        });
        return image;
    }
}
