using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Evidence;
using Rootwater.Growing.Evidence.Causes;
using Rootwater.Growing.Evidence.Rates;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Desks;

/// <summary>Cause sheets over the ledger.</summary>
internal sealed class CauseDesk(BenchDatabase database, IFactDesk facts, INutrientLedger nutrients, BenchTime time, KeptLives<PlantDates> dates, CauseCases cases) : ICauseDesk
{
    /// <summary>How much of the ranking is kept with an answer.</summary>
    private const int MostKept = 10;

    /// <summary>A sheet nobody looked at for so long is about another trouble.</summary>
    private const int StaleDays = 120;

    public async Task<CauseSheetView> SheetAsync(Guid plantId, Guid? leafId = null, IReadOnlyDictionary<string, string>? seen = null, CancellationToken cancel = default)
    {
        var problems = new FactProblems();
        foreach (var (clue, value) in seen ?? new Dictionary<string, string>())
        {
            CauseChecks.Answer(new CauseAnswer(clue, value), problems);
        }

        problems.Refuse();
        var today = await time.TodayAsync(cancel);
        var weeks = await nutrients.OfPlantAsync(plantId, CauseReader.SupplyFrom(today), today, cancel);
        var (reading, known) = await database.ReadAsync(async db =>
        {
            var book = await cases.OfAsync(db, cancel);
            return (await new CauseReader(db, await dates.OfAsync(db, cancel), weeks, today).ReadAsync(plantId, leafId, book, cancel), book);
        }, cancel);
        if (reading is null)
        {
            throw new EntryException("plant", plantId.ToString(), "a plant on this bench");
        }

        var open = Open(known, plantId, reading.Leaf?.Id, today);
        return Page(reading, open, seen ?? new Dictionary<string, string>(), today);
    }

    public async Task<CauseSheetView> SeeAsync(CauseLook look, CancellationToken cancel = default)
    {
        var problems = new FactProblems();
        foreach (var (clue, value) in look.Answers)
        {
            CauseChecks.Answer(new CauseAnswer(clue, value), problems);
        }

        problems.AtLeastOne("answers", "at least one clue that was looked at", look.Answers.Count > 0 ? look : null);
        problems.Refuse();
        var page = await SheetAsync(look.PlantId, look.WholePlant ? Guid.Empty : look.LeafId, cancel: cancel);
        // Ranked as it will stand once these answers are kept.
        var answers = page.Answered.Where(answer => answer.FactId is not null).ToDictionary(answer => answer.Clue.Id, answer => answer.Value);
        foreach (var (clue, value) in look.Answers)
        {
            if (value is null)
            {
                answers.Remove(clue);
            }
            else
            {
                answers[clue] = value;
            }
        }

        var after = await SheetAsync(look.PlantId, page.LeafId ?? Guid.Empty, answers, cancel);
        var fact = new CauseSeen(
            look.PlantId, page.SheetId ?? Guid.CreateVersion7(), page.LeafId, [.. look.Answers.Select(answer => new CauseAnswer(answer.Key, answer.Value))],
            [.. after.Result.Causes.Take(MostKept).Select(cause => new CauseBelieved(cause.Id, Math.Round(cause.Share, 4)))]);
        await facts.WriteAsync([new NewFact { Id = look.Id ?? Guid.CreateVersion7(), SubjectId = look.PlantId, Payload = fact, When = look.When }], cancel: cancel);
        return await SheetAsync(look.PlantId, page.LeafId ?? Guid.Empty, cancel: cancel);
    }

    public async Task<CauseLine> SettleAsync(CauseSettling settling, CancellationToken cancel = default)
    {
        var known = await database.ReadAsync(db => cases.OfAsync(db, cancel), cancel);
        if (known.FirstOrDefault(each => each.SheetId == settling.SheetId) is not { } sheet)
        {
            throw new EntryException("sheet", settling.SheetId.ToString(), "a cause sheet on this bench");
        }

        await facts.WriteAsync(
            [new NewFact { Id = settling.Id ?? Guid.CreateVersion7(), SubjectId = sheet.PlantId, Payload = new CauseSettled(sheet.PlantId, sheet.SheetId, settling.Cause, settling.Evidence), When = settling.When }], cancel: cancel);
        var book = await BookAsync(cancel);
        return book.Settled.First(line => line.SheetId == settling.SheetId);
    }

    public async Task QuarantineAsync(Guid plantId, Guid? leafId = null, int days = CauseBook.QuarantineDays, Guid? id = null, CancellationToken cancel = default)
    {
        var page = await SheetAsync(plantId, leafId, cancel: cancel);
        if (page.KeptApart)
        {
            return;
        }

        var why = page.Result.Quarantine is { } said ? "Cause sheet: " + string.Join(" or ", page.Result.Causes.Where(cause => cause.Contagious && cause.Share >= CauseSheet.QuarantineShare / 2).Select(cause => cause.Name)) + " plausible" : "Cause sheet";
        await facts.WriteAsync([new NewFact { Id = id ?? Guid.CreateVersion7(), SubjectId = plantId, Payload = new QuarantineBegun(plantId, days, why) }], cancel: cancel);
    }

