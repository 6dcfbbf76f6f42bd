using System.Text.Json.Serialization;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Projections;

/// <summary>
/// A plant's life as it was told, fact by fact. Each list is ordered by when things were, not by when they were written down: an old memory
/// told late takes its place among the others.
/// </summary>
internal sealed partial class PlantStory
{
    public required Guid PlantId { get; set; }
    public Arrival? Arrived { get; set; }
    public List<DeterminedName> Names { get; set; } = [];
    public WrongArrivalView? Wrong { get; set; }
    public Parents? Parentage { get; set; }
    public List<StatesTold> States { get; set; } = [];
    public List<WantTold> Wants { get; set; } = [];
    public List<MoveTold> Moves { get; set; } = [];
    public List<PotTold> Pots { get; set; } = [];
    public Loss? Lost { get; set; }
    public List<Quarantine> Quarantines { get; set; } = [];
    public List<PestCheck> PestChecks { get; set; } = [];
    public List<VirusTest> VirusTests { get; set; } = [];
    public List<NoteLine> Notes { get; set; } = [];
    public List<RootsSeen> NewRoots { get; set; } = [];

    /// <summary>By number.</summary>
    public List<Growth> Growths { get; set; } = [];

    /// <summary>When each pot was last poured into; kept with the pots' rows.</summary>
    [JsonIgnore]
    public Dictionary<Guid, (DateOnly? Fed, DateOnly? Given)> Drinks { get; set; } = [];

    [JsonIgnore]
    public DateOnly? LastFedOn { get; set; }

    [JsonIgnore]
    public DateOnly? LastGivenOn { get; set; }

    [JsonIgnore]
    public Guid? PhotoId { get; set; }

    /// <summary>When that photo was taken, as stored; null where it has to be looked up.</summary>
    [JsonIgnore]
    public string? PhotoTakenAt { get; set; }

    public sealed record Arrival(int Number, string NameAsReceived, string Kind, Habit Habit, Provenance? Provenance, FactWhen When);

    public sealed record Parents(string SeedParent, string PollenParent);

    public sealed record StatesTold(FactWhen When, IReadOnlyList<PlantState> States);

    public sealed record WantTold(FactWhen When, Guid WantId);

    public sealed record MoveTold(FactWhen When, Guid PlaceId);

    public sealed record PotTold(FactWhen When, Pot Pot);

    public sealed record Loss(FactWhen When, string Cause, string? Seen);

    /// <summary>Takes in what a fact says of the plant.</summary>
    /// <exception cref="EntryException">It speaks of a growth, leaf or spike that is not on this plant.</exception>
    public void Tell(FactWhen when, FactPayload payload)
    {
        if (payload is PlantArrived arrived)
        {
            Arrived = new Arrival(arrived.Number, arrived.NameAsReceived, arrived.Kind, arrived.Habit, arrived.Provenance, when);
            return;
        }

        var day = when.EarliestDay;
        switch (payload)
        {
            case PlantDetermined determined:
                Insert(Names, new DeterminedName(determined.Name, when, determined.Evidence), name => name.When.Earliest);
                break;
            case WrongArrival wrong:
                Wrong = new WrongArrivalView(wrong.Ordered, wrong.Came, wrong.Agreed, when);
                break;
            case PlantParentage parents:
                Parentage = new Parents(parents.SeedParent, parents.PollenParent);
                break;
            case PlantStatesSeen seen:
                Insert(States, new StatesTold(when, seen.States), told => told.When.Earliest);
                break;
            case PlantWantChosen chosen:
                Insert(Wants, new WantTold(when, chosen.WantId), told => told.When.Earliest);
                break;
            case PlantMoved moved:
                Insert(Moves, new MoveTold(when, moved.PlaceId), told => told.When.Earliest);
                break;
            case PlantPotted potted:
                Insert(Pots, new PotTold(when, potted.Pot with { LastFed = null }), told => told.When.Earliest);
                break;
            case PlantLost lost:
                Lost = new Loss(when, lost.Cause, lost.Seen);
                break;
            case QuarantineBegun begun:
                Insert(Quarantines, new Quarantine(day, begun.Days, begun.Why, null), quarantine => quarantine.Begun.ToDateTime(TimeOnly.MinValue));
                break;
            case QuarantineEnded:
                var open = Quarantines.FindLastIndex(quarantine => quarantine.Ended is null && quarantine.Begun <= day);
                if (open < 0)
                {
                    throw new EntryException("quarantine", when.ToText(), "a plant that was kept apart on that day");
                }

                Quarantines[open] = Quarantines[open] with { Ended = day };
                break;
            case PestChecked check:
                Insert(PestChecks, new PestCheck(when.Span, check.Found, check.Note), told => told.When.Earliest.ToDateTime(TimeOnly.MinValue));
                break;
            case VirusTested test:
                Insert(VirusTests, new VirusTest(when.Span, test.Virus, test.Method, test.Result, test.Note), told => told.When.Earliest.ToDateTime(TimeOnly.MinValue));
                break;
            case PlantNoted noted:
                Insert(Notes, new NoteLine(when.Span, noted.Text), told => told.When.Earliest.ToDateTime(TimeOnly.MinValue));
                break;
            case NewRootsSeen roots:
                if (roots.GrowthId is { } growthId)
                {
                    GrowthAt(growthId);
                }

                Insert(NewRoots, new RootsSeen(when.Span, roots.GrowthId, roots.Count), told => told.When.Earliest.ToDateTime(TimeOnly.MinValue));
                break;
            default:
                TellGrowth(when, payload);
                break;
        }
    }

    public string CurrentName => Names.Count > 0 ? Names[^1].Name : Arrived!.NameAsReceived;

    /// <summary>The pot it stood in on a day; the first where the day lies before all of them; null where it never had one.</summary>
    public Pot? PotOn(DateOnly day)
    {
        var index = Pots.FindLastIndex(told => told.When.EarliestDay <= day);
        return index >= 0 ? Pots[index].Pot : Pots.FirstOrDefault()?.Pot;
    }

    /// <summary>Notes that something was poured.</summary>
    public void Gave(DateOnly day, bool feed, Guid? potId)
    {
        if (potId is { } id)
        {
            var (fed, given) = Drinks.GetValueOrDefault(id);
            Drinks[id] = (feed ? Later(fed, day) : fed, Later(given, day));
        }

        (LastFedOn, LastGivenOn) = (feed ? Later(LastFedOn, day) : LastFedOn, Later(LastGivenOn, day));
    }

    private static DateOnly Later(DateOnly? a, DateOnly b) => a is { } known && known > b ? known : b;

    // Behind all that was at the same time or before.
    private static void Insert<T>(List<T> told, T item, Func<T, DateTime> when)
    {
        var at = told.Count;
        while (at > 0 && when(told[at - 1]) > when(item))
        {
            at--;
        }

        told.Insert(at, item);
    }
}
