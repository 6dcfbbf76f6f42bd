using System.Globalization;
using System.Net;
using System.Text;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Bench.Names;
using Rootwater.Ledger.Desks;

namespace Rootwater.Ledger.Exchange.Story;

/// <summary>What of a plant's private side goes out with its story; nothing unless ticked.</summary>
public sealed record StoryOptions
{
    /// <summary>Who it came from.</summary>
    public bool Source { get; init; }
    public bool Price { get; init; }

    /// <summary>Where it stands.</summary>
    public bool Place { get; init; }

    /// <summary>Where its wild forebears grew: such places are robbed.</summary>
    public bool WildLocality { get; init; }

    /// <summary>Notes in the grower's own words, which may say anything.</summary>
    public bool Notes { get; init; }

    /// <summary>What it was given and what came of it.</summary>
    public bool Tried { get; init; }
}

/// <summary>A picture that goes into the file.</summary>
public sealed record StoryPhoto(DateOnly TakenOn, string? Caption, byte[] Jpeg);

/// <summary>A plant's story as one HTML file that loads nothing and runs nothing: for a friend, a society's meeting, whoever gets the division.</summary>
public static class PlantStoryPage
{
    private const double DrawingWidth = 900, RowHeight = 14;

    public static string Write(PlantLife plant, IReadOnlyList<StoryPhoto> photos, StoryOptions options, DateOnly today, TriedSheet? tried = null)
    {
        var page = new StringBuilder();
        page.Append("<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n")
            // Whatever a reader's own mail or chat program does with the file: nothing in it may run or call home.
            .Append("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; style-src 'unsafe-inline'\">\n")
            .Append("<meta name=\"referrer\" content=\"no-referrer\"><title>").Append(Text(plant.Card.Name)).Append("</title>\n<style>").Append(Style).Append("</style></head><body><main>\n")
            .Append("<h1>").Append(Name(plant.Card.Name)).Append("</h1>\n");
        Facts(page, plant, options);
        Leaves(page, plant, today);
        Blooms(page, plant);
        if (options.Tried && tried is not null)
        {
            TriedStory.Write(page, tried);
        }

        Pictures(page, photos);
        Names(page, plant);
        if (options.Notes && plant.Notes.Count > 0)
        {
            page.Append("<h2>Notes</h2>\n<ul>");
            foreach (var note in plant.Notes)
            {
                page.Append("<li>").Append(Span(note.When)).Append(": ").Append(Text(note.Text)).Append("</li>\n");
            }

            page.Append("</ul>\n");
        }

        return page.Append("<p class=\"soft\">Written by Rootwater on ").Append(Iso(today)).Append(".</p>\n</main></body></html>\n").ToString();
    }

    private static void Facts(StringBuilder page, PlantLife plant, StoryOptions options)
    {
        var from = plant.Provenance;
        var lines = new List<(string Head, string? Words)>
        {
            ("Here since", plant.Arrived.ToText()),
            ("Raised as", from.RaisedAs == Propagation.Unknown ? null : from.RaisedAs.ToString().ToLowerInvariant()),
            ("Parents", plant.SeedParent is null ? null : $"{plant.SeedParent} × {plant.PollenParent}"),
            ("Left the bench", plant.Card.LostOn is { } lost ? $"{Iso(lost)}{(plant.LostCause is { } cause ? $": {cause}" : "")}" : null),
            ("Grows in", plant.Card.Pot is { } pot ? pot.Medium : null),
            ("From", options.Source ? from.Source : null),
            ("Price", options.Price && from.Price is { } price ? $"{price.ToString(CultureInfo.InvariantCulture)} {from.Currency}" : null),
            ("Stands on", options.Place ? plant.Card.Place?.Name : null),
            ("Wild locality", options.WildLocality ? from.WildLocality : null),
        };
        page.Append("<dl>");
        foreach (var (head, words) in lines.Where(line => !string.IsNullOrWhiteSpace(line.Words)))
        {
            page.Append("<dt>").Append(Text(head)).Append("</dt><dd>").Append(Text(words!)).Append("</dd>\n");
        }

        page.Append("</dl>\n");
    }

