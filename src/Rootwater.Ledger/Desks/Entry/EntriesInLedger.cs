using Rootwater.Growing.Cupboard.Entry;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>A product on its way as the facts tell it.</summary>
/// <param name="Begun">The label as read.</param>
/// <param name="BegunOn">The fact.</param>
/// <param name="Entry">As far as its steps follow one another.</param>
/// <param name="Steps">All that stand; those that do not follow count for nothing.</param>
internal sealed record EntryInLedger(ProductEntryBegun Begun, Fact BegunOn, ProductEntry Entry, IReadOnlyList<(Fact Fact, FactPayload Payload, bool Counts)> Steps);

/// <summary>Reads entries out of the ledger.</summary>
internal static class EntriesInLedger
{
    private static readonly string[] s_steps =
    [
        FactKinds.NameOf<ProductTestPlanned>(), FactKinds.NameOf<ProductTestRead>(), FactKinds.NameOf<ProductTestLooked>(),
        FactKinds.NameOf<ProductTrialBegun>(), FactKinds.NameOf<ProductTrialJudged>(), FactKinds.NameOf<ProductDecided>(),
    ];

    public static async Task<IReadOnlyList<EntryInLedger>> AllAsync(LedgerContext db, CancellationToken cancel)
    {
        var begun = (await StandingFacts.AboutAsync(db, [Guid.Empty], cancel, FactKinds.NameOf<ProductEntryBegun>())).Select(each => (each.Fact, Begun: (ProductEntryBegun)each.Payload)).ToList();
        if (begun.Count == 0)
        {
            return [];
        }

        var steps = (await StandingFacts.AboutAsync(db, [.. begun.Select(each => each.Begun.EntryId)], cancel, s_steps)).ToLookup(each => each.Fact.SubjectId);
        return [.. begun.Select(each => Told(each.Begun, each.Fact, steps[each.Begun.EntryId]))];
    }

    /// <summary>Products in the cupboard that are on trial or were rejected.</summary>
    public static async Task<IReadOnlyCollection<Guid>> HeldBackAsync(LedgerContext db, CancellationToken cancel) =>
        [.. (await AllAsync(db, cancel)).Where(entry => entry.Entry.Stage != EntryStage.Accepted).Select(entry => entry.Begun.EntryId)];

    private static EntryInLedger Told(ProductEntryBegun begun, Fact fact, IEnumerable<(Fact Fact, FactPayload Payload)> steps)
    {
        var entry = ProductEntry.Start(begun.Product);
        var told = new List<(Fact, FactPayload, bool)>();
        foreach (var (step, payload) in steps)
        {
            var next = entry.With(StepOf(payload, step.When)).Entry;
            told.Add((step, payload, next is not null));
            entry = next ?? entry;
        }

        return new EntryInLedger(begun, fact, entry, told);
    }

    /// <summary>The bench's own clock has one zone: its minutes can be told apart without one.</summary>
    public static DateTimeOffset At(FactWhen when) => new(DateTime.SpecifyKind(when.Earliest, DateTimeKind.Unspecified), TimeSpan.Zero);

    public static EntryStep StepOf(FactPayload payload, FactWhen when) => payload switch
    {
        ProductTestPlanned said => new TestPlanned(At(when), said.GramsPerLitre, said.Litres, said.WaterId, said.WaterMolPerKg, said.TemperatureCelsius),
        ProductTestRead said => new TestRead(At(when), said.EcMicrosiemensPerCm, said.PH),
        ProductTestLooked said => new TestLookedAt(At(when), said.Clear, said.Note),
        ProductTrialBegun said => new TrialStarted(At(when), said.Pairs, said.Outcome),
        ProductTrialJudged said => new TrialJudged(At(when), said.Worse, said.Better, said.Note),
        ProductDecided said => new Decided(At(when), said.Accepted, said.Why),
        _ => throw new InvalidOperationException($"{payload.GetType().Name} is no step of an entry."),
    };
}
