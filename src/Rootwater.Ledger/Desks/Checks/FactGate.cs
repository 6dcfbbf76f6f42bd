using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>Lets a fact into the ledger only if it can be true of this bench. Runs inside the transaction that writes it, so that two devices cannot both be first.</summary>
internal sealed class FactGate(TimeProvider clock)
{
    /// <summary>How long a fact can be taken back.</summary>
    public static readonly TimeSpan Undoable = TimeSpan.FromHours(1);

    public async Task CheckAsync(LedgerContext db, NewFact fact, FactWhen when, CancellationToken cancel)
    {
        var problems = new FactProblems();
        if (fact.Id == Guid.Empty)
        {
            problems.Add("id", null, "a UUID made by whoever writes the fact");
        }

        FactShape.Check(fact.Payload, problems);
        NotToCome(when, problems);
        problems.Refuse();
        if (fact.Payload is FactUndone undone)
        {
            await CheckUndoAsync(db, fact, undone, cancel);
            return;
        }

        await CheckSubjectAsync(db, fact, problems, cancel);
        problems.Refuse();
        await CheckBenchAsync(db, fact, problems, cancel);
        if (fact.Corrects is { } wrong)
        {
            await CheckCorrectionAsync(db, fact, when, wrong, problems, cancel);
        }
        else if (await StoryAsync(db, fact, cancel) is { } story)
        {
            StoryChecks.Check(story, when, fact.Payload, problems);
        }

        problems.Refuse();
    }

    // A day's grace: the phone's clock and the bench's zone need not agree.
    private void NotToCome(FactWhen when, FactProblems problems)
    {
        if (when.Earliest > clock.GetUtcNow().UtcDateTime.AddDays(1))
        {
            problems.Add("when", when.ToText(), "a time that is not to come");
        }
    }

    private static async Task CheckSubjectAsync(LedgerContext db, NewFact fact, FactProblems problems, CancellationToken cancel)
    {
        if (FactSubjects.Of(fact.Payload) is not { } subject)
        {
            problems.Add("kind", FactKinds.Write(fact.Payload).Kind, "a kind that can be entered here: of plants, rounds, readings, photos, crosses, places, wants, or settings");
            return;
        }

        if (subject != fact.SubjectId)
        {
            problems.Add("subjectId", fact.SubjectId.ToString(), $"what the fact is about: {subject}");
        }
        else if (FactSubjects.IsPlant(fact.Payload) && fact.Payload is not PlantArrived && await db.Stories.FindAsync(subject, cancel) is null)
        {
            problems.Add("plant", subject.ToString(), "a plant on this bench");
        }
    }

