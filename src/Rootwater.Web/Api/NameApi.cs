using Rootwater.Growing.Bench.Names;

namespace Rootwater.Web.Api;

/// <summary>Names read and written by the codes of nomenclature.</summary>
internal static class NameApi
{
    public static void MapNames(this ApiRoutes api) => api.MapGet("/names", (string text) =>
    {
        var reading = NameReader.Read(text);
        return new
        {
            Text = reading.Name?.ToText(),
            Key = reading.Name?.Key,
            Parts = reading.Name?.ToParts().Select(part => new { part.Text, Sort = part.Part, part.IsItalic }),
            Sort = reading.Name?.Sort,
            reading.Name?.Genus,
            reading.Name?.Species,
            reading.Name?.Grex,
            reading.Name?.Cultivar,
            reading.Name?.Awards,
            Parents = reading.Name?.Parents.Select(parent => parent.ToText()),
            reading.Findings,
        };
    });
}
