using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Projections;

// Growths, leaves, spikes.
internal sealed partial class PlantStory
{
    /// <summary>The growth a fact speaks of.</summary>
    /// <exception cref="EntryException">It is not on this plant.</exception>
    public Growth GrowthOf(Guid growthId) => Growths[GrowthAt(growthId)];

    public (Growth Growth, Leaf Leaf) LeafOf(Guid leafId)
    {
        var (growth, leaf) = LeafAt(leafId);
        return (Growths[growth], Growths[growth].Leaves[leaf]);
    }

    public (Growth Growth, Spike Spike) SpikeOf(Guid spikeId)
    {
        var (growth, spike) = SpikeAt(spikeId);
        return (Growths[growth], Growths[growth].Spikes[spike]);
    }

    private void TellGrowth(FactWhen when, FactPayload payload)
    {
        var (day, span) = (when.EarliestDay, when.Span);
        switch (payload)
        {
            case GrowthSeen seen:
                Growths.Insert(Growths.FindLastIndex(growth => growth.Number <= seen.Number) + 1, new Growth
                {
                    Id = seen.GrowthId,
                    Number = seen.Number,
                    Form = seen.Form,
                    Begun = seen.ThereOnArrival ? null : span,
                    Leaves = [],
                    Spikes = [],
                });
                break;
            case GrowthEnded ended:
                ChangeGrowth(ended.GrowthId, growth => growth with { Ended = span, EndCause = ended.Cause });
                break;
            case LeafSeen seen:
                ChangeGrowth(seen.GrowthId, growth => growth with
                {
                    Leaves = With(growth.Leaves, growth.Leaves.Count(leaf => leaf.Position <= seen.Position), new Leaf
                    {
                        Id = seen.LeafId,
                        GrowthId = seen.GrowthId,
                        Position = seen.Position,
                        FirstSeen = seen.ThereOnArrival ? Arrived!.When.Span : span,
                        ThereOnArrival = seen.ThereOnArrival,
                    }),
                });
                break;
            case LeafMeasured measured:
                ChangeLeaf(measured.LeafId, leaf => leaf with
                {
                    Measures = With(leaf.Measures, leaf.Measures.Count(measure => measure.On <= day), new LeafMeasure(day, measured.LengthMillimetres, measured.WidthMillimetres)),
                });
                break;
            case LeafMarked marked:
                ChangeLeaf(marked.LeafId, leaf => leaf with
                {
                    Marks = With(leaf.Marks, leaf.Marks.Count(mark => mark.When.Earliest <= span.Earliest), new LeafMark(span, marked.Sign, marked.Part, marked.Note)),
                });
                break;
            case LeafLost lost:
                ChangeLeaf(lost.LeafId, leaf => leaf with { Lost = new LeafEnd(span, lost.Cause, lost.Note) });
                break;
            case SpikeSeen seen:
                ChangeGrowth(seen.GrowthId, growth => growth with
                {
                    Spikes = With(growth.Spikes, growth.Spikes.Count(spike => spike.FirstSeen.Earliest <= span.Earliest), new Spike
                    {
                        Id = seen.SpikeId,
                        GrowthId = seen.GrowthId,
                        FirstSeen = span,
                        Measures = seen.LengthMillimetres is null ? [] : [new SpikeMeasure(day, seen.LengthMillimetres, null)],
                    }),
                });
                break;
            case SpikeMeasured measured:
                ChangeSpike(measured.SpikeId, spike => spike with
                {
                    Measures = With(spike.Measures, spike.Measures.Count(measure => measure.On <= day), new SpikeMeasure(day, measured.LengthMillimetres, measured.Buds)),
                });
                break;
            case BloomOpened opened:
                ChangeSpike(opened.SpikeId, spike => spike with { FirstFlower = span });
                break;
            case BloomDescribed said:
                ChangeSpike(said.SpikeId, spike => spike with
                {
                    Flowers = said.Flowers ?? spike.Flowers,
                    FlowerWidthMillimetres = said.WidthMillimetres ?? spike.FlowerWidthMillimetres,
                    FlowerHeightMillimetres = said.HeightMillimetres ?? spike.FlowerHeightMillimetres,
                    Scent = said.Scent ?? spike.Scent,
                });
                break;
            case BloomOver over:
                ChangeSpike(over.SpikeId, spike => spike with { LastFlower = span });
                break;
            case SpikeEnded ended:
                ChangeSpike(ended.SpikeId, spike => spike with { Ended = span, EndCause = ended.Cause });
                break;
            default:
                throw new InvalidOperationException($"Not a plant's: {payload.GetType().Name}.");
        }
    }

    private int GrowthAt(Guid growthId)
    {
        var at = Growths.FindIndex(growth => growth.Id == growthId);
        return at >= 0 ? at : throw new EntryException("growth", growthId.ToString(), "a growth that was seen on this plant");
    }

    private (int Growth, int Leaf) LeafAt(Guid leafId) => PartAt("leaf", leafId, growth => growth.Leaves, leaf => leaf.Id);

    private (int Growth, int Spike) SpikeAt(Guid spikeId) => PartAt("spike", spikeId, growth => growth.Spikes, spike => spike.Id);

    private (int Growth, int Part) PartAt<TPart>(string name, Guid partId, Func<Growth, IReadOnlyList<TPart>> partsOf, Func<TPart, Guid> idOf)
    {
        for (var at = 0; at < Growths.Count; at++)
        {
            var parts = partsOf(Growths[at]);
            for (var i = 0; i < parts.Count; i++)
            {
                if (idOf(parts[i]) == partId)
                {
                    return (at, i);
                }
            }
        }

        throw new EntryException(name, partId.ToString(), $"a {name} that was seen on this plant");
    }

    private void ChangeGrowth(Guid growthId, Func<Growth, Growth> change)
    {
        var at = GrowthAt(growthId);
        Growths[at] = change(Growths[at]);
    }

    private void ChangeLeaf(Guid leafId, Func<Leaf, Leaf> change)
    {
        var (at, i) = LeafAt(leafId);
        Growths[at] = Growths[at] with { Leaves = Replaced(Growths[at].Leaves, i, change(Growths[at].Leaves[i])) };
    }

    private void ChangeSpike(Guid spikeId, Func<Spike, Spike> change)
    {
        var (at, i) = SpikeAt(spikeId);
        Growths[at] = Growths[at] with { Spikes = Replaced(Growths[at].Spikes, i, change(Growths[at].Spikes[i])) };
    }

    private static List<T> With<T>(IReadOnlyList<T> items, int at, T item)
    {
        var copy = new List<T>(items.Count + 1);
        copy.AddRange(items);
        copy.Insert(at, item);
        return copy;
    }

    private static List<T> Replaced<T>(IReadOnlyList<T> items, int at, T item) => new(items) { [at] = item };
}
