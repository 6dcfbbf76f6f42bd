using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Cupboard.Entry;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>New products over the ledger.</summary>
public sealed class ProductEntryDesk(BenchDatabase database, FactLog log, ICupboardDesk cupboard, IWaterDesk waters, BenchTime time, TimeProvider clock) : IProductEntryDesk
{
    private const int MostOffered = 5;

    public async Task<EntryPreview> PreviewAsync(NewProduct entry, CancellationToken cancel = default)
    {
        var read = cupboard.Preview(entry);
        if (read.Product is not { } product)
        {
            return new EntryPreview(read, null, [], null);
        }

        var known = LabelChange.KnownAs(product, (await cupboard.ListAsync(cancel)).Select(item => item.Product));
        var changes = known is null ? [] : LabelChange.Between(known, product);
        return new EntryPreview(read, known?.Id, changes, known is null ? null : LabelChange.Words(known, changes));
    }

    public async Task<IReadOnlyList<ProductEntrySheet>> ListAsync(CancellationToken cancel = default)
    {
        var all = await database.ReadAsync(db => EntriesInLedger.AllAsync(db, cancel), cancel);
        var sheets = new List<ProductEntrySheet>();
        foreach (var entry in all.OrderBy(entry => entry.Entry.Stage is EntryStage.Accepted or EntryStage.Rejected).ThenByDescending(entry => entry.BegunOn.Position))
        {
            sheets.Add(await SheetAsync(entry, cancel));
        }

        return sheets;
    }

    public async Task<ProductEntrySheet?> GetAsync(Guid entryId, CancellationToken cancel = default) => await FindAsync(entryId, cancel) is { } entry ? await SheetAsync(entry, cancel) : null;

    public async Task<ProductEntrySheet> BeginAsync(NewProduct entry, CancellationToken cancel = default)
    {
        if (await FindAsync(entry.Id, cancel) is null)
        {
            var preview = await PreviewAsync(entry, cancel);
            if (preview.Read.Product is not { } product || preview.Read.Problems.Count > 0)
            {
                throw new EntryException(preview.Read.Problems);
            }

            if (await cupboard.GetAsync(entry.Id, cancel) is not null)
            {
                throw new EntryException("id", entry.Id.ToString(), "a new id: that product is in the cupboard already");
            }

            await log.AppendAsync(new NewFact
            {
                Id = NewId(),
                SubjectId = Guid.Empty,
                Payload = new ProductEntryBegun(product.Id, product, entry.Formula ?? entry.Acid?.Formula, preview.Read.MadeOf, preview.KnownAs, preview.Words),
            }, cancel);
        }

        return (await GetAsync(entry.Id, cancel))!;
    }

    public async Task<ProductEntrySheet> PlanTestAsync(Guid entryId, TestCanChoice choice, Guid? idempotencyKey = null, CancellationToken cancel = default)
    {
        var water = await waters.GetAsync(choice.WaterId, cancel);
        return water?.Source is { } source
            ? await TakeAsync(entryId, new ProductTestPlanned(entryId, choice.GramsPerLitre, choice.Litres, choice.WaterId, source.MolPerKgWater, choice.TemperatureCelsius), idempotencyKey, cancel)
            : throw new EntryException("water", choice.WaterId.ToString(), "a water with a report");
    }

    public Task<ProductEntrySheet> ReadTestAsync(Guid entryId, double? ecMicrosiemensPerCm, double? ph, Guid? idempotencyKey = null, CancellationToken cancel = default) =>
        TakeAsync(entryId, new ProductTestRead(entryId, ecMicrosiemensPerCm, ph), idempotencyKey, cancel);

    public Task<ProductEntrySheet> LookAsync(Guid entryId, bool clear, string? note = null, Guid? idempotencyKey = null, CancellationToken cancel = default) =>
        TakeAsync(entryId, new ProductTestLooked(entryId, clear, Words(note)), idempotencyKey, cancel);

    public async Task<ProductEntrySheet> BeginTrialAsync(Guid entryId, IReadOnlyList<TrialPair> pairs, string outcome, Guid? idempotencyKey = null, CancellationToken cancel = default)
    {
        var standing = (await database.ReadAsync(db => BenchReader.StandingAsync(db, cancel), cancel)).Select(plant => plant.Plant.Id).ToHashSet();
        if (pairs.SelectMany(pair => new[] { pair.New, pair.Old }).FirstOrDefault(plant => !standing.Contains(plant)) is var stranger && stranger != default)
        {
            throw new EntryException("pairs", stranger.ToString(), "plants that stand on this bench");
        }

        return await TakeAsync(entryId, new ProductTrialBegun(entryId, pairs, outcome), idempotencyKey, cancel);
    }

    public Task<ProductEntrySheet> JudgeTrialAsync(Guid entryId, int worse, int better, string? note = null, Guid? idempotencyKey = null, CancellationToken cancel = default) =>
        TakeAsync(entryId, new ProductTrialJudged(entryId, worse, better, Words(note)), idempotencyKey, cancel);

    public Task<ProductEntrySheet> DecideAsync(Guid entryId, bool accept, string why, Guid? idempotencyKey = null, CancellationToken cancel = default) =>
        TakeAsync(entryId, new ProductDecided(entryId, accept, why), idempotencyKey, cancel);

