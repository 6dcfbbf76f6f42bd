using System.Collections.Immutable;

namespace Rootwater.Growing.Bench.Names;

/// <summary>
/// A name in its parts, by the codes of nomenclature: the ICN (Shenzhen Code 2018, with its chapter H for hybrids) for wild plants,
/// the ICNCP (9th edition 2016, with its guidelines for orchid hybrids of 2017) for cultivated ones.
/// </summary>
/// <remarks>Made by <see cref="NameReader"/>; written by <see cref="NameWriter"/>. Awards and authors are kept apart from the name proper.</remarks>
public sealed record OrchidName
{
    public NameSort Sort { get; init; }

    /// <summary>Written out, without the sign; null for an unknown plant and for a bare formula.</summary>
    public string? Genus { get; init; }
    public bool IsNothogenus { get; init; }

    /// <summary>Only of a genus that stands alone ("Agrostis L.").</summary>
    public string? GenusAuthor { get; init; }
    public NameQualifier Qualifier { get; init; }

    /// <summary>Lower case, without the sign.</summary>
    public string? Species { get; init; }
    public bool IsNothospecies { get; init; }
    public string? SpeciesAuthor { get; init; }

    /// <summary>Highest rank first.</summary>
    public ImmutableArray<InfraspecificTaxon> Below { get; init; } = [];

    /// <summary>All seedlings of one cross, and of its reciprocal.</summary>
    public string? Grex { get; init; }

    /// <summary>Without its quotation marks.</summary>
    public string? Cultivar { get; init; }

    /// <summary>"AM/AOS": not part of the name.</summary>
    public ImmutableArray<string> Awards { get; init; } = [];

    /// <summary>
    /// What it was raised from. Two parents: seed parent first, then pollen parent. More than two: only a list, for who bore the seed cannot be told.
    /// Empty where not stated.
    /// </summary>
    public ImmutableArray<OrchidName> Parents { get; init; } = [];

    /// <summary>The name alone, without award, author and parentage: what two tags must share to name the same thing. Case and sign do not matter (ICN H.3.3).</summary>
    public string Key => NameWriter.Key(this);

    /// <summary>As <see cref="Key"/> at the rank of species or grex, at which crosses are registered (ICNCP Art. 4).</summary>
    public string CrossKey => NameWriter.Key(this with { Below = [], Cultivar = null });

    /// <summary>Plain text, without italics.</summary>
    public string ToText() => NameWriter.ToText(this);

    /// <summary>The same text in parts, with what is to be set in italics.</summary>
    public IReadOnlyList<NamePart> ToParts() => NameWriter.ToParts(this);

    public bool Equals(OrchidName? other) =>
        other is not null && Sort == other.Sort && Genus == other.Genus && IsNothogenus == other.IsNothogenus && GenusAuthor == other.GenusAuthor && Qualifier == other.Qualifier
        && Species == other.Species && IsNothospecies == other.IsNothospecies && SpeciesAuthor == other.SpeciesAuthor && Grex == other.Grex && Cultivar == other.Cultivar
        && Below.SequenceEqual(other.Below) && Awards.SequenceEqual(other.Awards) && Parents.SequenceEqual(other.Parents);

    public override int GetHashCode() => HashCode.Combine(Sort, Genus, Species, Grex, Cultivar, Below.Length, Parents.Length);

    public override string ToString() => ToText();
}

/// <summary>What a name names.</summary>
public enum NameSort
{
    /// <summary>Nothing is known.</summary>
    Unknown,

    /// <summary>A genus, or one of its plants by cultivar alone.</summary>
    Genus,
    Species,

    /// <summary>"sp.": a species nobody has determined.</summary>
    UndeterminedSpecies,
    Grex,

    /// <summary>"hybrid": of unknown parentage and name.</summary>
    UndeterminedHybrid,

    /// <summary>Parents with the multiplication sign between, no name of its own.</summary>
    Formula,
}

/// <summary>How sure a species is.</summary>
public enum NameQualifier
{
    None,

    /// <summary>aff.: near it, and probably another.</summary>
    Near,

    /// <summary>cf.: probably it, to be compared.</summary>
    Compare,
}

/// <summary>A taxon below species.</summary>
/// <param name="Rank">Subspecies, variety, form …</param>
/// <param name="Epithet">Lower case.</param>
/// <param name="IsNotho">Of hybrid nature: "nothosubsp.".</param>
/// <param name="Author">As cited.</param>
public sealed record InfraspecificTaxon(InfraspecificRank Rank, string Epithet, bool IsNotho = false, string? Author = null);

/// <summary>Ranks below species, highest first (ICN Art. 4 and 24).</summary>
public enum InfraspecificRank
{
    Subspecies,
    Variety,
    Subvariety,
    Form,
    Subform,

    /// <summary>Not said, though it should be.</summary>
    Unstated,
}

/// <summary>A stretch of a written name.</summary>
/// <param name="Text">With the space before it.</param>
/// <param name="Part">What it is.</param>
public readonly record struct NamePart(string Text, NamePartSort Part)
{
    /// <summary>Genus and Latin epithets are set in italics; grex, cultivar, signs and ranks are not.</summary>
    public bool IsItalic => Part is NamePartSort.Genus or NamePartSort.Epithet;
}

/// <summary>What a stretch of a name is.</summary>
public enum NamePartSort
{
    Genus,
    Epithet,

    /// <summary>×, quotes, parentheses.</summary>
    Sign,
    Rank,
    Qualifier,
    Grex,
    Cultivar,
    Author,
    Award,

    /// <summary>"hybrid", "unknown".</summary>
    Word,
}
