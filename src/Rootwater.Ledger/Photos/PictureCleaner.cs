using System.Globalization;
using System.Security.Cryptography;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Formats;
using SixLabors.ImageSharp.Formats.Jpeg;
using SixLabors.ImageSharp.Formats.Png;
using SixLabors.ImageSharp.Formats.Webp;
using SixLabors.ImageSharp.Memory;
using SixLabors.ImageSharp.Metadata.Profiles.Exif;
using SixLabors.ImageSharp.PixelFormats;
using SixLabors.ImageSharp.Processing;

namespace Rootwater.Ledger.Photos;

/// <summary>A picture made anew: upright, JPEG, nothing in it but pixels.</summary>
/// <param name="Jpeg">The picture.</param>
/// <param name="Thumbnail">The same, small.</param>
/// <param name="Sha256">Of <paramref name="Jpeg"/>, lower-case hex.</param>
/// <param name="Width">Pixels.</param>
/// <param name="Height">Pixels.</param>
/// <param name="TakenAt">What the camera's clock said, if the picture told.</param>
public sealed record CleanPicture(byte[] Jpeg, byte[] Thumbnail, string Sha256, int Width, int Height, DateTime? TakenAt);

/// <summary>Takes any file and gives back a picture, or says why not. What it gives back was drawn from pixels alone: no byte of the file is carried over.</summary>
public static class PictureCleaner
{
    // Only what is asked for is ever parsed: no decoder for anything else is there to be reached.
    private static readonly Dictionary<PictureKind, Configuration> s_readers = new()
    {
        [PictureKind.Jpeg] = Reader(JpegFormat.Instance, new JpegDecoder(), new JpegImageFormatDetector()),
        [PictureKind.Png] = Reader(PngFormat.Instance, new PngDecoder(), new PngImageFormatDetector()),
        [PictureKind.Webp] = Reader(WebpFormat.Instance, new WebpDecoder(), new WebpImageFormatDetector()),
    };

    // Telephones' pictures at once would each take their decoded size: one at a time keeps the server's memory where it belongs.
    private static readonly SemaphoreSlim s_one = new(1, 1);

    /// <exception cref="EntryException">Not a picture this program reads, too large, or broken; nothing was kept.</exception>
    public static async Task<CleanPicture> CleanAsync(Stream content, PictureLimits? limits = null, CancellationToken cancel = default)
    {
        limits ??= new PictureLimits();
        var bytes = await ReadAsync(content, limits.Bytes, cancel);
        var kind = Checked(bytes);
        await s_one.WaitAsync(cancel);
        try
        {
            return await Task.Run(() => Draw(bytes, kind, limits), cancel);
        }
        catch (Exception broken) when (broken is not (EntryException or OperationCanceledException or OutOfMemoryException))
        {
            // Hurt bytes take a decoder wherever they please: whatever it stumbles over, the answer is the same.
            throw Refused("a whole picture: this one is broken inside");
        }
        finally
        {
            s_one.Release();
        }
    }

    private static async Task<byte[]> ReadAsync(Stream content, long most, CancellationToken cancel)
    {
        using var kept = new MemoryStream();
        var chunk = new byte[81920];
        int read;
        while ((read = await content.ReadAsync(chunk, cancel)) > 0)
        {
            if (kept.Length + read > most)
            {
                throw Refused(string.Create(CultureInfo.InvariantCulture, $"a picture of at most {most >> 20} MiB"));
            }

            kept.Write(chunk, 0, read);
        }

        return kept.ToArray();
    }

    private static PictureKind Checked(byte[] bytes)
    {
        var kind = PictureSniffer.KindOf(bytes);
        return kind switch
        {
            PictureKind.Heif => throw Refused("a JPEG, PNG or WebP: this is HEIC or AVIF. Set the camera to \"most compatible\", or share the photo as JPEG"),
            PictureKind.Other => throw Refused("a JPEG, PNG or WebP picture: the file's content is something else, whatever its name says"),
            _ => PictureSniffer.IsWhole(bytes, kind) ? kind : throw Refused("a whole picture: the end of this one is missing"),
        };
    }

    private static CleanPicture Draw(byte[] bytes, PictureKind kind, PictureLimits limits)
    {
        var reader = s_readers[kind];
        var (width, height) = Image.Identify(reader, new MemoryStream(bytes)) is { } head ? (head.Width, head.Height) : throw Refused("a whole picture: its size cannot be read");
        if (width < 1 || height < 1 || width > limits.Side || height > limits.Side || (long)width * height > limits.Pixels)
        {
            throw new EntryException("photo", string.Create(CultureInfo.InvariantCulture, $"{width} × {height} pixels"),
                string.Create(CultureInfo.InvariantCulture, $"at most {limits.Side} pixels a side and {limits.Pixels / 1_000_000} million in all"));
        }

        using var image = Image.Load<Rgb24>(reader, bytes);
        var taken = TakenAt(image.Metadata.ExifProfile);
        image.Mutate(work => work.AutoOrient());
        Shrink(image, limits.KeptSide);
        var jpeg = Encode(image, 86);
        var size = (image.Width, image.Height);
        Shrink(image, limits.ThumbnailSide);
        return new CleanPicture(jpeg, Encode(image, 78), Convert.ToHexStringLower(SHA256.HashData(jpeg)), size.Width, size.Height, taken);
    }

    private static void Shrink(Image image, int side)
    {
        if (Math.Max(image.Width, image.Height) > side)
        {
            image.Mutate(work => work.Resize(new ResizeOptions { Mode = ResizeMode.Max, Size = new Size(side, side) }));
        }
    }

    private static byte[] Encode(Image image, int quality)
    {
        var meta = image.Metadata;
        (meta.ExifProfile, meta.IptcProfile, meta.XmpProfile, meta.IccProfile) = (null, null, null, null);
        using var stream = new MemoryStream();
        image.SaveAsJpeg(stream, new JpegEncoder { Quality = quality, ColorType = JpegColorType.YCbCrRatio420 });
        return stream.ToArray();
    }

    // Exif 2.32, 4.6.5: "YYYY:MM:DD HH:MM:SS" on the camera's clock.
    private static DateTime? TakenAt(ExifProfile? exif)
    {
        var text = exif?.GetValue(ExifTag.DateTimeOriginal)?.Value ?? exif?.GetValue(ExifTag.DateTimeDigitized)?.Value;
        return DateTime.TryParseExact(text?.TrimEnd('\0', ' '), "yyyy:MM:dd HH:mm:ss", CultureInfo.InvariantCulture, DateTimeStyles.None, out var taken) ? taken : null;
    }

    private static Configuration Reader(IImageFormat format, IImageDecoder decoder, IImageFormatDetector detector)
    {
        var configuration = new Configuration { MemoryAllocator = MemoryAllocator.Create(new MemoryAllocatorOptions { MaximumPoolSizeMegabytes = 16, AllocationLimitMegabytes = 512 }), MaxDegreeOfParallelism = 1 };
        configuration.ImageFormatsManager.AddImageFormat(format);
        configuration.ImageFormatsManager.AddImageFormatDetector(detector);
        configuration.ImageFormatsManager.SetDecoder(format, decoder);
        return configuration;
    }

    private static EntryException Refused(string accepted) => new("photo", null, accepted);
}
