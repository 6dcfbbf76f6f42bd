using System.Globalization;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Bench.Names;
using Rootwater.Ledger;
using Rootwater.Ledger.Facts;
using Rootwater.Web.Numbers;
using Rootwater.Web.Texts;

namespace Rootwater.Web.Pages.Plant.Entries;

/// <summary>Sheets for the plant as a whole: notes, names, places, pots, divisions, its end.</summary>
public static class PlantForms
{
    public static EntryForm Note() => new(
        EntryKind.Note, [new FormField("note", FieldShape.Words)],
        (form, context, _) => [new Draft(new PlantNoted(context.Life.Card.Id, form.Required("note", "write what was seen.")))]);

    public static EntryForm States(EntryContext context, PlantWords say) => new(
        EntryKind.States,
        [.. Enum.GetValues<PlantState>().Select(state => new FormField(state.ToString(), FieldShape.Tick) { Label = say.State(state), Ticked = context.Life.Card.States.Contains(state) })],
        (form, life, _) => [new Draft(new PlantStatesSeen(life.Life.Card.Id, [.. Enum.GetValues<PlantState>().Where(state => form.Ticked(state.ToString()))]))]);

    public static EntryForm Moved(EntryContext context) => new(
        EntryKind.Moved,
        [new FormField("place", FieldShape.Choice) { Options = [.. context.Places.Select(place => new FieldOption(place.Id.ToString(), place.Name))] }],
        (form, life, _) => Guid.TryParse(form.Text("place"), out var place)
            ? [new Draft(new PlantMoved(life.Life.Card.Id, place))]
            : throw new EntryException("place", null, "choose where it stands now."));

    /// <summary>The pot fields, shared with a new plant's.</summary>
    public static IReadOnlyList<FormField> PotFields(PlantWords say, ReadersUnits units, Pot? now) =>
    [
        new FormField("culture", FieldShape.Choice) { Options = Words.Of<Culture>(say.Culture), Value = now?.Culture.ToString() ?? nameof(Culture.Wicking) },
        new FormField("medium", FieldShape.Text) { Value = now?.Medium ?? "", Hint = "HintMedium" },
        new FormField("mediumVolume", FieldShape.Number) { Unit = Volume(units), Value = Shown(units, now?.MediumLitres) },
        new FormField("reservoir", FieldShape.Number) { Unit = Volume(units), Value = Shown(units, now?.ReservoirLitres), Hint = "HintReservoir" },
        new FormField("feed", FieldShape.Number) { Unit = "mL", Value = now?.FeedMillilitres.ToString("0", CultureInfo.InvariantCulture) ?? "" },
        new FormField("every", FieldShape.Number) { Unit = "d", Value = now?.FeedEveryDays.ToString(CultureInfo.InvariantCulture) ?? "7" },
    ];

    public static EntryForm Repotted(EntryContext context, PlantWords say) => new(
        EntryKind.Repotted, PotFields(say, context.Bench.Units, context.Life.Card.Pot),
        (form, life, read) => [new Draft(new PlantPotted(life.Life.Card.Id, Pot(form.Text, form.Fresh(0), read)))]);

    /// <summary>Reads a pot from its fields.</summary>
    public static Pot Pot(Func<string, string?> given, Guid id, Measured read)
    {
        if (given("medium") is null)
            read.Refuse("medium", null, "name the medium, such as expanded clay.");
        var culture = Enum.TryParse<Culture>(given("culture"), out var chosen) ? chosen : Culture.Wicking;
        var reservoir = read.Litres("reservoir", given("reservoir"), 50) ?? 0;
        if (culture == Culture.Wicking && reservoir <= 0 && given("reservoir") is null)
            read.Refuse("reservoir", null, "a wicking pot has a reservoir: say what it holds.");
        return new Pot
        {
            Id = id,
            Culture = culture,
            Medium = given("medium") ?? "",
            MediumLitres = read.Litres("mediumVolume", given("mediumVolume"), 100) ?? 0,
            ReservoirLitres = culture == Culture.Wicking ? reservoir : 0,
            FeedMillilitres = read.Positive("feed", given("feed"), 20_000, "mL") ?? 0,
            FeedEveryDays = read.Count("every", given("every"), 1, 365) ?? 7,
            LastFed = null,
        };
    }

    /// <summary>A determined name is written by the codes. Where something typed would be left out, or nothing can be read, it stands as typed.</summary>
    public static string ByTheCodes(string typed) => NameReader.Read(typed) is { Name: { } name } reading
        && reading.Findings.All(finding => finding.Severity == Severity.Note && finding.Fault is not (NameFault.Remark or NameFault.ReadAsAuthor)) ? name.ToText() : typed;

    public static EntryForm Determined() => new(
        EntryKind.Determined,
        [new FormField("name", FieldShape.Text) { Hint = "HintName", IsName = true }, new FormField("evidence", FieldShape.Text) { Hint = "HintEvidence" }],
        (form, context, read) =>
        {
            if (form.Text("name") is null)
                read.Refuse("name", null, "write what it proved to be.");
            if (form.Text("evidence") is null)
                read.Refuse("evidence", null, "say on what: in flower, an expert, a label that was swapped.");
            return [new Draft(new PlantDetermined(context.Life.Card.Id, ByTheCodes(form.Text("name") ?? ""), form.Text("evidence") ?? ""))];
        });