    // Every leaf a bar from first seen to lost; the same in a table below for whoever cannot see it.
    private static void Leaves(StringBuilder page, PlantLife plant, DateOnly today)
    {
        var leaves = plant.Growths.SelectMany(growth => growth.Leaves.Select(leaf => (growth, leaf))).OrderBy(pair => pair.leaf.FirstSeen.Earliest).ToList();
        if (leaves.Count == 0)
        {
            return;
        }

        var (first, last) = (leaves.Min(pair => pair.leaf.FirstSeen.Earliest), plant.Card.LostOn ?? today);
        var days = Math.Max(1, last.DayNumber - first.DayNumber);
        page.Append(CultureInfo.InvariantCulture, $"<h2>Leaves</h2>\n<svg viewBox=\"0 0 {DrawingWidth} {(leaves.Count * RowHeight) + 20}\" role=\"img\" aria-label=\"Each leaf from first seen to lost\">\n");
        for (var year = first.Year + 1; year <= last.Year; year++)
        {
            var x = X(new DateOnly(year, 1, 1));
            page.Append(CultureInfo.InvariantCulture, $"<line x1=\"{x:0.#}\" x2=\"{x:0.#}\" y1=\"0\" y2=\"{leaves.Count * RowHeight}\" class=\"grid\"/><text x=\"{x + 3:0.#}\" y=\"{(leaves.Count * RowHeight) + 14}\">{year}</text>\n");
        }

        foreach (var ((_, leaf), row) in leaves.Select((pair, row) => (pair, row)))
        {
            var to = leaf.Lost?.When.Middle ?? last;
            page.Append(CultureInfo.InvariantCulture, $"<rect x=\"{X(leaf.FirstSeen.Middle):0.#}\" y=\"{(row * RowHeight) + 2}\" width=\"{Math.Max(2, X(to) - X(leaf.FirstSeen.Middle)):0.#}\" height=\"{RowHeight - 4}\" rx=\"3\" class=\"{(leaf.Lost is null ? "leaf" : "lost")}\"/>\n");
        }

        page.Append("</svg>\n<details><summary>As a table</summary><table><tr><th>leaf</th><th>first seen</th><th>lost</th></tr>\n");
        foreach (var (growth, leaf) in leaves)
        {
            page.Append(CultureInfo.InvariantCulture, $"<tr><td>{growth.Form.ToString().ToLowerInvariant()} {growth.Number}, leaf {leaf.Position}</td><td>{(leaf.ThereOnArrival ? "on arrival" : Span(leaf.FirstSeen))}</td><td>{(leaf.Lost is { } end ? $"{Span(end.When)}, {end.Cause.ToString().ToLowerInvariant()}" : "")}</td></tr>\n");
        }

        page.Append("</table></details>\n");

        double X(DateOnly day) => Math.Clamp((double)(day.DayNumber - first.DayNumber) / days, 0, 1) * DrawingWidth;
    }

    private static void Blooms(StringBuilder page, PlantLife plant)
    {
        var spikes = plant.Growths.SelectMany(growth => growth.Spikes).Where(spike => spike.FirstFlower is not null).OrderBy(spike => spike.FirstFlower!.Value.Earliest).ToList();
        if (spikes.Count == 0)
        {
            return;
        }

        page.Append("<h2>Flowers</h2>\n<table><tr><th>from</th><th>to</th><th>flowers</th><th>size</th><th>scent</th></tr>\n");
        foreach (var spike in spikes)
        {
            var size = spike.FlowerWidthMillimetres is { } width ? string.Create(CultureInfo.InvariantCulture, $"{width:0} mm{(spike.FlowerHeightMillimetres is { } height ? string.Create(CultureInfo.InvariantCulture, $" × {height:0} mm") : "")}") : "";
            page.Append(CultureInfo.InvariantCulture, $"<tr><td>{Span(spike.FirstFlower!.Value)}</td><td>{(spike.LastFlower is { } over ? Span(over) : "")}</td><td>{spike.Flowers}</td><td>{size}</td><td>{Text(spike.Scent ?? "")}</td></tr>\n");
        }

        page.Append("</table>\n");
    }

    private static void Pictures(StringBuilder page, IReadOnlyList<StoryPhoto> photos)
    {
        if (photos.Count == 0)
        {
            return;
        }

        page.Append("<h2>Photos</h2>\n<div class=\"photos\">\n");
        foreach (var photo in photos)
        {
            var words = Text(photo.Caption is { Length: > 0 } caption ? $"{Iso(photo.TakenOn)}: {caption}" : Iso(photo.TakenOn));
            page.Append("<figure><img alt=\"").Append(words).Append("\" src=\"data:image/jpeg;base64,").Append(Convert.ToBase64String(photo.Jpeg)).Append("\"><figcaption>").Append(words).Append("</figcaption></figure>\n");
        }

        page.Append("</div>\n");
    }

    private static void Names(StringBuilder page, PlantLife plant)
    {
        page.Append("<h2>Names</h2>\n<ul><li>as received: ").Append(Text(plant.Card.NameAsReceived)).Append("</li>\n");
        foreach (var name in plant.Names)
        {
            page.Append("<li>").Append(Text(name.When.ToText())).Append(": ").Append(Name(name.Name)).Append(" (").Append(Text(name.Evidence)).Append(")</li>\n");
        }

        page.Append("</ul>\n");
    }

    private static string Name(string name) => NameReader.Read(name).Name is { } read
        ? string.Concat(read.ToParts().Select(part => part.IsItalic ? $"<i>{Text(part.Text)}</i>" : Text(part.Text)))
        : Text(name);

    private static string Span(DaySpan span) => span.IsOneDay ? Iso(span.Earliest) : $"{Iso(span.Earliest)} to {Iso(span.Latest)}";

    private static string Iso(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string Text(string text) => WebUtility.HtmlEncode(text);

    private const string Style =
        "body{margin:0;background:#f6f5f0;color:#1d2823;font:16px/1.5 system-ui,sans-serif}main{max-width:60rem;margin:auto;padding:1rem}h1{font-weight:600}" +
        "dl{display:grid;grid-template-columns:max-content 1fr;gap:.2rem 1rem}dt{color:#56625b}dd{margin:0}table{border-collapse:collapse;width:100%}th,td{text-align:left;padding:.3rem;border-bottom:1px solid #d9d7cc}" +
        "svg{width:100%;height:auto}.grid{stroke:#d9d7cc}.leaf{fill:#2a6349}.lost{fill:#7d867f}text{font-size:12px;fill:#56625b}.photos{display:grid;grid-template-columns:repeat(auto-fill,minmax(16rem,1fr));gap:1rem}" +
        "figure{margin:0}img{width:100%;border-radius:8px}.soft,figcaption{color:#56625b}@media print{body{background:#fff}figure{break-inside:avoid}}";
}