    private static async Task CheckBenchAsync(LedgerContext db, NewFact fact, FactProblems problems, CancellationToken cancel)
    {
        switch (fact.Payload)
        {
            case PlantArrived said:
                await CheckArrivalAsync(db, said, fact.Corrects is not null, problems, cancel);
                break;
            case PlantMoved said:
                await ThereAsync<PlaceRow>("place", said.PlaceId, "a place on this bench");
                break;
            case PlantWantChosen said:
                await ThereAsync<WantRow>("want", said.WantId, "a want on this bench");
                break;
            case PlantPotted said:
                var holder = await db.Pots.AsNoTracking().Where(pot => pot.Id == said.Pot.Id).Select(pot => (Guid?)pot.PlantId).FirstOrDefaultAsync(cancel)
                    ?? db.Stories.InHand.FirstOrDefault(story => story.Pots.Exists(told => told.Pot.Id == said.Pot.Id))?.PlantId;
                if (holder is { } other && other != said.PlantId)
                {
                    problems.Add("pot", said.Pot.Id.ToString(), "a new id: that pot holds, or held, another plant");
                }

                break;
            case PlantGiven said:
                await ThereAsync<CanRow>("can", said.CanId, "a can that was saved on this bench");
                await ThereAsync<WaterRow>("water", said.WaterId, "a water on this bench");
                await ThereAsync<RoundRow>("round", said.RoundId, "a round that was begun");
                break;
            case PlantSkipped said:
                await ThereAsync<RoundRow>("round", said.RoundId, "a round that was begun");
                break;
            case RoundBegun said when await db.Rounds.FindAsync([said.RoundId], cancel) is not null && fact.Corrects is null:
                problems.Add("round", said.RoundId.ToString(), "a new id: this round was begun already");
                break;
            case RoundEnded said:
                await ThereAsync<RoundRow>("round", said.RoundId, "a round that was begun");
                if (fact.Corrects is null && (await db.Rounds.FindAsync([said.RoundId], cancel))?.EndedFactId is not null)
                {
                    problems.Add("round", said.RoundId.ToString(), "a round that is not over yet");
                }

                break;
            case ReadingTaken said:
                await ThereAsync<PlaceRow>("place", said.PlaceId, "a place on this bench");
                if (fact.Corrects is null && await db.TakenReadings.FindAsync([said.ReadingId], cancel) is not null)
                {
                    problems.Add("reading", said.ReadingId.ToString(), "a new id: this reading is there already");
                }

                if (said is { PotId: { } potId, PlantId: { } plantId } && !(await db.Stories.RequiredAsync(plantId, cancel)).Pots.Exists(told => told.Pot.Id == potId))
                {
                    problems.Add("pot", potId.ToString(), "a pot that this plant stands in, or stood in");
                }

                break;
            case MediumSoaked said:
                await ThereAsync<WaterRow>("water", said.WaterId, "a water on this bench");
                if (fact.Corrects is null && await db.Facts.AnyAsync(row => row.SubjectId == said.SoakId, cancel))
                {
                    problems.Add("soak", said.SoakId.ToString(), "a new id: this soak is there already");
                }

                break;
            case AirDay said:
                await ThereAsync<PlaceRow>("place", said.PlaceId, "a place on this bench");
                if (fact.Corrects is null && (db.AirDays.Local.Any(row => row.PlaceId == said.PlaceId && row.Day == said.Day && row.From == said.From)
                    || await db.AirDays.AnyAsync(row => row.PlaceId == said.PlaceId && row.Day == said.Day && row.From == said.From, cancel)))
                {
                    problems.Add("day", FactWords.Say($"{said.Day:yyyy-MM-dd}"), "a day that is not there yet; correct the one that stands");
                }

                break;
            case PenCalibrated said:
                await PenChecks.OnBenchAsync(db, said, problems, cancel);
                break;
            case WaterRoof said:
                await ThereAsync<WaterRow>("water", said.WaterId, "a water on this bench");
                break;
            case WaterLevelSeen said:
                await ThereAsync<WaterRow>("water", said.WaterId, "a water on this bench");
                break;
            case LotOpened said:
                await ThereAsync<LotRow>("lot", said.LotId, "a lot in this cupboard");
                break;
            case LotSpilt said:
                await ThereAsync<LotRow>("lot", said.LotId, "a lot in this cupboard");
                if (fact.Corrects is null && (await db.Lots.FindAsync([said.LotId], cancel))?.GramsLeft is { } left && said.Grams > left + 1e-9)
                {
                    problems.Add("grams", FactProblems.Say(said.Grams), FactWords.Say($"no more than is left in the lot, {left:0.##} g; weigh it if that is wrong"));
                }

                break;
            case ProductLead said:
                await ThereAsync<ProductRow>("product", said.ProductId, "a product in this cupboard");
                break;
            case PhotoAdded said when fact.Corrects is null && await db.Photos.FindAsync([said.PhotoId], cancel) is not null:
                problems.Add("photo", said.PhotoId.ToString(), "a new id: this photo is there already");
                break;
        }

        async Task ThereAsync<TRow>(string field, Guid? id, string accepted) where TRow : class
        {
            if (id is { } named && await db.FindAsync<TRow>([named], cancel) is null)
            {
                problems.Add(field, named.ToString(), accepted);
            }
        }
    }

    private static async Task CheckArrivalAsync(LedgerContext db, PlantArrived said, bool corrects, FactProblems problems, CancellationToken cancel)
    {
        if (!corrects && await db.Stories.FindAsync(said.PlantId, cancel) is not null)
        {
            problems.Add("plant", said.PlantId.ToString(), "a new id: this plant is on the bench");
        }

        if (await db.Plants.AsNoTracking().AnyAsync(plant => plant.Number == said.Number && plant.Id != said.PlantId, cancel)
            || db.Stories.InHand.Any(story => story.PlantId != said.PlantId && story.Arrived?.Number == said.Number)
            || await db.ForgottenPlants.AsNoTracking().AnyAsync(plant => plant.Number == said.Number, cancel))
        {
            problems.Add("number", FactProblems.Say(said.Number), "a number that no plant has, or had: tags are never given twice");
        }

        if (said.Provenance?.ParentPlantId is not { } parentId)
        {
            return;
        }

        // Up the line of parents: a correction must not make a plant its own grandmother.
        for (var (next, seen) = ((Guid?)parentId, new HashSet<Guid> { said.PlantId }); next is { } id;)
        {
            if (!seen.Add(id) || await db.Stories.FindAsync(id, cancel) is not { } parent)
            {
                problems.Add("parent plant", parentId.ToString(), "a plant on this bench that is not itself taken from this one");
                return;
            }

            next = parent.Arrived!.Provenance?.ParentPlantId;
            if (next is { } grand && await db.Stories.FindAsync(grand, cancel) is null)
            {
                return; // forgotten
            }
        }
    }

