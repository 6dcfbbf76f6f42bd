using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Projections;

/// <summary>What was taken back or put right: its rows go, and what it had replaced comes back.</summary>
internal static class UndoProjection
{
    /// <summary>Whether a correction of such a fact takes its place. A can's own facts say for themselves what they take back.</summary>
    public static bool TakesThePlace(FactPayload payload) => PlantProjection.IsOfAPlant(payload)
        || payload is PlantGiven or PlantSkipped or ReadingTaken or AirDay or PhotoAdded or RoundBegun or RoundEnded or CrossSet or MediumSoaked
        || payload is PenSet or PenCalibrated
        || payload is LotOpened or LotSpilt or ProductLead or SupplySet or WaterRoof or WaterLevelSeen or RainRecorded
        || payload is CauseSeen or CauseSettled or LatitudeSet;

    /// <summary>Whether a fact of this kind can be taken back by "fact.undone".</summary>
    public static bool CanBeUndone(FactPayload payload) => TakesThePlace(payload) || payload is CanRead
        or ProductTestPlanned or ProductTestRead or ProductTestLooked or ProductTrialBegun or ProductTrialJudged or ProductDecided;

    public static async Task UndoAsync(LedgerContext db, Fact undo, CancellationToken cancel)
    {
        await db.SendRowsAsync(cancel);
        var (wrong, payload) = await ReadAsync(db, undo.Corrects, cancel);
        if (PlantProjection.IsOfAPlant(payload))
        {
            await PlantProjection.RetellAsync(db, wrong.SubjectId, undo.Position, cancel);
            return;
        }

        await TakeOutAsync(db, undo, wrong, payload, cancel);
        if (wrong.Corrects is { } earlier && payload is not CanRead)
        {
            var (before, said) = await ReadAsync(db, earlier, cancel);
            await Projector.ApplyAsNewAsync(db, before, said, cancel);
        }
        else if (payload is CrossSet or LotOpened && await EarlierAsync(db, wrong, undo.Position, cancel) is { } older)
        {
            await Projector.ApplyAsNewAsync(db, older, FactKinds.Read(older.Kind, older.Version, older.Payload), cancel);
        }
    }

    public static async Task CorrectAsync(LedgerContext db, Fact better, FactPayload payload, CancellationToken cancel)
    {
        if (PlantProjection.IsOfAPlant(payload))
        {
            await PlantProjection.RetellAsync(db, better.SubjectId, better.Position, cancel);
            return;
        }

        await db.SendRowsAsync(cancel);
        var (wrong, said) = await ReadAsync(db, better.Corrects, cancel);
        await TakeOutAsync(db, better, wrong, said, cancel);
        await Projector.ApplyAsNewAsync(db, better, payload, cancel);
    }

    /// <summary>Removes the rows of one fact.</summary>
    public static async Task TakeOutAsync(LedgerContext db, Fact by, Fact wrong, FactPayload payload, CancellationToken cancel)
    {
        switch (payload)
        {
            case PlantGiven given:
                await FeedingProjection.TakeBackAsync(db, wrong, given, cancel);
                break;
            case PlantSkipped:
                db.Skips.Remove(await Projector.RequiredAsync<SkipRow>(db, "skip", cancel, wrong.Id));
                break;
            case ReadingTaken reading:
                db.TakenReadings.Remove(await Projector.RequiredAsync<TakenReadingRow>(db, "reading", cancel, reading.ReadingId));
                break;
            case AirDay:
                db.AirDays.Remove(await Projector.RequiredAsync<AirDayRow>(db, "day", cancel, wrong.Id));
                break;
            case MediumSoaked:
                break; // it has no row: it is read where it stands
            case PhotoAdded photo:
                db.Photos.Remove(await Projector.RequiredAsync<PhotoRow>(db, "photo", cancel, photo.PhotoId));
                await RoundProjection.NewestPhotoAsync(db, photo.PlantId, cancel);
                break;
            case RoundBegun begun:
                db.Rounds.Remove(await Projector.RequiredAsync<RoundRow>(db, "round", cancel, begun.RoundId));
                break;
            case RoundEnded ended:
                var round = await Projector.RequiredAsync<RoundRow>(db, "round", cancel, ended.RoundId);
                (round.EndedFactId, round.Note) = (null, null);
                break;
            case CrossSet cross:
                db.Crosses.Remove(await Projector.RequiredAsync<CrossRow>(db, "cross", cancel, cross.CrossId));
                break;
            case PenSet or PenCalibrated: // read where they stand, in the ledger
                break;
            case LotOpened or LotSpilt:
                await CupboardProjection.TakeBackAsync(db, wrong, payload, cancel);
                break;
            case ProductLead or SupplySet or WaterRoof or WaterLevelSeen or RainRecorded:
            case ProductTestPlanned or ProductTestRead or ProductTestLooked or ProductTrialBegun or ProductTrialJudged or ProductDecided:
                // No table follows from it.
                break;
            case CauseSeen or CauseSettled or LatitudeSet:
                break; // read where they stand; no row follows from them
            case CanRead read:
                await CanProjection.UnreadAsync(db, by, wrong, read, cancel);
                break;
            default:
                throw new EntryException("fact", wrong.Kind, "a fact of a kind that can be taken back; enter this one again as it should be");
        }

        // Its key may be used again by what takes its place.
        await db.SendRowsAsync(cancel);
    }

    private static async Task<(Fact, FactPayload)> ReadAsync(LedgerContext db, Guid? id, CancellationToken cancel)
    {
        var fact = await Projector.RequiredAsync<Fact>(db, "fact", cancel, id ?? Guid.Empty);
        return (fact, FactKinds.Read(fact.Kind, fact.Version, fact.Payload));
    }

    // What was said of the same thing before, and was not taken back.
    private static async Task<Fact?> EarlierAsync(LedgerContext db, Fact wrong, long before, CancellationToken cancel)
    {
        var all = await db.Facts.AsNoTracking().Where(fact => fact.SubjectId == wrong.SubjectId && fact.Position <= before).OrderBy(fact => fact.Position).ToListAsync(cancel);
        return PlantProjection.Standing(all).LastOrDefault(fact => fact.Kind == wrong.Kind);
    }
}