    private async Task<ProductEntrySheet> TakeAsync(Guid entryId, FactPayload step, Guid? id, CancellationToken cancel)
    {
        var known = await FindAsync(entryId, cancel) ?? throw new EntryException("entry", entryId.ToString(), "a product that was begun");
        if (id is { } sent && known.Steps.Any(each => each.Fact.Id == sent))
        {
            return await SheetAsync(known, cancel);
        }

        var (next, problems) = known.Entry.With(EntriesInLedger.StepOf(step, await time.NowAsync(cancel)));
        if (next is null)
        {
            throw new EntryException([.. problems.Select(EntryProblems.Of)]);
        }

        var facts = new List<NewFact> { new() { Id = id ?? NewId(), SubjectId = entryId, Payload = step } };
        // Provisional as its label says; once accepted, with what the test can taught.
        if (next.Stage is EntryStage.OnTrial or EntryStage.Accepted)
        {
            var product = next.Stage == EntryStage.Accepted ? next.Corrected().Product : next.Product;
            facts.Add(new NewFact { Id = NewId(), SubjectId = entryId, Payload = new ProductSet(product, known.Begun.Formula, known.Begun.MadeOf) });
        }

        await log.AppendAsync(facts, cancel);
        return (await GetAsync(entryId, cancel))!;
    }

    private async Task<EntryInLedger?> FindAsync(Guid id, CancellationToken cancel) => (await database.ReadAsync(db => EntriesInLedger.AllAsync(db, cancel), cancel)).FirstOrDefault(entry => entry.Begun.EntryId == id);

    private async Task<ProductEntrySheet> SheetAsync(EntryInLedger told, CancellationToken cancel)
    {
        var entry = told.Entry;
        var planned = entry.Steps.OfType<TestPlanned>().LastOrDefault();
        var trial = entry.Steps.OfType<TrialStarted>().LastOrDefault();
        var standing = trial is not null || entry.Stage == EntryStage.Clear ? await database.ReadAsync(db => BenchReader.StandingAsync(db, cancel), cancel) : [];
        var names = standing.ToDictionary(plant => plant.Plant.Id, plant => FactWords.Say($"{plant.Plant.Number} {plant.Plant.CurrentName}"));
        PairLine Line(TrialPair pair) => new(pair.New, names.GetValueOrDefault(pair.New, "a plant that is gone"), pair.Old, names.GetValueOrDefault(pair.Old, "a plant that is gone"));
        return new ProductEntrySheet
        {
            Id = told.Begun.EntryId,
            Product = entry.Product,
            MadeOf = told.Begun.MadeOf,
            Stage = entry.Stage,
            IsProvisional = entry.IsProvisional,
            Next = entry.Next?.What,
            NotBefore = entry.Next?.NotBefore?.DateTime,
            LabelChange = told.Begun.Change,
            Test = entry.Test is { } test && planned is not null
                ? new TestSheet((await waters.GetAsync(planned.WaterId, cancel))?.Name ?? "a water that is gone", planned.GramsPerLitre, planned.Litres, planned.GramsPerLitre * planned.Litres, test.Ec, test.PH, test.MeasuredEc, test.MeasuredPH, test.EcAgrees, test.PHAgrees)
                : null,
            Corrections = entry.Corrected().Corrections,
            Steps = [new EntryLine(told.BegunOn.Id, told.BegunOn.When.Earliest, FactWords.Of(told.Begun, null), true), .. told.Steps.Select(step => new EntryLine(step.Fact.Id, step.Fact.When.Earliest, FactWords.Of(step.Payload, null), step.Counts))],
            Pairs = [.. trial?.Pairs.Select(Line) ?? []],
            Outcome = trial?.Outcome,
            Offered = entry.Stage == EntryStage.Clear ? [.. Matched(standing).Select(Line)] : [],
            Unseen = [.. Unseen(entry.Product)],
        };
    }

    // Sisters in like pots, the smaller pots first: what is lost with them is the least.
    private static IEnumerable<TrialPair> Matched(List<Standing> standing) => standing
        .Where(plant => plant.Plant.WantId is not null && plant.Plant.Quarantine is not { Ended: null })
        .GroupBy(plant => (plant.Plant.WantId, plant.Plant.Kind, plant.Pot.Medium, plant.Pot.Culture))
        .Where(group => group.Count() > 1)
        .OrderByDescending(group => group.Count())
        .SelectMany(group => group.OrderBy(plant => plant.Pot.MediumLitres).ThenBy(plant => plant.Plant.Number).Chunk(2).Where(two => two.Length == 2))
        .Take(MostOffered).Select(two => new TrialPair(two[0].Plant.Id, two[1].Plant.Id));

    private static IEnumerable<string> Unseen(Product product)
    {
        var mg = product.MgPerKg;
        if (mg[Growing.Nutrient.UreaNitrogen] > 0)
        {
            yield return FactWords.Say($"Urea: {mg[Growing.Nutrient.UreaNitrogen] / 1e4:0.##} % of it is urea nitrogen, which no EC pen sees.");
        }

        yield return "Phosphite: EC sees its salt but cannot tell it from phosphate, and it feeds no root. Only the label tells which of the two is in it.";
        yield return "Micronutrients are too thin for EC: that they are there, and not too much of them, only the label tells.";
    }

    private Guid NewId() => Guid.CreateVersion7(clock.GetUtcNow());

    private static string? Words(string? note) => string.IsNullOrWhiteSpace(note) ? null : note.Trim();
}
