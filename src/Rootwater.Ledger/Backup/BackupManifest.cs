namespace Rootwater.Ledger.Backup;

/// <summary>What a backup says of itself, "backup.json".</summary>
public sealed record BackupManifest
{
    public const int NewestVersion = 1;
    public required int Version { get; init; }
    public required string Program { get; init; }

    /// <summary>UTC.</summary>
    public required DateTimeOffset MadeAt { get; init; }

    /// <summary>What was backed up, as messages name it.</summary>
    public required string Of { get; init; }

    /// <summary>"bench.db" (a SQLite file) or "bench.zip" (an archive).</summary>
    public required string File { get; init; }
    public required long Bytes { get; init; }
    public required string Sha256 { get; init; }

    /// <summary>Facts in it, at positions 1 and up without gaps.</summary>
    public required long Facts { get; init; }

    /// <summary>Pictures that its facts name, kept in the pool beside the backups.</summary>
    public required IReadOnlyList<string> Photos { get; init; }

    /// <summary>Pictures that were gone already when it was made.</summary>
    public IReadOnlyList<string> MissingPhotos { get; init; } = [];
}

/// <summary>A backup in a line.</summary>
/// <param name="Name">As restoring names it: "20260314T030000Z".</param>
/// <param name="MadeAt">UTC.</param>
/// <param name="Facts">Facts in it.</param>
/// <param name="Photos">Pictures.</param>
/// <param name="Bytes">Of the database alone; pictures are kept once for all backups.</param>
/// <param name="Problem">Why it cannot be read; null when its head is sound.</param>
public sealed record BackupView(string Name, DateTimeOffset MadeAt, long Facts, int Photos, long Bytes, string? Problem);

/// <summary>What opening a backup showed.</summary>
/// <param name="Name">Which.</param>
/// <param name="Facts">Facts found.</param>
/// <param name="Photos">Pictures found sound.</param>
/// <param name="Problems">What is wrong; empty when it can be restored whole.</param>
public sealed record BackupVerdict(string Name, long Facts, int Photos, IReadOnlyList<string> Problems)
{
    public bool IsSound => Problems.Count == 0;
}

/// <summary>What restoring did.</summary>
/// <param name="Name">The backup.</param>
/// <param name="Facts">Facts now on the bench.</param>
/// <param name="Photos">Pictures brought back.</param>
/// <param name="Replaced">Where the bench that stood there is kept; null where there was none.</param>
public sealed record RestoreReceipt(string Name, long Facts, int Photos, string? Replaced);
