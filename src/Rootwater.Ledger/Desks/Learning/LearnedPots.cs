using System.Collections.Concurrent;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>What readings have taught of each pot, as far as the ledger had been read at <see cref="Position"/>. A value: a new reading makes a new one.</summary>
internal sealed class LearnedPots(long position, PotCalibration fit, IReadOnlyDictionary<Guid, PotRecord> records)
{
    private readonly ConcurrentDictionary<Guid, FittedPot> _known = [];

    // The day of the last reading that any pot's fit has seen.
    private readonly Lazy<DateOnly> _lastRead = new(() => records.Values.Where(record => record.History is { Readings.Count: > 0 })
        .Select(record => DateOnly.FromDateTime(record.At(record.History!.Readings.Max(reading => reading.Hours)))).DefaultIfEmpty().Max());

    /// <summary>What held-back visits show that bands must be wider by.</summary>
    public BandWidening Widening { get; private init; } = BandWidening.None;

    public LearnedPots With(BandWidening widening) => new(position, fit, records) { Widening = widening };

    public long Position => position;

    public PotCalibration Fit => fit;

    /// <summary>By pot.</summary>
    public IReadOnlyDictionary<Guid, PotRecord> Records => records;

    /// <summary>What is known of a pot; null where there is no model of it, or it came after the fit.</summary>
    public FittedPot? Find(Guid potId) => records.TryGetValue(potId, out var record) && record.History is { } history ? Of(history) : null;

    /// <summary>
    /// What is known of a pot of this bench, where a reading stands behind it: its own or a sibling's. A pot that came after the fit has its siblings' too. Null where the data sheet has to do.
    /// </summary>
    public FittedPot? FindTaught(PotRow pot) => FindTaught(pot.Id, () => PotModels.TrySetupOf(pot));

    /// <inheritdoc cref="FindTaught(PotRow)"/>
    public FittedPot? FindTaught(Pot pot) => FindTaught(pot.Id, () => PotModels.TrySetupOf(pot));

    /// <summary>The same for a feed that lies back: null too where the fit has seen a pot's reading of a later day, which would be hindsight.</summary>
    public FittedPot? FindTaught(Pot pot, DateTime? asOf) => asOf is { } moment && _lastRead.Value > DateOnly.FromDateTime(moment) ? null : FindTaught(pot);

    private FittedPot? FindTaught(Guid potId, Func<PotSetup?> setupOf)
    {
        var known = records.ContainsKey(potId) ? Find(potId) : setupOf() is { } setup ? Of(PotRecordReader.Unread(setup, new PotClimate(), null, DateTime.UnixEpoch, DateTime.UnixEpoch)) : null;
        return known is { Readings: > 0 } or { Siblings: > 0 } ? known : null;
    }

    /// <summary>The air a pot's record was run in; the usual where there is no record.</summary>
    public PotClimate ClimateOf(Guid potId) => records.GetValueOrDefault(potId)?.History?.Climate ?? new PotClimate();

    /// <summary>The bands of forecasts of pots like this one, as they are shown and recorded.</summary>
    public RootBands BandsOf(PotSetup setup)
    {
        var medium = fit.OfMedium(setup.Medium.Id);
        double Error(ReadingKind kind, double value, double? scatter) => PotReading.UsualSigma(kind, value, setup.ReservoirLitres) / value * (scatter ?? 1);
        return new RootBands(Widening, Error(ReadingKind.MediumEc, 1000, medium?.EcScatter), Error(ReadingKind.MediumPH, 1, medium?.PHScatter), Error(ReadingKind.ReservoirLitres, 1, medium?.LevelScatter));
    }

    /// <summary>Works all of them out, so that no page does: a pot that was never read is run through its whole record.</summary>
    public void Prepare() => Parallel.ForEach(records.Keys, pot => Find(pot));

    /// <summary>The parameters to forecast with; null where neither the pot nor a sibling was ever read, so that the data sheet has to do.</summary>
    public PotParameters? ParametersOf(PotRow pot) => FindTaught(pot)?.Parameters;

    public FittedPot Of(PotHistory history) => _known.GetOrAdd(history.Id, id => fit.Pots.Contains(id) ? fit.Of(id) : fit.OfUnread(history));

    /// <summary>Whose readings a forecast of this pot stands on, for its first note.</summary>
    public static string FittedTo(FittedPot known) => known.Readings > 0
        ? FormattableString.Invariant($"A forecast, fitted to {known.Readings} values read of this pot and to its siblings.")
        : FormattableString.Invariant($"A forecast, fitted to {known.Siblings} pots of the same medium; this pot was never read.");
}