    private static async Task CheckCorrectionAsync(LedgerContext db, NewFact fact, FactWhen when, Guid wrongId, FactProblems problems, CancellationToken cancel)
    {
        if (!UndoProjection.TakesThePlace(fact.Payload))
        {
            problems.Add("corrects", wrongId.ToString(), "nothing: facts of this kind are entered again as they should be");
            return;
        }

        if (await StandingAsync(db, wrongId, "corrects", problems, cancel) is not { } wrong)
        {
            return;
        }

        if (wrong.Kind != FactKinds.Write(fact.Payload).Kind || wrong.SubjectId != fact.SubjectId)
        {
            problems.Add("corrects", wrongId.ToString(), "a fact of the same kind about the same thing");
            return;
        }

        if (PlantProjection.IsOfAPlant(fact.Payload))
        {
            problems.AddAll(await Retelling.NewProblemsAsync(db, fact.SubjectId, wrongId, (when, fact.Payload), cancel));
        }
        else if (await StoryAsync(db, fact, cancel) is { } story)
        {
            StoryChecks.Check(story, when, fact.Payload, problems);
        }
    }

    private async Task CheckUndoAsync(LedgerContext db, NewFact fact, FactUndone undone, CancellationToken cancel)
    {
        var problems = new FactProblems();
        if (fact.Corrects != undone.FactId)
        {
            problems.Add("corrects", fact.Corrects?.ToString(), $"the fact that is taken back: {undone.FactId}");
            problems.Refuse();
        }

        if (await StandingAsync(db, undone.FactId, "fact", problems, cancel) is { } wrong)
        {
            var payload = FactKinds.Read(wrong.Kind, wrong.Version, wrong.Payload);
            if (wrong.SubjectId != fact.SubjectId)
            {
                problems.Add("subjectId", fact.SubjectId.ToString(), $"what the fact taken back is about: {wrong.SubjectId}");
            }
            else if (!UndoProjection.CanBeUndone(payload))
            {
                problems.Add("fact", wrong.Kind, "a fact of a kind that can be taken back; enter this one again as it should be");
            }
            else if (clock.GetUtcNow() - wrong.RecordedAt > Undoable)
            {
                problems.Add("fact", FactWords.Say($"recorded {wrong.RecordedAt:yyyy-MM-dd HH:mm} UTC"), "a fact of the last hour; put an older one right by a correction");
            }
            else if (PlantProjection.IsOfAPlant(payload))
            {
                problems.AddAll(await Retelling.NewProblemsAsync(db, wrong.SubjectId, wrong.Id, null, cancel));
            }
            else if (payload is RoundBegun begun && (await db.Feedings.AnyAsync(row => row.RoundId == begun.RoundId, cancel) || await db.Skips.AnyAsync(row => row.RoundId == begun.RoundId, cancel)))
            {
                problems.Add("round", begun.RoundId.ToString(), "a round on which nothing was given or skipped yet");
            }
        }

        problems.Refuse();
    }

    /// <summary>The fact, if it is there and still counts.</summary>
    private static async Task<Fact?> StandingAsync(LedgerContext db, Guid id, string field, FactProblems problems, CancellationToken cancel)
    {
        if (await db.Facts.FindAsync([id], cancel) is not { } fact)
        {
            problems.Add(field, id.ToString(), "a fact in this ledger");
            return null;
        }

        await db.SendRowsAsync(cancel);
        var undo = FactKinds.NameOf<FactUndone>();
        var by = await db.Facts.AsNoTracking().Where(later => later.Corrects == id).ToListAsync(cancel);
        foreach (var later in by)
        {
            if (later.Kind == undo)
            {
                problems.Add(field, id.ToString(), "a fact that was not taken back already");
                return null;
            }

            if (!await db.Facts.AsNoTracking().AnyAsync(taken => taken.Corrects == later.Id && taken.Kind == undo, cancel))
            {
                problems.Add(field, id.ToString(), $"the fact that stands now, which put this one right: {later.Id}");
                return null;
            }
        }

        return fact;
    }

    private static async Task<PlantStory?> StoryAsync(LedgerContext db, NewFact fact, CancellationToken cancel) =>
        FactSubjects.IsPlant(fact.Payload) ? await db.Stories.FindAsync(fact.SubjectId, cancel) : null;
}
