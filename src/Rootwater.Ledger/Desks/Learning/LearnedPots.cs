using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Ledger.Desks;

/// <summary>What readings have taught of each pot, as far as the ledger had been read at <see cref="Position"/>. A value: a new reading makes a new one.</summary>
internal sealed class LearnedPots(long position, PotCalibration fit, IReadOnlyDictionary<Guid, PotRecord> records)
{
    public long Position => position;

    public PotCalibration Fit => fit;

    /// <summary>By pot.</summary>
    public IReadOnlyDictionary<Guid, PotRecord> Records => records;

    /// <summary>What is known of a pot; null where there is no model of it, or it came after the fit.</summary>
    public FittedPot? Find(Guid potId) => records.TryGetValue(potId, out var record) && record.History is { } history ? Of(history) : null;

    /// <summary>The parameters to forecast with; null where neither the pot nor a sibling was ever read, so that the data sheet has to do.</summary>
    public PotParameters? ParametersOf(Guid potId) => Find(potId) is { } known && (known.Readings > 0 || known.Siblings > 0) ? known.Parameters : null;

    public FittedPot Of(PotHistory history) => fit.Pots.Contains(history.Id) ? fit.Of(history.Id) : fit.OfUnread(history);
}
