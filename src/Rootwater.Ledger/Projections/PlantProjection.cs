using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Projections;

/// <summary>Plants and the pots they stand in.</summary>
internal static class PlantProjection
{
    public static async Task ApplyAsync(LedgerContext db, Fact fact, FactPayload payload, CancellationToken cancel)
    {
        var day = fact.When.EarliestDay;
        switch (payload)
        {
            case PlantArrived arrived:
                db.Plants.Add(new PlantRow
                {
                    Id = arrived.PlantId,
                    Number = arrived.Number,
                    NameAsReceived = arrived.NameAsReceived,
                    Kind = arrived.Kind,
                    Habit = arrived.Habit,
                    States = [],
                    ArrivedOn = day,
                    ArrivedPrecision = fact.Precision,
                });
                break;
            case PlantDetermined determined:
                var named = await PlantAsync(determined.PlantId);
                (named.DeterminedName, named.DeterminedOn, named.DeterminedEvidence) = (determined.Name, day, determined.Evidence);
                break;
            case PlantStatesSeen seen:
                (await PlantAsync(seen.PlantId)).States = seen.States;
                break;
            case PlantWantChosen chosen:
                (await PlantAsync(chosen.PlantId)).WantId = chosen.WantId;
                break;
            case PlantMoved moved:
                (await PlantAsync(moved.PlantId)).PlaceId = moved.PlaceId;
                break;
            case PlantLost lost:
                var gone = await PlantAsync(lost.PlantId);
                (gone.LostOn, gone.LostCause) = (day, lost.Cause);
                break;
            case PlantPotted potted:
                await PlantAsync(potted.PlantId);
                if (await PotOfAsync(db, potted.PlantId, cancel) is { } old)
                {
                    old.LeftOn = day;
                }

                db.Pots.Add(new PotRow
                {
                    Id = potted.Pot.Id,
                    PlantId = potted.PlantId,
                    Culture = potted.Pot.Culture,
                    Medium = potted.Pot.Medium,
                    MediumLitres = potted.Pot.MediumLitres,
                    ReservoirLitres = potted.Pot.ReservoirLitres,
                    FeedMillilitres = potted.Pot.FeedMillilitres,
                    FeedEveryDays = potted.Pot.FeedEveryDays,
                    FilledOn = day,
                });
                break;
        }

        Task<PlantRow> PlantAsync(Guid id) => Projector.RequiredAsync<PlantRow>(db, "plant", cancel, id);
    }

    /// <summary>The pot a plant stands in now; looks at what is not yet saved, too.</summary>
    public static async Task<PotRow?> PotOfAsync(LedgerContext db, Guid plantId, CancellationToken cancel) =>
        db.Pots.Local.FirstOrDefault(pot => pot.PlantId == plantId && pot.LeftOn is null)
        ?? (await db.Pots.Where(pot => pot.PlantId == plantId && pot.LeftOn == null).ToListAsync(cancel)).FirstOrDefault(pot => pot.LeftOn is null);
}
