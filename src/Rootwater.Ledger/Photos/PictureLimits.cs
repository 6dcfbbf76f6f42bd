namespace Rootwater.Ledger.Photos;

/// <summary>What a picture may be at most before anything of it is unpacked.</summary>
public sealed record PictureLimits
{
    /// <summary>30 MiB: a telephone's largest JPEG is about half of that.</summary>
    public long Bytes { get; init; } = 30L << 20;

    /// <summary>64 million pixels: what telephones take at most today in practice; decoded that is 192 MiB.</summary>
    public long Pixels { get; init; } = 64_000_000;

    /// <summary>Pixels along either side.</summary>
    public int Side { get; init; } = 16_000;

    /// <summary>The longer side of what is kept: a leaf's spots are sharp at this size, and a year of photos stays under a gigabyte.</summary>
    public int KeptSide { get; init; } = 2560;

    /// <summary>The longer side of a thumbnail: two columns of a telephone's screen.</summary>
    public int ThumbnailSide { get; init; } = 360;
}
