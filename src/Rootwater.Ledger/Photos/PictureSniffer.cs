namespace Rootwater.Ledger.Photos;

/// <summary>What the bytes of a file say it is; its name and declared type are not asked.</summary>
public enum PictureKind
{
    /// <summary>Nothing this program takes in.</summary>
    Other,
    Jpeg,
    Png,
    Webp,

    /// <summary>A telephone's own format, which browsers turn into JPEG when asked to.</summary>
    Heif,
}

/// <summary>Tells a picture by its bytes, and whether its end is there.</summary>
internal static class PictureSniffer
{
    // Signatures: JPEG ITU-T T.81 annex B (SOI, EOI, SOS); PNG W3C Recommendation, section 5.2; WebP RFC 9649, section 2.3; HEIF ISO/IEC 23008-12 (ftyp box).
    private static ReadOnlySpan<byte> PngSignature => [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A];

    public static PictureKind KindOf(ReadOnlySpan<byte> bytes) => bytes switch
    {
        [0xFF, 0xD8, 0xFF, ..] => PictureKind.Jpeg,
        _ when bytes.StartsWith(PngSignature) => PictureKind.Png,
        _ when bytes.Length >= 12 && bytes[..4].SequenceEqual("RIFF"u8) && bytes[8..12].SequenceEqual("WEBP"u8) => PictureKind.Webp,
        _ when bytes.Length >= 12 && bytes[4..8].SequenceEqual("ftyp"u8) && (bytes[8..10].SequenceEqual("he"u8) || bytes[8..12].SequenceEqual("mif1"u8) || bytes[8..10].SequenceEqual("av"u8)) => PictureKind.Heif,
        _ => PictureKind.Other,
    };

    /// <summary>Whether the picture's own end mark is there: a decoder would fill a torn JPEG with grey and say nothing.</summary>
    public static bool IsWhole(ReadOnlySpan<byte> bytes, PictureKind kind) => kind switch
    {
        PictureKind.Jpeg => ScanStart(bytes) is { } scan && bytes[scan..].IndexOf([(byte)0xFF, (byte)0xD9]) >= 0,
        PictureKind.Png => bytes.IndexOf("IEND"u8) > 0,
        PictureKind.Webp => BitConverter.ToUInt32(bytes[4..8]) + 8L <= bytes.Length,
        _ => false,
    };

    /// <summary>
    /// Whether this is a JPEG as this program writes them: tables, frame and scans, no text, no metadata, nothing after the end.
    /// What an archive brings in is held to it.
    /// </summary>
    public static bool IsCleanJpeg(ReadOnlySpan<byte> bytes)
    {
        if (KindOf(bytes) != PictureKind.Jpeg || !bytes.EndsWith([(byte)0xFF, (byte)0xD9]) || ScanStart(bytes, onlyPlain: true) is not { } scan)
        {
            return false;
        }

        return bytes[scan..].IndexOf([(byte)0xFF, (byte)0xD9]) == bytes.Length - scan - 2;
    }

    // Walks the segments before the first scan; null where the chain breaks or a segment is not wanted.
    private static int? ScanStart(ReadOnlySpan<byte> bytes, bool onlyPlain = false)
    {
        var at = 2;
        while (at + 4 <= bytes.Length && bytes[at] == 0xFF)
        {
            var marker = bytes[at + 1];
            if (marker == 0xFF)
            {
                at++;
                continue;
            }

            var length = (bytes[at + 2] << 8) | bytes[at + 3];
            if (onlyPlain && !IsPlain(marker, length))
            {
                return null;
            }

            at += 2 + length;
            if (marker == 0xDA)
            {
                return at <= bytes.Length ? at : null;
            }
        }

        return null;
    }

    // JFIF's header (without its thumbnail), tables, frames, the scan, Adobe's colour mark: no APP1 (Exif, XMP), no other APPn, no comment.
    private static bool IsPlain(byte marker, int length) => marker switch
    {
        0xE0 => length == 16,
        0xEE => length == 14,
        0xDB or 0xDD or 0xDA => true,
        >= 0xC0 and <= 0xCF => true,
        _ => false,
    };
}
