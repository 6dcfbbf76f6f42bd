namespace Rootwater.Ledger.Demo;

/// <summary>Seeded chance that comes out alike on every machine and every version: SplitMix64 (Steele, Lea and Flood 2014, "Fast splittable pseudorandom number generators").</summary>
internal sealed class Dice(ulong seed)
{
    private ulong _state = seed;

    public ulong Next()
    {
        unchecked
        {
            var z = _state += 0x9E3779B97F4A7C15UL;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
            return z ^ (z >> 31);
        }
    }

    /// <summary>From 0 up to but not 1.</summary>
    public double Share() => (Next() >> 11) * (1.0 / (1UL << 53));

    /// <summary>Standard normal, by Box and Muller (1958).</summary>
    public double Normal() => Math.Sqrt(-2 * Math.Log(1 - Share())) * Math.Cos(2 * Math.PI * Share());

    /// <summary>A UUIDv7 of a moment whose random part comes from the seed.</summary>
    public Guid Id(DateTimeOffset moment)
    {
        Span<byte> bytes = stackalloc byte[16];
        System.Buffers.Binary.BinaryPrimitives.WriteUInt64BigEndian(bytes, ((ulong)moment.ToUnixTimeMilliseconds() << 16) | 0x7000 | (Next() & 0x0FFF));
        System.Buffers.Binary.BinaryPrimitives.WriteUInt64BigEndian(bytes[8..], (Next() & 0x3FFF_FFFF_FFFF_FFFF) | 0x8000_0000_0000_0000);
        return new Guid(bytes, bigEndian: true);
    }
}
