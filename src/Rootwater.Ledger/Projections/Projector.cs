using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Projections;

/// <summary>Writes what a fact means into the tables that pages read. The same code runs when a fact is written and when everything is rebuilt.</summary>
/// <remarks>A projection depends on the facts and their order alone: never on the clock, chance, or what a page did.</remarks>
internal static class Projector
{
    public static Task ApplyAsync(LedgerContext db, Fact fact, FactPayload payload, CancellationToken cancel) => payload switch
    {
        FactUndone => UndoProjection.UndoAsync(db, fact, cancel),
        _ when fact.Corrects is not null && UndoProjection.TakesThePlace(payload) => UndoProjection.CorrectAsync(db, fact, payload, cancel),
        _ => ApplyAsNewAsync(db, fact, payload, cancel),
    };

    /// <summary>As if it corrected nothing.</summary>
    public static Task ApplyAsNewAsync(LedgerContext db, Fact fact, FactPayload payload, CancellationToken cancel) => payload switch
    {
        _ when PlantProjection.IsOfAPlant(payload) => PlantProjection.ApplyAsync(db, fact, payload, cancel),
        PlantGiven given => FeedingProjection.GiveAsync(db, fact, given, cancel),
        PlantSkipped skipped => FeedingProjection.SkipAsync(db, fact, skipped, cancel),
        RoundBegun or RoundEnded or ReadingTaken or AirDay or PhotoAdded => RoundProjection.ApplyAsync(db, fact, payload, cancel),
        BenchOpened or ToolsSet or VesselSet or PlaceSet or WantSet or CrossSet or SettingsSet or PlantForgotten => BenchProjection.ApplyAsync(db, payload, cancel),
        WaterSet or WaterReported => WaterProjection.ApplyAsync(db, fact, payload, cancel),
        ProductSet or LotBought or LotWeighed or LotOpened or LotSpilt => CupboardProjection.ApplyAsync(db, fact, payload, cancel),
        CanSaved or CanStepDone or CanStepUndone or CanRead or CanPoured or CanPourUndone or CanRepaired or CanRepairUndone => CanProjection.ApplyAsync(db, fact, payload, cancel),
        // What was believed what was tried and what was soaked is read where it stands, in the ledger: no table follows from it.
        FactEmptied or RootForecastBelieved or TrialRegistered or TrialLooked or TrialEnded or TrialStopped or TrialDeparted or MediumSoaked => Task.CompletedTask,
        PenSet or PenCalibrated => Task.CompletedTask,
        CauseSeen or CauseSettled or LatitudeSet => Task.CompletedTask,
        ProductLead or SupplySet or WaterRoof or WaterLevelSeen or RainRecorded => Task.CompletedTask,
        ProductEntryBegun or ProductTestPlanned or ProductTestRead or ProductTestLooked or ProductTrialBegun or ProductTrialJudged or ProductDecided => Task.CompletedTask,
        _ => throw new InvalidOperationException($"No projection knows {payload.GetType().Name}."),
    };

    /// <summary>The row a fact speaks of. A fact about something that never was is refused whole.</summary>
    public static async Task<TRow> RequiredAsync<TRow>(LedgerContext db, string what, CancellationToken cancel, params object[] key) where TRow : class =>
        await db.Set<TRow>().FindAsync(key, cancel) ?? throw new EntryException(what, string.Join(" / ", key), "must be on this bench already");
}