    public static EntryForm Parentage(EntryContext context) => new(
        EntryKind.Parentage,
        [new FormField("seed", FieldShape.Text) { Value = context.Life.SeedParent ?? "", IsName = true }, new FormField("pollen", FieldShape.Text) { Value = context.Life.PollenParent ?? "", Hint = "HintParents", IsName = true }],
        (form, life, read) =>
        {
            if (form.Text("seed") is null)
                read.Refuse("seed", null, "name the parent that bore the seed.");
            if (form.Text("pollen") is null)
                read.Refuse("pollen", null, "name the parent that gave the pollen.");
            return [new Draft(new PlantParentage(life.Life.Card.Id, ByTheCodes(form.Text("seed") ?? ""), ByTheCodes(form.Text("pollen") ?? "")))];
        });

    public static EntryForm WrongArrival(EntryContext context) => new(
        EntryKind.WrongArrival,
        [
            new FormField("ordered", FieldShape.Text),
            new FormField("came", FieldShape.Text) { Value = context.Life.Card.NameAsReceived },
            new FormField("agreed", FieldShape.Text) { Hint = "HintAgreed" },
        ],
        (form, life, read) =>
        {
            if (form.Text("ordered") is null)
                read.Refuse("ordered", null, "write what was ordered.");
            if (form.Text("came") is null)
                read.Refuse("came", null, "write what came instead.");
            return [new Draft(new WrongArrival(life.Life.Card.Id, form.Text("ordered") ?? "", form.Text("came") ?? "", form.Text("agreed")))];
        });

    /// <summary>A division or keiki: a plant of its own that keeps this one's history; growths that go with it end here and begin there with their leaves.</summary>
    public static EntryForm Division(EntryContext context, PlantWords say) => new(
        EntryKind.Division,
        [
            new FormField("raised", FieldShape.Choice) { Options = [.. new[] { Propagation.Division, Propagation.Keiki, Propagation.Cutting }.Select(raised => new FieldOption(raised.ToString(), say.Raised(raised)))], Value = nameof(Propagation.Division) },
            new FormField("number", FieldShape.Number) { Value = context.NextNumber.ToString(CultureInfo.InvariantCulture) },
            .. context.Life.Growths.Where(growth => growth.Ended is null && context.Life.Card.Habit == Habit.Sympodial)
                .Select((growth, i) => new FormField(growth.Id.ToString(), FieldShape.Tick) { Label = say.Growth(growth), Under = i == 0 ? "UnderGoes" : null }),
        ],
        (form, life, read) =>
        {
            var (parent, child) = (life.Life.Card, form.Fresh(0));
            var number = read.Count("number", form.Text("number"), 1, 99_999) ?? life.NextNumber;
            var raised = form.Choice<Propagation>("raised") ?? Propagation.Division;
            var drafts = new List<Draft> { new(new PlantArrived(child, number, parent.NameAsReceived, parent.Kind, parent.Habit, new Provenance { RaisedAs = raised, ParentPlantId = parent.Id }), child) };
            if (life.Life.Names.Count > 0)
                drafts.Add(new Draft(new PlantDetermined(child, parent.Name, $"as no. {parent.Number}, from which it was taken"), child));
            if (parent.Place is { } place)
                drafts.Add(new Draft(new PlantMoved(child, place.Id), child));
            if (parent.WantId is { } want)
                drafts.Add(new Draft(new PlantWantChosen(child, want), child));
            var next = 1;
            foreach (var (growth, i) in life.Life.Growths.Where(growth => growth.Ended is null && form.Fields.Any(field => field.Key == growth.Id.ToString() && field.Ticked)).Select((growth, i) => (growth, i)))
            {
                var there = form.Fresh(next++);
                drafts.Add(new Draft(new GrowthSeen(child, there, i + 1, growth.Form, true), child));
                foreach (var leaf in growth.Leaves.Where(leaf => leaf.Lost is null))
                    drafts.Add(new Draft(new LeafSeen(child, there, form.Fresh(next++), leaf.Position, true), child));
                drafts.Add(new Draft(new GrowthEnded(parent.Id, growth.Id, $"went with no. {number}")));
            }

            if (life.Life.Growths.Count(growth => growth.Ended is null) is var living and > 0 && drafts.Count(draft => draft.Payload is GrowthEnded) == living)
                throw new EntryException("UnderGoes", null, "leave at least one growth here, or enter the move as a repotting.");
            return next > 99 ? throw new EntryException("UnderGoes", null, "fewer growths at a time: this many leaves are too many for one entry.") : drafts;
        });

    public static EntryForm Lost() => new(
        EntryKind.Lost,
        [new FormField("cause", FieldShape.Text) { Hint = "HintLostCause" }, new FormField("seen", FieldShape.Words) { Hint = "HintLostSeen" }],
        (form, context, _) => [new Draft(new PlantLost(context.Life.Card.Id, form.Required("cause", "say how: rot, cold, given away, sold."), form.Text("seen")))]);

    private static string Volume(ReadersUnits units) => units.Volume == VolumeUnit.UsGallon ? "US gal" : "L";

    private static string Shown(ReadersUnits units, double? litres) => litres is { } kept ? units.Volume.FromLitres(kept).ToString("0.###", CultureInfo.InvariantCulture) : "";
}