    public Task<CauseBook> BookAsync(CancellationToken cancel = default) => database.ReadAsync(async db =>
    {
        var book = await cases.OfAsync(db, cancel);
        var ids = book.Select(each => each.PlantId).Distinct().ToList();
        var plants = (await db.Plants.AsNoTracking().Where(row => ids.Contains(row.Id)).ToListAsync(cancel)).ToDictionary(row => row.Id, row => new PlantRef(row.Id, row.Number, row.CurrentName));
        var withLeaf = book.Where(each => each.LeafId is not null).Select(each => each.PlantId).Distinct().ToList();
        var stories = (await db.PlantLives.AsNoTracking().Where(life => withLeaf.Contains(life.PlantId)).ToListAsync(cancel)).ToDictionary(life => life.PlantId, life => FactJson.Read<PlantStory>(life.Life));
        var lines = book.Where(each => plants.ContainsKey(each.PlantId)).Reverse().Select(each => new CauseLine
        {
            SheetId = each.SheetId,
            Plant = plants[each.PlantId],
            LeafId = each.LeafId,
            Leaf = each.LeafId is { } leaf && stories.TryGetValue(each.PlantId, out var story) && story.Growths.Exists(growth => growth.Leaves.Any(other => other.Id == leaf)) ? CauseReader.NameOf(story, leaf) : null,
            OpenedOn = each.OpenedOn,
            LastSeenOn = each.LastSeenOn,
            Answers = each.Answers.Count,
            Ranked = each.Ranked,
            SettledOn = each.SettledOn,
            Cause = each.Cause,
            Evidence = each.Evidence,
            Rank = each.Rank,
        }).ToList();
        return new CauseBook { Open = lines.FindAll(line => line.SettledOn is null), Settled = lines.FindAll(line => line.SettledOn is not null), Hits = Hits(book) };
    }, cancel);

    private static CauseCase? Open(IEnumerable<CauseCase> known, Guid plantId, Guid? leafId, DateOnly today) =>
        known.LastOrDefault(each => each.PlantId == plantId && each.LeafId == leafId && each.SettledOn is null && each.LastSeenOn >= today.AddDays(-StaleDays));

    private static CauseSheetView Page(CauseReading reading, CauseCase? open, IReadOnlyDictionary<string, string> seen, DateOnly today)
    {
        var answers = open?.Answers.ToDictionary(pair => pair.Key, pair => pair.Value.Value) ?? [];
        foreach (var (clue, value) in seen)
        {
            answers[clue] = value;
        }

        CauseSheetResult result;
        try
        {
            result = CauseSheet.Make(reading.Records, answers);
        }
        catch (EvidenceInputException wrong)
        {
            throw new EntryException(wrong.Field, wrong.Value?.ToString(), wrong.Accepted);
        }

        var story = reading.Story;
        return new CauseSheetView
        {
            Plant = new PlantRef(reading.Plant.Id, reading.Plant.Number, reading.Plant.CurrentName),
            Kind = reading.Plant.Kind,
            LeafId = reading.Leaf?.Id,
            Leaf = reading.Leaf is { } leaf ? CauseReader.NameOf(story, leaf.Id) : null,
            Leaves =
            [
                .. story.Growths.SelectMany(growth => growth.Leaves.Select(each => (Growth: growth, Leaf: each))).Where(each => each.Leaf.Lost is null ? each.Growth.Ended is null : each.Leaf.Lost.When.Latest >= today.AddDays(-182))
                    .Select(each => new CauseLeaf(each.Leaf.Id, PlantRows.NameOf(each.Growth, each.Leaf), each.Leaf.Marks.Count > 0 && each.Leaf.Lost is null, each.Leaf.Lost?.When.Middle)),
            ],
            SheetId = open?.SheetId,
            OpenedOn = open?.OpenedOn,
            Read = reading.Read,
            Answered = Answered(result, answers, open),
            Result = result,
            KeptApart = reading.Plant.Quarantine is { Ended: null },
            Photos = reading.Photos,
            Method =
            [
                "Each cause's prior (how often it is the trouble before anything is looked at) times how often each clue is seen under it, shared out so that all causes make one.",
                "Assumed: one cause at work; clues independent given the cause, none counting for more than a factor of 20, a word of the ledger for no more than 100.",
                $"n: {result.Causes.Count} causes, {CauseTables.Clues.Count} clues, {answers.Count} looked at, {reading.Records.SisterLosses.Count} leaves whose age at loss is known. The shares are judgement; which patterns go with which cause is published or common practice, as said with each.",
            ],
        };
    }

    private static List<CauseAnswered> Answered(CauseSheetResult result, Dictionary<string, string> answers, CauseCase? open)
    {
        var asked = result.NextChecks.Select(check => check.Clue.Id).ToHashSet();
        return
        [
            .. CauseTables.Clues.Where(clue => !asked.Contains(clue.Id)).Select(clue =>
            {
                var mine = answers.TryGetValue(clue.Id, out var value);
                value ??= result.FromLedger[clue.Id];
                return new CauseAnswered(clue, value, clue.Values.First(each => each.Id == value).Words, !mine, mine && open?.Answers.TryGetValue(clue.Id, out var kept) == true ? kept.FactId : null);
            }),
        ];
    }

    private static CauseHits Hits(IEnumerable<CauseCase> book)
    {
        var judged = book.Where(each => each is { SettledOn: not null, Cause: not null, Ranked.Count: > 0 }).ToList();
        if (judged.Count == 0)
        {
            return new CauseHits(0, 0, 0, null, null, "No sheet has been settled yet, so nothing can be said of how often the first guess is right.");
        }

        var (first, three) = (judged.Count(each => each.Rank == 1), judged.Count(each => each.Rank <= 3));
        var interval = ExactBinomial.ClopperPearson(first, judged.Count);
        return new CauseHits(judged.Count, first, three, interval.Lower, interval.Upper, FactWords.Say(
            $"The first guess was right in {first} of {judged.Count} settled sheets, the right one among the first three in {three}. That fits a true share of {100 * interval.Lower:0} to {100 * interval.Upper:0} in 100{(judged.Count < 10 ? ": too few to tell" : "")}."));
    }
}
