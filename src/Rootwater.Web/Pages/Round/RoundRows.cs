using System.Globalization;
using System.Text;
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
    /// <summary>A row.</summary>
    /// <param name="stop">The stop.</param>
    /// <param name="arm">The plant's arm in a trial that runs.</param>
    public MarkupString Of(RoundStop stop, PlantArm? arm)
    {
        var html = new StringBuilder();
        var plant = stop.Plant;
        var letter = stop.What == Pouring.Feed ? stop.CanLetter ?? "?" : "W";
        html.Append("<li class=\"stop").Append(stop.DoneFactId is null ? "" : " done").Append(CultureInfo.InvariantCulture, $"\" id=\"stop-{plant.Number}\" data-plant=\"{plant.Id}\">")
            .Append(CultureInfo.InvariantCulture, $"<button class=\"pick\" type=\"button\"><span class=\"no\">{plant.Number}</span><span class=\"what\"><b>")
            .Name(plant.Name).Append("</b><span class=\"pills\">");
        foreach (var state in plant.States)
        {
            html.Pill(PhoneSheet.ToneOf(state), null, say.State(state));
        }

        if (stop.Sign is { } sign)
        {
            html.Pill("water", "●", reader.Words(sign));
        }

        if (arm is not null)
        {
            html.Pill("spike", "◆", words["TrialArm", arm.Arm, arm.Gets]);
        }

        foreach (var trouble in plant.Trouble.Take(2))
        {
            html.Pill("clay", "▲", reader.Words(trouble));
        }

        html.Append("</span><span class=\"soft give\" data-give>").Append(Markup.Encode(Gives(stop)))
            .Append("</span></span><span class=\"letter\" aria-hidden=\"true\" title=\"").Append(Markup.Encode(stop.What == Pouring.Feed ? words["CanLetter", letter] : words["WaterLetter"])).Append("\">").Append(Markup.Encode(letter))
            .Append("</span></button><p class=\"why\">").Append(Markup.Encode(reader.Words(stop.QuarantineWords is { } apart ? $"{stop.Why} {apart}" : stop.Why))).Append("</p><span class=\"after\" data-after></span></li>");
        return new MarkupString(html.ToString());
    }

    private string Gives(RoundStop stop) => stop switch
    {
        { Due: false } => stop.Plant.Place?.Name ?? "",
        { What: Pouring.Feed, CanLetter: { } letter } => words["GivesCan", Show.Amount(stop.Millilitres), letter],
        { What: Pouring.Feed } => words["GivesFeed", Show.Amount(stop.Millilitres)],
        { What: Pouring.Leach } => words["GivesLeach", Show.Amount(stop.Millilitres)],
        _ => words["GivesWater", Show.Amount(stop.Millilitres)],
    };
}
