using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Unicode;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.Localization;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Web.Components;
using Rootwater.Web.Numbers;
using Rootwater.Web.Texts;

namespace Rootwater.Web.Pages.Round;

/// <summary>
/// The stops of the walk as rows: the number first, what it gets last; tapped, a row is the one the buttons at the thumb speak of. Written straight into text,
/// not as components: a large bench has hundreds of rows, all drawn anew after every tick.
/// </summary>
public sealed class RoundRows(PlantWords say, Reader reader, IStringLocalizer<RoundText> words)
{
    private static readonly HtmlEncoder s_encoder = HtmlEncoder.Create(UnicodeRanges.All);

    /// <summary>The rows of a list, in its order.</summary>
    /// <param name="stops">The stops.</param>
    /// <param name="arms">Arms in trials that run, by plant.</param>
    public MarkupString Of(IEnumerable<RoundStop> stops, IReadOnlyDictionary<Guid, PlantArm> arms)
    {
        var html = new StringBuilder();
        foreach (var stop in stops)
        {
            Row(html, stop, arms.GetValueOrDefault(stop.Plant.Id));
        }

        return new MarkupString(html.ToString());
    }

    private void Row(StringBuilder html, RoundStop stop, PlantArm? arm)
    {
        var plant = stop.Plant;
        var letter = stop.What == Pouring.Feed ? stop.CanLetter ?? "?" : "W";
        html.Append("<li class=\"stop").Append(stop.DoneFactId is null ? "" : " done").Append(CultureInfo.InvariantCulture, $"\" id=\"stop-{plant.Number}\" data-plant=\"{plant.Id}\">")
            .Append(CultureInfo.InvariantCulture, $"<button class=\"pick\" type=\"button\"><span class=\"no\">{plant.Number}</span><span class=\"what\"><b>");
        foreach (var (text, italic) in PlantNameParts.Of(plant.Name))
        {
            html.Append(italic ? "<i>" : "").Append(Encode(text)).Append(italic ? "</i>" : "");
        }

        html.Append("</b><span class=\"pills\">");
        foreach (var state in plant.States)
        {
            Pill(html, PhoneSheet.ToneOf(state), null, say.State(state));
        }

        if (stop.Sign is { } sign)
        {
            Pill(html, "water", "●", reader.Words(sign));
        }

        if (arm is not null)
        {
            Pill(html, "spike", "◆", words["TrialArm", arm.Arm, arm.Gets]);
        }

        foreach (var trouble in plant.Trouble.Take(2))
        {
            Pill(html, "clay", "▲", reader.Words(trouble));
        }

        html.Append("</span><span class=\"soft give\" data-give>").Append(Encode(Gives(stop)))
            .Append("</span></span><span class=\"letter\" aria-hidden=\"true\" title=\"").Append(Encode(stop.What == Pouring.Feed ? words["CanLetter", letter] : words["WaterLetter"])).Append("\">").Append(Encode(letter))
            .Append("</span></button><p class=\"why\">").Append(Encode(reader.Words(stop.QuarantineWords is { } apart ? $"{stop.Why} {apart}" : stop.Why))).Append("</p><span class=\"after\" data-after></span></li>");
    }

    // As TagPill draws it.
    private static void Pill(StringBuilder html, string tone, string? sign, string text) =>
        html.Append("<span class=\"tag ").Append(tone).Append("\">").Append(sign is null ? "" : $"<span aria-hidden=\"true\">{sign}</span> ").Append(Encode(text)).Append("</span>");

    private string Gives(RoundStop stop) => stop switch
    {
        { Due: false } => stop.Plant.Place?.Name ?? "",
        { What: Pouring.Feed, CanLetter: { } letter } => words["GivesCan", Show.Amount(stop.Millilitres), letter],
        { What: Pouring.Feed } => words["GivesFeed", Show.Amount(stop.Millilitres)],
        { What: Pouring.Leach } => words["GivesLeach", Show.Amount(stop.Millilitres)],
        _ => words["GivesWater", Show.Amount(stop.Millilitres)],
    };

    private static string Encode(string text) => s_encoder.Encode(text);
}
