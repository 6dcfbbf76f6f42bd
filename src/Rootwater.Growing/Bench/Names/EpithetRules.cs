namespace Rootwater.Growing.Bench.Names;

/// <summary>The rules for grex and cultivar epithets.</summary>
/// <remarks>
/// Source: "Summary of ICNCP rules and guidelines for grex and cultivar epithets", ICNCP guidelines for orchid hybrids 2017 (after ICNCP, 9th edition 2016),
/// read as a stored excerpt; the word "variety" in the list of words not allowed fell into a gap of the excerpt and is from memory.
/// A name established before a rule stands, so what breaks one is a warning, never an error.
/// </remarks>
public static class EpithetRules
{
    public const int MostCharacters = 30;

    private static readonly string[] s_forbidden =
        ["cultivar", "form", "grex", "group", "hybrid", "maintenance", "mixture", "selection", "sport", "series", "strain", "variety", "improved", "transformed"];

    // Words of botanical Latin often met on tags; from memory. Only an epithet made of nothing else is caught.
    private static readonly HashSet<string> s_latin = new(StringComparer.OrdinalIgnoreCase)
    {
        "alba", "albus", "album", "albescens", "aurea", "aureus", "aureum", "caerulea", "coerulea", "coerulescens", "rosea", "rubra", "flava", "lutea", "nigra", "viridis", "superba",
        "splendens", "elegans", "grandiflora", "nana", "compacta", "major", "minor", "maxima", "gigantea", "gracilis", "punctata", "striata", "marginata", "variegata", "semialba",
        "concolor", "vinicolor", "flamea", "suavis", "odorata", "purpurea", "tipo", "typica",
    };

    // The guideline gives two examples that exaggerate ("Best of All", "Longest Possible"); these words do the same.
    private static readonly HashSet<string> s_boasts = new(StringComparer.OrdinalIgnoreCase) { "best", "longest", "largest", "finest", "greatest", "perfect", "unsurpassed" };

    /// <summary>What the rules say against an epithet, written without quotes.</summary>
    /// <param name="epithet">Grex or cultivar epithet.</param>
    /// <param name="genus">Not to be repeated in it; null where unknown.</param>
    public static IEnumerable<NameFinding> Check(string epithet, string? genus)
    {
        var words = epithet.Split([' ', '-', '/', '\\'], StringSplitOptions.RemoveEmptyEntries);
        if (epithet.Length > MostCharacters)
        {
            yield return Against(NameFault.EpithetTooLong, $"\"{epithet}\" has {epithet.Length} characters; an epithet has {MostCharacters} at most.");
        }

        if (epithet.Length == 0 || epithet.All(c => char.IsDigit(c) || c == ' ') || epithet.Count(char.IsLetterOrDigit) == 1)
        {
            yield return Against(NameFault.EpithetSingleLetterOrNumbers, "An epithet is more than one letter and not numbers alone (\"Super 5\" is fine).");
        }
        else if (char.IsLower(epithet.FirstOrDefault(char.IsLetter)) && !char.IsDigit(epithet[0]))
        {
            yield return Against(NameFault.EpithetNotCapital, $"\"{epithet}\" should begin with a capital letter.");
        }

        if (words.FirstOrDefault(word => s_forbidden.Contains(word, StringComparer.OrdinalIgnoreCase)) is { } forbidden)
        {
            yield return Against(NameFault.EpithetForbiddenWord, $"\"{forbidden}\" may not stand in an epithet.");
        }

        if (epithet.Where(c => !IsAllowed(c)).ToArray() is { Length: > 0 } odd)
        {
            yield return Against(NameFault.EpithetSymbol, $"\"{string.Join(" ", odd.Distinct())}\" may not stand in an epithet; letters, figures, ' , ! . - / \\ may.");
        }
        else if (epithet.Count(c => c == '!') > 2 || epithet.Contains("!!", StringComparison.Ordinal))
        {
            yield return Against(NameFault.EpithetSymbol, "An epithet has two exclamation marks at most, and not side by side.");
        }

        if (words.Length > 0 && words.All(s_latin.Contains))
        {
            yield return new NameFinding(NameFault.EpithetLatin, Severity.Warning, epithet,
                $"\"{epithet}\" is Latin alone: not for a new epithet. If a variety or form is meant, write it in lower case after var. or f.");
        }

        if (genus is not null && words.Contains(genus, StringComparer.OrdinalIgnoreCase))
        {
            yield return Against(NameFault.EpithetRepeatsGenus, $"An epithet does not repeat its genus, {genus}.");
        }

        if (words.Any(s_boasts.Contains))
        {
            yield return new NameFinding(NameFault.EpithetExaggerates, Severity.Note, epithet, $"\"{epithet}\" may be refused at registration: an epithet does not exaggerate the merits of a plant.");
        }

        NameFinding Against(NameFault fault, string message) => new(fault, Severity.Warning, epithet, message);
    }

    // No fractions (½), no signs ($): letters, decimal figures, space and the eight marks the guideline lists.
    private static bool IsAllowed(char c) => char.IsLetter(c) || char.IsDigit(c) || c is ' ' or '\'' or '’' or ',' or '!' or '.' or '-' or '/' or '\\';
}
