using System.Globalization;
using System.Text;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.Localization;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Desks;
using Rootwater.Web.Components;
using Rootwater.Web.Numbers;
using Rootwater.Web.Texts;

namespace Rootwater.Web.Pages.Bench;

/// <summary>
/// Plants on the bench as cards: the number first, then what it is, what it does, what it needs. Written straight into text, not as components: a large bench has
/// hundreds of them.
/// </summary>
public sealed class BenchCards(PlantWords say, Reader reader, Counted counted, IStringLocalizer<BenchText> words)
{
    /// <summary>A card.</summary>
    public MarkupString Of(PlantCard plant)
    {
        var html = new StringBuilder();
        html.Append("<a class=\"sheet plant-card").Append(plant.LostOn is null ? "" : " gone").Append(CultureInfo.InvariantCulture, $"\" href=\"/plants/{plant.Number}\"><span class=\"no\">{plant.Number}</span><span class=\"what\"><b>")
            .Name(plant.Name).Append("</b><span class=\"soft\">").Append(Markup.Encode($"{plant.Place?.Name ?? words["NoPlace"]} · {plant.Kind}")).Append("</span><span class=\"pills\">");
        foreach (var state in plant.States)
        {
            html.Pill(PlantWords.Tone(state), null, say.State(state) + (state is PlantState.InSpike && plant.SpikeMillimetres is { } length ? words["SpikeLong", Show.Centimetres(length)] : ""));
        }

        if (plant.LostOn is { } gone)
        {
            html.Pill("clay", null, words["LostOn", Show.ShortDay(gone)]);
        }

        if (plant.Quarantine is { Ended: null })
        {
            html.Pill("clay", "▲", words["Apart"]);
        }

        if (plant.Trouble.Count > 0)
        {
            html.Pill("clay", "▲", reader.Words(plant.Trouble[0]) + (plant.Trouble.Count > 1 ? words["AndMore", plant.Trouble.Count - 1] : ""));
        }

        if (plant.DaysOverdue is { } over)
        {
            html.Pill("water", null, over == 0 ? words["DueToday"] : words["DueSince", counted.Days(over)]);
        }

        html.Append("</span></span>");
        if (plant.PhotoId is { } photo)
        {
            html.Append(CultureInfo.InvariantCulture, $"<img class=\"face\" src=\"/api/photos/{photo}/thumbnail\" alt=\"\" width=\"64\" height=\"64\" loading=\"lazy\" />");
        }
        else
        {
            html.Append("<span class=\"face\" aria-hidden=\"true\"><span>").Append(Markup.Encode(words["Leaves", plant.LivingLeaves])).Append("</span></span>");
        }

        return new MarkupString(html.Append("</a>").ToString());
    }
}
