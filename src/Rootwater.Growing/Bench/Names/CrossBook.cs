namespace Rootwater.Growing.Bench.Names;

/// <summary>A cross: what its seedlings are called, and whose they are. The reciprocal cross has the same name.</summary>
public sealed record Cross(string Name, string SeedParent, string PollenParent);

/// <summary>A plant, grex or species in a tree of parents.</summary>
public sealed record Ancestor
{
    /// <summary>As written by the codes, or "unknown".</summary>
    public required string Name { get; init; }

    /// <summary>Of the plant at the root, expected: half for each step back. 0 to 1.</summary>
    public required double Share { get; init; }
    public required AncestorEnd End { get; init; }

    /// <summary>Null at the end of a branch.</summary>
    public Ancestor? SeedParent { get; init; }
    public Ancestor? PollenParent { get; init; }
}

/// <summary>Why a branch ends.</summary>
public enum AncestorEnd
{
    /// <summary>It goes on to two parents.</summary>
    HasParents,

    /// <summary>A species, or a name of which no cross is known here.</summary>
    Founder,
    Unknown,

    /// <summary>The name stands among its own descendants: one of the crosses is wrong. Counted as unknown.</summary>
    Cycle,

    /// <summary>Further back than is followed. Counted as unknown.</summary>
    TooDeep,
}

/// <summary>Who a plant descends from.</summary>
/// <param name="Root">The plant itself, share 1.</param>
/// <param name="Founders">Ends of all branches, equal names put together, largest share first, unknown last. The shares sum to 1.</param>
/// <param name="CycleAt">Names found among their own descendants.</param>
public sealed record Ancestry(Ancestor Root, IReadOnlyList<(string Name, double Share)> Founders, IReadOnlyList<string> CycleAt)
{
    public const string Unknown = "unknown";
}

/// <summary>Follows names back through crosses. Expected shares: each parent gives half of its own, chance in every meiosis not counted.</summary>
public sealed class CrossBook
{
    /// <summary>Grexes are followed this many generations back; what lies further back is a 65,000th of the plant, and the tree doubles at every step.</summary>
    public const int MostGenerations = 16;

    private readonly Dictionary<string, (OrchidName Seed, OrchidName Pollen)> _parents = [];
    private readonly Dictionary<(string, string), string> _grexes = [];

    /// <remarks>Of two crosses under one name the first counts, unless it is the same cross the other way round.</remarks>
    public CrossBook(IEnumerable<Cross> crosses)
    {
        foreach (var cross in crosses)
        {
            var (name, seed, pollen) = (NameReader.ReadOrUnknown(cross.Name), NameReader.ReadOrUnknown(cross.SeedParent), NameReader.ReadOrUnknown(cross.PollenParent));
            if (name.Sort != NameSort.Unknown)
            {
                _parents.TryAdd(name.CrossKey, (seed, pollen));
                _grexes.TryAdd(Pair(seed, pollen), name.ToText());
            }
        }
    }

    /// <summary>The name of a cross, whichever bore the seed; a species crossed with itself stays that species. Null where none is known.</summary>
    public string? GrexOf(string seedParent, string pollenParent)
    {
        var (seed, pollen) = (NameReader.ReadOrUnknown(seedParent), NameReader.ReadOrUnknown(pollenParent));
        if (seed.Sort == NameSort.Species && seed.CrossKey == pollen.CrossKey)
        {
            return (seed with { Below = [], Cultivar = null, Awards = [] }).ToText();
        }

        return _grexes.GetValueOrDefault(Pair(seed, pollen));
    }

    /// <summary>The tree behind a name.</summary>
    /// <param name="name">The plant's name; parents written with it count before the book.</param>
    public Ancestry Of(string name) => Finish(Follow(NameReader.ReadOrUnknown(name), 1, [], 0));

    /// <summary>The tree behind a plant whose parents are known.</summary>
    public Ancestry Of(string name, string seedParent, string pollenParent)
    {
        var child = NameReader.ReadOrUnknown(name);
        return Finish(Follow(child with { Parents = [NameReader.ReadOrUnknown(seedParent), NameReader.ReadOrUnknown(pollenParent)] }, 1, [], 0));
    }

    private Ancestor Follow(OrchidName name, double share, HashSet<string> below, int generation)
    {
        var text = (name with { Parents = name.Sort == NameSort.Formula ? name.Parents : [], Awards = [] }).ToText();
        var key = name.CrossKey;
        if (name.Sort is NameSort.Unknown or NameSort.UndeterminedHybrid && name.Parents.Length == 0)
        {
            return End(AncestorEnd.Unknown);
        }

        var parents = name.Parents.Length == 2 ? (Seed: name.Parents[0], Pollen: name.Parents[1]) : _parents.TryGetValue(key, out var known) ? known : default;
        if (parents.Seed is null)
        {
            return End(name.Parents.Length > 2 ? AncestorEnd.Unknown : AncestorEnd.Founder);
        }

        // A species raised from its own kind is no hybrid: nothing to follow.
        if (name.Sort == NameSort.Species && parents.Seed.CrossKey == key && parents.Pollen.CrossKey == key)
        {
            return End(AncestorEnd.Founder);
        }

        if (below.Contains(key))
        {
            return End(AncestorEnd.Cycle);
        }

        if (generation == MostGenerations)
        {
            return End(AncestorEnd.TooDeep);
        }

        below.Add(key);
        var node = new Ancestor
        {
            Name = text,
            Share = share,
            End = AncestorEnd.HasParents,
            SeedParent = Follow(parents.Seed, share / 2, below, generation + 1),
            PollenParent = Follow(parents.Pollen, share / 2, below, generation + 1),
        };
        below.Remove(key);
        return node;

        Ancestor End(AncestorEnd end) => new() { Name = end == AncestorEnd.Unknown ? Ancestry.Unknown : text, Share = share, End = end };
    }

    private static Ancestry Finish(Ancestor root)
    {
        var shares = new Dictionary<string, double>(StringComparer.OrdinalIgnoreCase);
        var cycles = new SortedSet<string>(StringComparer.Ordinal);
        Walk(root);
        return new Ancestry(
            root,
            [.. shares.Select(pair => (pair.Key, pair.Value)).OrderBy(pair => pair.Key == Ancestry.Unknown).ThenByDescending(pair => pair.Value).ThenBy(pair => pair.Key, StringComparer.Ordinal)],
            [.. cycles]);

        void Walk(Ancestor at)
        {
            if (at.End == AncestorEnd.HasParents)
            {
                Walk(at.SeedParent!);
                Walk(at.PollenParent!);
                return;
            }

            if (at.End == AncestorEnd.Cycle)
            {
                cycles.Add(at.Name);
            }

            // Founders are told apart at the rank of species or grex.
            var name = at.End == AncestorEnd.Founder ? FounderName(at.Name) : Ancestry.Unknown;
            shares[name] = shares.GetValueOrDefault(name) + at.Share;
        }
    }

    private static string FounderName(string name) => NameReader.Read(name).Name is { } read ? (read with { Below = [], Cultivar = null, SpeciesAuthor = null }).ToText() : name;

    private static (string, string) Pair(OrchidName a, OrchidName b) =>
        string.CompareOrdinal(a.CrossKey, b.CrossKey) <= 0 ? (a.CrossKey, b.CrossKey) : (b.CrossKey, a.CrossKey);
}
