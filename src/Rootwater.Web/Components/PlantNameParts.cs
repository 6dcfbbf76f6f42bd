using Rootwater.Growing.Bench.Names;

namespace Rootwater.Web.Components;

/// <summary>Splits a name for showing: genus and Latin epithets in italics, as the codes print them.</summary>
public static class PlantNameParts
{
    /// <summary>Word for word what was given: what the reader of names would write otherwise is left upright, because a page shows a seller's words unchanged.</summary>
    public static IReadOnlyList<(string Text, bool Italic)> Of(string name)
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
