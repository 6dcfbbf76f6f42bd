namespace Rootwater.Growing.Bench.Names;

/// <summary>Writes a name as the codes want it: the sign without a space before a nothogenus or hybrid epithet (ICN H.3), with spaces in a formula (H.2), cultivars in single quotes.</summary>
public static class NameWriter
{
    public const string Times = "×";

    public static string ToText(OrchidName name) => string.Concat(ToParts(name).Select(part => part.Text));

    public static IReadOnlyList<NamePart> ToParts(OrchidName name)
    {
        var parts = new List<NamePart>();
        Write(parts, name);
        return parts;
    }

    /// <summary>"subsp.", "var." …; empty where not stated.</summary>
    public static string RankTerm(InfraspecificRank rank, bool notho) => (notho ? "notho" : "") + rank switch
    {
        InfraspecificRank.Subspecies => "subsp.",
        InfraspecificRank.Variety => "var.",
        InfraspecificRank.Subvariety => "subvar.",
        InfraspecificRank.Form => "f.",
        InfraspecificRank.Subform => "subf.",
        _ => "",
    };

    internal static string Key(OrchidName name)
    {
        if (name.Sort == NameSort.Formula)
        {
            return string.Join(" × ", name.Parents.Select(parent => parent.CrossKey));
        }

        var bare = name with
        {
            IsNothogenus = false,
            GenusAuthor = null,
            IsNothospecies = false,
            SpeciesAuthor = null,
            Below = [.. name.Below.Select(taxon => taxon with { IsNotho = false, Author = null })],
            Awards = [],
            Parents = [],
        };
        return ToText(bare).ToLowerInvariant();
    }

    private static void Write(List<NamePart> parts, OrchidName name)
    {
        if (name.Sort == NameSort.Formula)
        {
            // A clone of the cross stands outside its parentheses, or it would be one of the pollen parent.
            var ofCross = name.Cultivar is not null || name.Awards.Length > 0;
            InParentheses(parts, ofCross, () => WriteFormula(parts, name.Parents));
            WriteClone(parts, name);
            return;
        }

        var start = parts.Count;
        if (name.Genus is { } genus)
        {
            if (name.IsNothogenus)
            {
                Add(Times, NamePartSort.Sign, space: false);
            }

            Add(genus, NamePartSort.Genus, space: false);
        }

        Author(name.GenusAuthor);
        switch (name.Sort)
        {
            case NameSort.Unknown:
                Add("unknown", NamePartSort.Word);
                break;
            case NameSort.UndeterminedSpecies:
                Add("sp.", NamePartSort.Rank);
                break;
            case NameSort.UndeterminedHybrid:
                Add("hybrid", NamePartSort.Word);
                break;
            case NameSort.Grex:
                Add(name.Grex!, NamePartSort.Grex);
                if (name.Grex!.EndsWith('.') && !name.Grex.Contains(' ', StringComparison.Ordinal))
                {
                    Add("gx", NamePartSort.Rank); // or it would read as the author of the genus
                }

                break;
            case NameSort.Species:
                if (name.Qualifier != NameQualifier.None)
                {
                    Add(name.Qualifier == NameQualifier.Near ? "aff." : "cf.", NamePartSort.Qualifier);
                }

                if (name.IsNothospecies)
                {
                    Add(Times, NamePartSort.Sign);
                }

                Add(name.Species!, NamePartSort.Epithet, space: !name.IsNothospecies);
                Author(name.SpeciesAuthor);
                foreach (var taxon in name.Below)
                {
                    if (RankTerm(taxon.Rank, taxon.IsNotho) is { Length: > 0 } term)
                    {
                        Add(term, NamePartSort.Rank);
                    }

                    Add(taxon.Epithet, NamePartSort.Epithet);
                    Author(taxon.Author);
                }

                break;
        }

        WriteClone(parts, name);
        if (name.Parents.Length > 0)
        {
            parts.Add(new NamePart(" ", NamePartSort.Sign));
            InParentheses(parts, true, () => WriteFormula(parts, name.Parents));
        }

        void Author(string? author)
        {
            if (author is not null)
            {
                Add(author, NamePartSort.Author);
            }
        }

        void Add(string text, NamePartSort sort, bool space = true) => parts.Add(new NamePart(space && parts.Count > start ? " " + text : text, sort));
    }

    private static void WriteClone(List<NamePart> parts, OrchidName name)
    {
        if (name.Cultivar is { } cultivar)
        {
            parts.Add(new NamePart($" '{cultivar}'", NamePartSort.Cultivar));
        }

        foreach (var award in name.Awards)
        {
            parts.Add(new NamePart(" " + award, NamePartSort.Award));
        }
    }

    private static void WriteFormula(List<NamePart> parts, IReadOnlyList<OrchidName> parents)
    {
        for (var i = 0; i < parents.Count; i++)
        {
            if (i > 0)
            {
                parts.Add(new NamePart($" {Times} ", NamePartSort.Sign));
            }

            // A parent that is itself only a formula keeps its parentheses, or the order of crosses is lost.
            var parent = parents[i];
            InParentheses(parts, parent is { Sort: NameSort.Formula, Cultivar: null, Awards.Length: 0 }, () => Write(parts, parent));
        }
    }

    private static void InParentheses(List<NamePart> parts, bool wanted, Action write)
    {
        if (wanted)
        {
            parts.Add(new NamePart("(", NamePartSort.Sign));
        }

        write();
        if (wanted)
        {
            parts.Add(new NamePart(")", NamePartSort.Sign));
        }
    }
}
