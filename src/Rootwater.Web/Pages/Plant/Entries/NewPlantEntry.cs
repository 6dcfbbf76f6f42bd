using Rootwater.Growing.Bench;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Web.Numbers;

namespace Rootwater.Web.Pages.Plant.Entries;

/// <summary>A growth a new plant came with.</summary>
public sealed class NewGrowthEntry
{
    public GrowthForm Form { get; set; } = GrowthForm.Bulb;
    public string Leaves { get; set; } = "";
}

/// <summary>A new plant as typed: one page, and everything it came with goes into the ledger in one piece or not at all.</summary>
public sealed class NewPlantEntry(int nextNumber, IReadOnlyList<FormField> pot)
{
    // Fixed from the start: pressed twice, it is kept once.
    private readonly Dictionary<string, Guid> _ids = [];

    public string Number { get; set; } = nextNumber.ToString(System.Globalization.CultureInfo.InvariantCulture);
    public string Name { get; set; } = "";
    public string Kind { get; set; } = "";
    public Habit Habit { get; set; } = Habit.Sympodial;
    public WhenEntry When { get; } = new();
    public Propagation Raised { get; set; }
    public string Source { get; set; } = "";
    public string Price { get; set; } = "";
    public string Currency { get; set; } = "";
    public string Wild { get; set; } = "";
    public string Place { get; set; } = "";
    public IReadOnlyList<FormField> Pot { get; } = pot;
    public string Quarantine { get; set; } = "42";
    public List<NewGrowthEntry> Growths { get; } = [new()];

    public Guid Id => IdOf("plant");

    public void AddGrowth() => Growths.Add(new NewGrowthEntry { Form = Growths[^1].Form });

    /// <summary>Whether the page has a place for what is wrong with a field.</summary>
    public bool Places(string field) => field is "number" or "name as received" or "kind" or "source" or "price" or "currency" or "wild locality" or "quarantine" or WhenEntry.Field
        || Pot.Any(each => each.Key == field) || field.StartsWith("leaves of growth", StringComparison.Ordinal);

    /// <exception cref="EntryException">Names every field that cannot be.</exception>
    public IReadOnlyList<NewFact> ToFacts(BenchSettings bench)
    {
        var read = new Measured(bench.Units);
        var when = When.ToWhen(bench.Zone, bench.Now);
        var number = read.Count("number", Number, 1, 99_999);
        if (number is null && string.IsNullOrWhiteSpace(Number))
            read.Refuse("number", null, "the number for its tag.");
        if (string.IsNullOrWhiteSpace(Name))
            read.Refuse("name as received", null, "what the seller wrote, word for word; \"unknown\" where nothing was.");
        if (string.IsNullOrWhiteSpace(Kind))
            read.Refuse("kind", null, "what kind of plant it is, such as unifoliate Cattleya: wants go by it.");
        var price = read.Positive("price", Price, 1_000_000, "the currency");
        var currency = string.IsNullOrWhiteSpace(Currency) ? null : Currency.Trim().ToUpperInvariant();
        if (currency is not null && (currency.Length != 3 || !currency.All(char.IsAsciiLetterUpper)))
            read.Refuse("currency", Currency, "three letters, such as EUR.");
        if (price is not null && currency is null)
            read.Refuse("currency", null, "say which, such as EUR.");
        var pot = Pot.First(field => field.Key == "medium").Given is null ? null : PlantForms.Pot(key => Pot.First(field => field.Key == key).Given, IdOf("pot"), read);
        var days = read.Count("quarantine", Quarantine, 0, 365) ?? 0;
        var drafts = new List<FactPayload>
        {
            new PlantArrived(Id, number ?? 1, Name.Trim(), Kind.Trim(), Habit, new Provenance
            {
                RaisedAs = Raised, Source = Given(Source), Price = price is { } paid ? (decimal)paid : null, Currency = currency, WildLocality = Given(Wild),
            }),
        };
        if (Guid.TryParse(Place, out var place))
            drafts.Add(new PlantMoved(Id, place));
        if (pot is not null)
            drafts.Add(new PlantPotted(Id, pot));
        for (var i = 0; i < Growths.Count; i++)
        {
            if (read.Count($"leaves of growth {i + 1}", Growths[i].Leaves, 0, 60) is not { } leaves)
                continue;
            var growth = IdOf($"growth {i}");
            drafts.Add(new GrowthSeen(Id, growth, i + 1, Growths[i].Form, true));
            drafts.AddRange(Enumerable.Range(1, leaves).Select(position => new LeafSeen(Id, growth, IdOf($"growth {i} leaf {position}"), position, true)));
        }

        if (days > 0)
            drafts.Add(new QuarantineBegun(Id, days, "new on the bench"));
        read.Check();
        return [.. drafts.Select((payload, i) => new NewFact { Id = IdOf($"fact {i}"), SubjectId = Id, Payload = payload, When = when })];
    }

    private Guid IdOf(string what) => _ids.TryGetValue(what, out var id) ? id : _ids[what] = Guid.CreateVersion7();

    private static string? Given(string text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
