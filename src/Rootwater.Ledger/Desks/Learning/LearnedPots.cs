using System.Collections.Concurrent;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Ledger.Desks;

/// <summary>What readings have taught of each pot, as far as the ledger had been read at <see cref="Position"/>. A value: a new reading makes a new one.</summary>
internal sealed class LearnedPots(long position, PotCalibration fit, IReadOnlyDictionary<Guid, PotRecord> records)
{
    private readonly ConcurrentDictionary<Guid, FittedPot> _known = [];

    /// <summary>What held-back visits show that bands must be wider by.</summary>
    public BandWidening Widening { get; private init; } = BandWidening.None;

    public LearnedPots With(BandWidening widening) => new(position, fit, records) { Widening = widening };

    public long Position => position;

    public PotCalibration Fit => fit;

    /// <summary>By pot.</summary>
    public IReadOnlyDictionary<Guid, PotRecord> Records => records;

    /// <summary>What is known of a pot; null where there is no model of it, or it came after the fit.</summary>
    public FittedPot? Find(Guid potId) => records.TryGetValue(potId, out var record) && record.History is { } history ? Of(history) : null;

    /// <summary>The same, where a reading stands behind it: of the pot or of a sibling. Null where the data sheet has to do.</summary>
    public FittedPot? FindTaught(Guid potId) => Find(potId) is { } known && (known.Readings > 0 || known.Siblings > 0) ? known : null;

    /// <summary>Works all of them out, so that no page does: a pot that was never read is run through its whole record.</summary>
    public void Prepare() => Parallel.ForEach(records.Keys, pot => Find(pot));

    /// <summary>The parameters to forecast with; null where neither the pot nor a sibling was ever read, so that the data sheet has to do.</summary>
    public PotParameters? ParametersOf(Guid potId) => FindTaught(potId)?.Parameters;

    public FittedPot Of(PotHistory history) => _known.GetOrAdd(history.Id, id => fit.Pots.Contains(id) ? fit.Of(id) : fit.OfUnread(history));

    /// <summary>Whose readings a forecast of this pot stands on, for its first note.</summary>
    public static string FittedTo(FittedPot known) => known.Readings > 0
        ? FormattableString.Invariant($"A forecast, fitted to {known.Readings} values read of this pot and to its siblings.")
        : FormattableString.Invariant($"A forecast, fitted to {known.Siblings} pots of the same medium; this pot was never read.");
}
