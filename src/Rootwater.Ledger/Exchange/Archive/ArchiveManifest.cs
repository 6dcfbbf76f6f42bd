namespace Rootwater.Ledger.Exchange.Archive;

/// <summary>The head of an archive, "manifest.json": what is in it and the hash of every part.</summary>
public sealed record ArchiveManifest
{
    public const string FormatName = "rootwater-bench";
    public const int NewestVersion = 1;

    /// <summary>Always <see cref="FormatName"/>.</summary>
    public required string Format { get; init; }

    /// <summary>Of the archive's shape, 1 and up.</summary>
    public required int Version { get; init; }

    /// <summary>The program that wrote it.</summary>
    public required string Program { get; init; }

    /// <summary>UTC.</summary>
    public required DateTimeOffset MadeAt { get; init; }
    public string? BenchName { get; init; }

    /// <summary>How many facts, at positions 1 and up without gaps.</summary>
    public required long Facts { get; init; }

    /// <summary>"facts/00001.jsonl" and so on, in order.</summary>
    public required IReadOnlyList<ArchivePart> Parts { get; init; }

    /// <summary>Hashes of the pictures within, each at "photos/HASH.jpg".</summary>
    public required IReadOnlyList<string> Photos { get; init; }

    /// <summary>Pictures that facts name and that were not beside the database when this was made.</summary>
    public IReadOnlyList<string> MissingPhotos { get; init; } = [];
}

/// <summary>A file of facts, one a line.</summary>
public sealed record ArchivePart(string Name, long Facts, string Sha256);

/// <summary>What an archive may be at most before it is refused.</summary>
public sealed record ArchiveLimits
{
    /// <summary>All of it, unpacked: 40 GiB.</summary>
    public long Bytes { get; init; } = 40L << 30;
    public long ManifestBytes { get; init; } = 64L << 20;

    /// <summary>One file of facts, unpacked.</summary>
    public long PartBytes { get; init; } = 256L << 20;
    public long PhotoBytes { get; init; } = 30L << 20;
    public int Entries { get; init; } = 500_000;

    /// <summary>How many times larger than packed a part may be: facts pack 10 to 40 times, a bomb 1,000 times.</summary>
    public int Ratio { get; init; } = 200;
}
