using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Projections;

/// <summary>The rows that follow from a plant's story.</summary>
internal static class PlantRows
{
    public static void Fill(PlantRow row, PlantStory story)
    {
        var arrived = story.Arrived!;
        (row.Number, row.NameAsReceived, row.Kind, row.Habit) = (arrived.Number, arrived.NameAsReceived, arrived.Kind, arrived.Habit);
        (row.ArrivedOn, row.ArrivedPrecision) = (arrived.When.EarliestDay, arrived.When.Precision);
        (row.RaisedAs, row.ParentPlantId) = (arrived.Provenance?.RaisedAs ?? Propagation.Unknown, arrived.Provenance?.ParentPlantId);
        var name = story.Names.LastOrDefault();
        (row.DeterminedName, row.DeterminedOn, row.DeterminedEvidence) = (name?.Name, name?.When.EarliestDay, name?.Evidence);
        row.States = story.States.LastOrDefault()?.States ?? [];
        row.WantId = story.Wants.LastOrDefault()?.WantId;
        row.PlaceId = story.Moves.LastOrDefault()?.PlaceId;
        (row.LostOn, row.LostCause) = (story.Lost?.When.EarliestDay, story.Lost?.Cause);
        row.LivingLeaves = Living(story).Count();
        row.SpikeMillimetres = story.Growths.Where(growth => growth.Ended is null).SelectMany(growth => growth.Spikes).Where(spike => spike.Ended is null)
            .Select(spike => spike.Measures.LastOrDefault(measure => measure.LengthMillimetres is not null)?.LengthMillimetres).Max();
        row.LeafTrouble = LeafTrouble(story);
        row.Quarantine = story.Quarantines.LastOrDefault();
        row.VirusTests = [.. story.VirusTests];
        (row.LastFedOn, row.LastGivenOn, row.PhotoId) = (story.LastFedOn, story.LastGivenOn, story.PhotoId);
    }

    /// <summary>A pot told of twice in a row is the same pot with other habits: filled when it was first told of.</summary>
    public static void Fill(PotRow row, PlantStory story)
    {
        var last = story.Pots.FindLastIndex(told => told.Pot.Id == row.Id);
        var pot = story.Pots[last].Pot;
        (row.Culture, row.Medium, row.MediumLitres, row.ReservoirLitres) = (pot.Culture, pot.Medium, pot.MediumLitres, pot.ReservoirLitres);
        (row.FeedMillilitres, row.FeedEveryDays) = (pot.FeedMillilitres, pot.FeedEveryDays);
        row.FilledOn = story.Pots.Find(told => told.Pot.Id == row.Id)!.When.EarliestDay;
        row.LeftOn = last + 1 < story.Pots.Count ? story.Pots[last + 1].When.EarliestDay : null;
        (row.LastFedOn, row.LastGivenOn) = story.Drinks.GetValueOrDefault(pot.Id);
    }

    public static string Words(PlantStory story) => string.Join('\n', new[]
    {
        story.Arrived!.NameAsReceived, story.Arrived.Kind, story.Arrived.Provenance?.WildLocality, story.Wrong?.Ordered, story.Wrong?.Came,
        story.Parentage?.SeedParent, story.Parentage?.PollenParent, story.Lost?.Cause, story.Lost?.Seen,
    }.Concat(story.Names.Select(name => name.Name)).Concat(story.Notes.Select(note => note.Text)).Where(words => !string.IsNullOrEmpty(words))).ToLowerInvariant();

    public static string NameOf(Growth growth) => growth.Form switch
    {
        GrowthForm.Stem => "the stem",
        GrowthForm.Bulb => FormattableString.Invariant($"bulb {growth.Number}"),
        GrowthForm.Cane => FormattableString.Invariant($"cane {growth.Number}"),
        GrowthForm.Fan => FormattableString.Invariant($"fan {growth.Number}"),
        _ => FormattableString.Invariant($"growth {growth.Number}"),
    };

    public static string NameOf(Growth growth, Leaf leaf) =>
        growth.Form == GrowthForm.Stem ? FormattableString.Invariant($"leaf {leaf.Position}") : FormattableString.Invariant($"leaf {leaf.Position} of {NameOf(growth)}");

    private static IEnumerable<(Growth Growth, Leaf Leaf)> Living(PlantStory story) =>
        from growth in story.Growths
        where growth.Ended is null
        from leaf in growth.Leaves
        where leaf.Lost is null
        select (growth, leaf);

    // A deciduous cane that yellows in its season is in no trouble.
    private static List<string> LeafTrouble(PlantStory story)
    {
        var kind = Kinds.Find(story.Arrived!.Kind);
        var newest = story.Growths.Where(growth => growth.Ended is null).Select(growth => growth.Number).DefaultIfEmpty().Max();
        return
        [
            .. Living(story).Select(pair => (pair.Growth, pair.Leaf, Marks: pair.Leaf.Marks.Where(mark => !LeafCounts.IsShedding(kind, mark, pair.Growth.Number < newest)).ToList()))
                .Where(leaf => leaf.Marks.Count > 0)
                .OrderBy(leaf => leaf.Marks.Min(mark => Pressing(mark.Sign)))
                .ThenByDescending(leaf => leaf.Marks[^1].When.Latest)
                .Select(leaf => $"{NameOf(leaf.Growth, leaf.Leaf)}: {string.Join(", ", leaf.Marks.Select(mark => FactWords.Of(mark.Sign)).Distinct())}"),
        ];
    }

    // What spreads before what is lasting, what is lasting before what only looks bad. Common practice, no source.
    private static int Pressing(LeafSign sign) => sign switch
    {
        LeafSign.WaterSoaked => 0,
        LeafSign.Spots or LeafSign.Sticky or LeafSign.Streaks => 1,
        LeafSign.Limp or LeafSign.Bitten => 2,
        LeafSign.Torn => 4,
        _ => 3,
    };
}
