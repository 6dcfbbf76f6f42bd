using Rootwater.Growing.Bench.Names;

namespace Rootwater.Web.Components;

/// <summary>Splits a name for showing: genus and Latin epithets in italics, as the codes print them.</summary>
public static class PlantNameParts
{
    // A bench shows the same few names on every page; reading one by the rules of the codes takes longer than drawing it.
    private const int MostKept = 4000;
    private static readonly System.Collections.Concurrent.ConcurrentDictionary<string, IReadOnlyList<(string Text, bool Italic)>> s_kept = new();

    /// <summary>Word for word what was given: what the reader of names would write otherwise is left upright, because a page shows a seller's words unchanged.</summary>
    public static IReadOnlyList<(string Text, bool Italic)> Of(string name)
    {
        if (s_kept.TryGetValue(name, out var known))
            return known;
        if (s_kept.Count >= MostKept)
            s_kept.Clear();
        return s_kept[name] = Split(name);
    }

    private static IReadOnlyList<(string Text, bool Italic)> Split(string name)
    {
        if (NameReader.Read(name).Name is { } read)
        {
            var parts = NameWriter.ToParts(read);
            if (string.Concat(parts.Select(part => part.Text)) == name)
                return [.. parts.Select(part => (part.Text, part.IsItalic))];
        }

        return [(name, false)];
    }
}
