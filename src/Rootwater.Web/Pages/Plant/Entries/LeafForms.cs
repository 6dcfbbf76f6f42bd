using Rootwater.Growing.Bench;
using Rootwater.Ledger;
using Rootwater.Ledger.Facts;
using Rootwater.Web.Texts;

namespace Rootwater.Web.Pages.Plant.Entries;

/// <summary>Sheets for leaves and growths.</summary>
public static class LeafForms
{
    /// <summary>What is seen on a leaf, how long it is, and its end: what stays empty was not looked at.</summary>
    public static EntryForm Leaf(EntryContext context, PlantWords say, Growth growth, Leaf leaf) => new(
        EntryKind.Leaf,
        [
            new FormField("sign", FieldShape.Choice) { Options = Words.Of<LeafSign>(say.Sign) },
            new FormField("part", FieldShape.Choice) { Options = Words.Of<LeafPart>(say.Part), Value = nameof(LeafPart.Whole) },
            new FormField("length", FieldShape.Number) { Unit = "cm", Under = "UnderMeasure" },
            new FormField("width", FieldShape.Number) { Unit = "cm" },
            new FormField("lost", FieldShape.Choice) { Options = Words.Of<LeafLoss>(say.Loss), Under = "UnderLost", Hint = context.Life.Card.Habit == Habit.Sympodial ? "HintShed" : null },
            new FormField("note", FieldShape.Words),
        ],
        (form, life, read) =>
        {
            var plant = life.Life.Card.Id;
            var drafts = new List<Draft>();
            if (form.Choice<LeafSign>("sign") is { } sign)
                drafts.Add(new Draft(new LeafMarked(plant, leaf.Id, sign, form.Choice<LeafPart>("part") ?? LeafPart.Whole, form.Text("note"))));
            var length = read.Centimetres("length", form.Text("length"));
            var width = read.Centimetres("width", form.Text("width"), 60);
            if (length is not null || width is not null)
                drafts.Add(new Draft(new LeafMeasured(plant, leaf.Id, length, width)));
            if (form.Choice<LeafLoss>("lost") is { } cause)
                drafts.Add(new Draft(new LeafLost(plant, leaf.Id, cause, drafts.Any(draft => draft.Payload is LeafMarked) ? null : form.Text("note"))));
            if (drafts.Count == 0 && form.Text("note") is not null)
                throw new EntryException("sign", null, "choose what is to be seen; a note alone belongs to the plant.");
            return drafts;
        })
    { About = say.Leaf(growth, leaf) };

    public static EntryForm NewLeaf(EntryContext context, PlantWords say, Growth? on = null) => new(
        EntryKind.NewLeaf,
        [
            new FormField("growth", FieldShape.Choice) { Options = Growths(context, say), Value = (on ?? Youngest(context))?.Id.ToString() ?? "" },
            new FormField("position", FieldShape.Number) { Hint = "HintPosition" },
            new FormField("there", FieldShape.Tick) { Hint = "HintThere" },
        ],
        (form, life, read) =>
        {
            var growth = Growth(form, life);
            var position = read.Count("position", form.Text("position"), 1, 500) ?? (growth.Leaves.Count == 0 ? 1 : growth.Leaves.Max(leaf => leaf.Position) + 1);
            return [new Draft(new LeafSeen(life.Life.Card.Id, growth.Id, form.Fresh(0), position, form.Ticked("there")))];
        });

    /// <summary>A new growth with the leaves it has already.</summary>
    public static EntryForm NewGrowth(EntryContext context, PlantWords say) => new(
        EntryKind.Growth,
        [
            new FormField("form", FieldShape.Choice) { Options = Words.Of<GrowthForm>(say.Form), Value = (Youngest(context)?.Form ?? (context.Life.Card.Habit == Habit.Monopodial ? GrowthForm.Stem : GrowthForm.Bulb)).ToString() },
            new FormField("number", FieldShape.Number) { Hint = "HintNumber" },
            new FormField("leaves", FieldShape.Number) { Hint = "HintLeaves" },
            new FormField("there", FieldShape.Tick) { Hint = "HintThere" },
        ],
        (form, life, read) =>
        {
            if (form.Choice<GrowthForm>("form") is not { } shape)
                throw new EntryException("form", null, "choose what it is.");
            var leaves = read.Count("leaves", form.Text("leaves"), 0, 60) ?? 0;
            var number = read.Count("number", form.Text("number"), 1, 500) ?? (life.Life.Growths.Count == 0 ? 1 : life.Life.Growths.Max(growth => growth.Number) + 1);
            var (plant, there) = (life.Life.Card.Id, form.Ticked("there"));
            return [new Draft(new GrowthSeen(plant, form.Fresh(0), number, shape, there)), .. Enumerable.Range(1, leaves).Select(position => new Draft(new LeafSeen(plant, form.Fresh(0), form.Fresh(position), position, there)))];
        });

    public static EntryForm GrowthEnded(EntryContext context, PlantWords say, Growth? on = null) => new(
        EntryKind.GrowthEnded,
        [
            new FormField("growth", FieldShape.Choice) { Options = Growths(context, say), Value = on?.Id.ToString() ?? "" },
            new FormField("cause", FieldShape.Text) { Hint = "HintGrowthCause" },
        ],
        (form, life, _) => [new Draft(new GrowthEnded(life.Life.Card.Id, Growth(form, life).Id, form.Required("cause", "say how it ended, such as shrivelled, rotted, cut off.")))]);

    public static EntryForm Roots(EntryContext context, PlantWords say, Growth? on = null) => new(
        EntryKind.Roots,
        [
            new FormField("growth", FieldShape.Choice) { Options = Growths(context, say), Value = (on ?? Youngest(context))?.Id.ToString() ?? "", Hint = "HintRootsGrowth" },
            new FormField("count", FieldShape.Number),
        ],
        (form, life, read) => [new Draft(new NewRootsSeen(life.Life.Card.Id, Guid.TryParse(form.Text("growth"), out var growth) ? growth : null, read.Count("count", form.Text("count"), 1, 500)))]);

    internal static IReadOnlyList<FieldOption> Growths(EntryContext context, PlantWords say) =>
        [.. context.Life.Growths.Where(growth => growth.Ended is null).OrderByDescending(growth => growth.Number).Select(growth => new FieldOption(growth.Id.ToString(), say.Growth(growth)))];

    internal static Growth? Youngest(EntryContext context) => context.Life.Growths.Where(growth => growth.Ended is null).MaxBy(growth => growth.Number);

    internal static Growth Growth(EntryForm form, EntryContext context) =>
        (Guid.TryParse(form.Text("growth"), out var id) ? context.Life.Growths.FirstOrDefault(growth => growth.Id == id) : null)
        ?? throw new EntryException("growth", null, "choose the growth; where there is none yet, enter a new growth first.");
}

/// <summary>Lists of an enum's values in words.</summary>
internal static class Words
{
    public static IReadOnlyList<FieldOption> Of<T>(Func<T, string> say) where T : struct, Enum => [.. Enum.GetValues<T>().Select(value => new FieldOption(value.ToString(), say(value)))];
}
