using System.Globalization;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Web.Texts;

namespace Rootwater.Web.Pages.Plant.Entries;

/// <summary>Opens the sheet that would have written a fact, filled in as it stands; saving writes a fact that corrects it.</summary>
public static class Corrections
{
    /// <summary>Null for kinds that are put right elsewhere (feeds on the round).</summary>
    public static EntryForm? Of(FactLine line, EntryContext context, PlantWords say)
    {
        var form = Sheet(line.Payload, context, say);
        if (form is null)
            return null;
        form.Corrects = line.Id;
        form.When = WhenEntry.From(line.When);
        return form;
    }

    private static EntryForm? Sheet(FactPayload payload, EntryContext context, PlantWords say)
    {
        switch (payload)
        {
            case LeafMarked marked when Find(context, marked.LeafId) is var (growth, leaf):
                return Fill(LeafForms.Leaf(context, say, growth, leaf), ("sign", marked.Sign.ToString()), ("part", marked.Part.ToString()), ("note", marked.Note));
            case LeafMeasured measured when Find(context, measured.LeafId) is var (growth, leaf):
                return Fill(LeafForms.Leaf(context, say, growth, leaf), ("length", Cm(measured.LengthMillimetres)), ("width", Cm(measured.WidthMillimetres)));
            case LeafLost lost when Find(context, lost.LeafId) is var (growth, leaf):
                return Fill(LeafForms.Leaf(context, say, growth, leaf), ("lost", lost.Cause.ToString()), ("note", lost.Note));
            case LeafSeen seen:
                var newLeaf = Fill(LeafForms.NewLeaf(context, say), ("growth", seen.GrowthId.ToString()), ("position", Number(seen.Position))).Keep(0, seen.LeafId);
                newLeaf["there"].Ticked = seen.ThereOnArrival;
                return newLeaf;
            case GrowthSeen seen:
                var newGrowth = Fill(LeafForms.NewGrowth(context, say), ("form", seen.Form.ToString()), ("number", Number(seen.Number))).Keep(0, seen.GrowthId);
                newGrowth["there"].Ticked = seen.ThereOnArrival;
                return newGrowth;
            case GrowthEnded ended:
                return Fill(LeafForms.GrowthEnded(context, say), ("growth", ended.GrowthId.ToString()), ("cause", ended.Cause));
            case NewRootsSeen roots:
                return Fill(LeafForms.Roots(context, say), ("growth", roots.GrowthId?.ToString()), ("count", roots.Count is { } count ? Number(count) : null));
            case SpikeSeen seen:
                return Fill(SpikeForms.Spike(context, say), ("spike", ""), ("growth", seen.GrowthId.ToString()), ("length", Cm(seen.LengthMillimetres))).Keep(0, seen.SpikeId);
            case SpikeMeasured measured:
                return Fill(SpikeForms.Spike(context, say), ("spike", measured.SpikeId.ToString()), ("length", Cm(measured.LengthMillimetres)), ("buds", measured.Buds is { } buds ? Number(buds) : null));
            case BloomOpened opened:
                return Tick(Fill(SpikeForms.Spike(context, say), ("spike", opened.SpikeId.ToString())), "opened");
            case BloomOver over:
                return Tick(Fill(SpikeForms.Spike(context, say), ("spike", over.SpikeId.ToString())), "over");
            case BloomDescribed bloom:
                return Fill(SpikeForms.Spike(context, say), ("spike", bloom.SpikeId.ToString()), ("flowers", bloom.Flowers is { } flowers ? Number(flowers) : null), ("width", Cm(bloom.WidthMillimetres)), ("height", Cm(bloom.HeightMillimetres)), ("scent", bloom.Scent));
            case SpikeEnded ended:
                return Fill(SpikeForms.Spike(context, say), ("spike", ended.SpikeId.ToString()), ("ended", ended.Cause.ToString()), ("note", ended.Note));
            case PlantNoted noted:
                return Fill(PlantForms.Note(), ("note", noted.Text));
            case PlantStatesSeen states:
                var seenStates = PlantForms.States(context, say);
                foreach (var field in seenStates.Fields)
                    field.Ticked = states.States.Any(state => state.ToString() == field.Key);
                return seenStates;
            case PlantMoved moved:
                return Fill(PlantForms.Moved(context), ("place", moved.PlaceId.ToString()));
            case PlantPotted potted:
                return new EntryForm(EntryKind.Repotted, PlantForms.PotFields(say, context.Bench.Units, potted.Pot), (form, life, read) => [new Draft(new PlantPotted(life.Life.Card.Id, PlantForms.Pot(form.Text, potted.Pot.Id, read)))]);
            case PlantDetermined determined:
                return Fill(PlantForms.Determined(), ("name", determined.Name), ("evidence", determined.Evidence));
            case PlantParentage parents:
                return Fill(PlantForms.Parentage(context), ("seed", parents.SeedParent), ("pollen", parents.PollenParent));
            case WrongArrival wrong:
                return Fill(PlantForms.WrongArrival(context), ("ordered", wrong.Ordered), ("came", wrong.Came), ("agreed", wrong.Agreed));
            case VirusTested tested:
                return Fill(HealthForms.Virus(say), ("virus", tested.Virus), ("method", tested.Method.ToString()), ("result", tested.Result.ToString()), ("note", tested.Note));
            case PestChecked check:
                return Fill(HealthForms.Pest(), ("found", string.Join(", ", check.Found)), ("note", check.Note));
            case PlantLost lost:
                return Fill(PlantForms.Lost(), ("cause", lost.Cause), ("seen", lost.Seen));
            case ReadingTaken taken when taken.Of is ReadingOf.Reservoir or ReadingOf.Runoff or ReadingOf.Soak:
                return ReadingForms.OfPot(context, say, taken);
            default:
                return null;
        }
    }

    private static (Growth Growth, Leaf Leaf)? Find(EntryContext context, Guid leafId) =>
        context.Life.Growths.SelectMany(growth => growth.Leaves.Select(leaf => (Growth: growth, Leaf: leaf))).Where(pair => pair.Leaf.Id == leafId).Select(pair => ((Growth, Leaf)?)pair).FirstOrDefault();

    // What the sheet filled in by itself (the youngest growth, a usual answer) gives way to what the fact says.
    private static EntryForm Fill(EntryForm form, params (string Key, string? Value)[] values)
    {
        foreach (var (key, value) in values)
            form[key].Value = value ?? "";
        return form;
    }

    private static EntryForm Tick(EntryForm form, string key)
    {
        form[key].Ticked = true;
        return form;
    }

    private static string? Cm(double? millimetres) => millimetres is { } length ? (length / 10).ToString("0.##", CultureInfo.InvariantCulture) : null;

    private static string Number(int value) => value.ToString(CultureInfo.InvariantCulture);
}
