using System.Text.RegularExpressions;
using Rootwater.Growing.Bench.Names;

namespace Rootwater.Web.Components;

/// <summary>A stretch of a name in one kind of letters.</summary>
/// <param name="Text">With the space that follows it.</param>
/// <param name="Italic">Names of species and genera are; grex names, cultivars and everything a seller adds are not.</param>
public readonly record struct NamePart(string Text, bool Italic)
{
    private static readonly HashSet<string> s_upright = new(StringComparer.Ordinal) { "×", "x", "var.", "subsp.", "f.", "sp.", "hybrid", "aff.", "cf." };

    internal static bool IsItalic(string word, bool first) =>
        !s_upright.Contains(word) && (first ? word.Length > 1 && char.IsUpper(word[0]) && word.Skip(1).All(letter => char.IsLower(letter)) : word.All(letter => char.IsLower(letter) || letter == '-'));
}

/// <summary>Splits a name for showing.</summary>
public static partial class PlantNameParts
{
    public static IReadOnlyList<NamePart> Of(string name)
    {
        // Where the codes would write it just so, their parts are taken; else the seller's words stand and italics are guessed word by word.
        if (NameReader.Read(name).Name is { } read && read.ToText() == name)
        {
            return [.. read.ToParts().Select(part => new NamePart(part.Text, part.IsItalic))];
        }

        var parts = new List<NamePart>();
        var first = true;
        var quoted = false;
        foreach (Match match in Words().Matches(name))
        {
            var word = match.Value.TrimEnd();
            quoted |= word.StartsWith('\'') || word.StartsWith('\u2018');
            var italic = !quoted && NamePart.IsItalic(word, first);
            if (word.EndsWith('\'') || word.EndsWith('\u2019'))
                quoted = false;
            first = word is "×" or "x";
            if (parts.Count > 0 && parts[^1].Italic == italic)
                parts[^1] = new NamePart(parts[^1].Text + match.Value, italic);
            else
                parts.Add(new NamePart(match.Value, italic));
        }

        return parts;
    }

    [GeneratedRegex(@"\S+\s*")]
    private static partial Regex Words();
}
