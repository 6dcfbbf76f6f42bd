using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Web.Numbers;

namespace Rootwater.Web.Pages.Plant.Entries;

/// <summary>What can be entered about a plant.</summary>
public enum EntryKind
{
    Leaf,
    NewLeaf,
    Growth,
    GrowthEnded,
    Roots,
    Spike,
    States,
    Note,
    Moved,
    Repotted,
    Determined,
    Parentage,
    WrongArrival,
    Quarantine,
    Virus,
    Pest,
    Division,
    Lost,
    Reading,
}

/// <summary>What stands around an entry: the plant, the bench's clock and the reader's units.</summary>
public sealed record EntryContext(PlantLife Life, BenchSettings Bench, IReadOnlyList<Growing.Bench.Place> Places, int NextNumber);

/// <summary>A fact on its way, about the plant itself unless another is named.</summary>
public sealed record Draft(FactPayload Payload, Guid? Subject = null);

/// <summary>
/// A sheet as it is being filled in. It keeps the ids of what it will write from the first moment, so that pressed twice it is kept once.
/// </summary>
public sealed class EntryForm(EntryKind kind, IReadOnlyList<FormField> fields, Func<EntryForm, EntryContext, Measured, IEnumerable<Draft>> make)
{
    private readonly List<Guid> _fresh = [];

    public EntryKind Kind { get; } = kind;
    public IReadOnlyList<FormField> Fields { get; } = fields;
    public WhenEntry When { get; set; } = new();

    /// <summary>What the sheet is about, beside its title: "bulb 4, leaf 1".</summary>
    public string? About { get; init; }

    /// <summary>The fact that this puts right.</summary>
    public Guid? Corrects { get; set; }

    public FormField this[string key] => Fields.First(field => field.Key == key);

    public string? Text(string key) => this[key].Given;

    public bool Ticked(string key) => this[key].Ticked;

    /// <summary>The chosen value of a list.</summary>
    public T? Choice<T>(string key) where T : struct, Enum => Enum.TryParse<T>(Text(key), out var value) ? value : null;

    /// <summary>An id of this sheet's own, the same every time it is asked for.</summary>
    public Guid Fresh(int index)
    {
        while (_fresh.Count <= index)
            _fresh.Add(Guid.CreateVersion7());
        return _fresh[index];
    }

    /// <summary>Keeps an id that is there already, for putting a fact right.</summary>
    public EntryForm Keep(int index, Guid id)
    {
        Fresh(index);
        _fresh[index] = id;
        return this;
    }

    /// <summary>What is missing and must be said.</summary>
    /// <exception cref="EntryException">Nothing stands there.</exception>
    public string Required(string key, string accepted) => Text(key) ?? throw new EntryException(key, null, accepted);

    /// <exception cref="EntryException">Names every field that cannot be, or that nothing was filled in.</exception>
    public IReadOnlyList<NewFact> ToFacts(EntryContext context) => ToFacts(context.Bench, context.Life.Card.Id, read => make(this, context, read));

    /// <summary>For a sheet that stands by itself: about whom it is was found out by the page.</summary>
    public IReadOnlyList<NewFact> ToFacts(BenchSettings bench, Guid subject, Func<Measured, IEnumerable<Draft>> drafts)
    {
        var read = new Measured(bench.Units);
        var when = When.ToWhen(bench.Zone, bench.Now);
        var made = drafts(read).ToList();
        read.Check();
        if (made.Count == 0)
            throw new EntryException("entry", null, "fill in at least one thing.");
        // Ids of facts stand behind those of things, far enough apart that neither runs into the other.
        return
        [
            .. made.Select((draft, i) => new NewFact
            {
                Id = Fresh(100 + i),
                SubjectId = draft.Subject ?? subject,
                Payload = draft.Payload,
                When = when,
                Corrects = i == 0 ? Corrects : null,
            }),
        ];
    }
}
