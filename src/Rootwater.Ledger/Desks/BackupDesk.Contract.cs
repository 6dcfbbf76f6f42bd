using Rootwater.Ledger.Backup;
using Rootwater.Ledger.Exchange;

namespace Rootwater.Ledger.Desks;

/// <summary>Backups of the open bench. Restoring closes it and is therefore the terminal's job: <see cref="BackupRestore"/>.</summary>
public interface IBackupDesk
{
    /// <summary>Where backups go.</summary>
    string Folder { get; }

    /// <summary>Makes a backup while the bench is in use, verifies it by opening it, then removes what retention no longer keeps.</summary>
    /// <exception cref="LedgerProblem">It could not be made or did not verify; older backups are untouched.</exception>
    Task<BackupView> NowAsync(BackupRetention? retention = null, IProgress<ExchangeProgress>? progress = null, CancellationToken cancel = default);

    /// <summary>Newest first.</summary>
    Task<IReadOnlyList<BackupView>> ListAsync(CancellationToken cancel = default);

    /// <summary>Opens a backup and looks: hash, the engine's own check, facts without gaps, every picture.</summary>
    /// <param name="name">As listed; the newest when null.</param>
    /// <param name="cancel">Stops looking.</param>
    Task<BackupVerdict> VerifyAsync(string? name = null, CancellationToken cancel = default);
}
