using Rootwater.Growing.Bench;
using Rootwater.Ledger;
using Rootwater.Ledger.Facts;
using Rootwater.Web.Texts;

namespace Rootwater.Web.Pages.Plant.Entries;

/// <summary>The sheet for a spike from first seen to gone, with its flowers.</summary>
public static class SpikeForms
{
    /// <summary>A new spike, or what has become of one that is there.</summary>
    public static EntryForm Spike(EntryContext context, PlantWords say, Spike? of = null)
    {
        var living = context.Life.Growths.SelectMany(growth => growth.Spikes.Where(spike => spike.Ended is null).Select(spike => (growth, spike))).ToList();
        of ??= living.Count == 1 ? living[0].spike : null;
        return new EntryForm(
            EntryKind.Spike,
            [
                new FormField("spike", FieldShape.Choice) { Options = [.. living.Select(pair => new FieldOption(pair.spike.Id.ToString(), $"{say.Growth(pair.growth)}, {say.When(pair.spike.FirstSeen)}"))], Value = of?.Id.ToString() ?? "", Hint = "HintSpike" },
                new FormField("growth", FieldShape.Choice) { Options = LeafForms.Growths(context, say), Value = LeafForms.Youngest(context)?.Id.ToString() ?? "", Hint = "HintSpikeGrowth" },
                new FormField("length", FieldShape.Number) { Unit = "cm" },
                new FormField("buds", FieldShape.Number),
                new FormField("opened", FieldShape.Tick) { Under = "UnderFlowers" },
                new FormField("flowers", FieldShape.Number),
                new FormField("width", FieldShape.Number) { Unit = "cm" },
                new FormField("height", FieldShape.Number) { Unit = "cm" },
                new FormField("scent", FieldShape.Text) { Hint = "HintScent" },
                new FormField("over", FieldShape.Tick),
                new FormField("ended", FieldShape.Choice) { Options = Words.Of<SpikeEnd>(say.End), Under = "UnderEnded" },
                new FormField("note", FieldShape.Words),
            ],
            Make);
    }

    private static List<Draft> Make(EntryForm form, EntryContext context, Numbers.Measured read)
    {
        var plant = context.Life.Card.Id;
        var drafts = new List<Draft>();
        var length = read.Centimetres("length", form.Text("length"), 400);
        var buds = read.Count("buds", form.Text("buds"), 0, 500);
        Guid spike;
        if (Guid.TryParse(form.Text("spike"), out var known))
        {
            spike = known;
            if (length is not null || buds is not null)
                drafts.Add(new Draft(new SpikeMeasured(plant, spike, length, buds)));
        }
        else
        {
            spike = form.Fresh(0);
            drafts.Add(new Draft(new SpikeSeen(plant, LeafForms.Growth(form, context).Id, spike, length)));
            if (buds is not null)
                drafts.Add(new Draft(new SpikeMeasured(plant, spike, null, buds)));
        }

        if (form.Ticked("opened"))
            drafts.Add(new Draft(new BloomOpened(plant, spike)));
        var flowers = read.Count("flowers", form.Text("flowers"), 0, 1000);
        var width = read.Centimetres("width", form.Text("width"), 40);
        var height = read.Centimetres("height", form.Text("height"), 60);
        if (flowers is not null || width is not null || height is not null || form.Text("scent") is not null)
            drafts.Add(new Draft(new BloomDescribed(plant, spike, flowers, width, height, form.Text("scent"))));
        if (form.Ticked("over"))
            drafts.Add(new Draft(new BloomOver(plant, spike)));
        if (form.Choice<SpikeEnd>("ended") is { } cause)
            drafts.Add(new Draft(new SpikeEnded(plant, spike, cause, form.Text("note"))));
        else if (form.Text("note") is not null)
            throw new EntryException("note", form.Text("note"), "a note here says how the spike ended; anything else belongs to the plant.");
        return drafts;
    }
}
