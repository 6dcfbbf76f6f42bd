using System.Text.Json;
using System.Text.Json.Serialization;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Desks;
using Rootwater.Web.Texts;

namespace Rootwater.Web.Pages.Round;

/// <summary>What the phone keeps of the walk beside the rows it shows: ids to write facts with, and the living leaves and spikes to tap at. Enums as facts name them.</summary>
public static class PhoneSheet
{
    private static readonly JsonSerializerOptions s_json = new(JsonSerializerDefaults.Web) { Converters = { new JsonStringEnumConverter() } };

    public static string Json(RoundSheet sheet, PlantWords say) => JsonSerializer.Serialize(new
    {
        sheet.RoundId,
        sheet.AsOf,
        sheet.Zone,
        Cans = sheet.Cans.Select(can => new { can.Id, can.Letter, can.Vessel, can.LitresLeft, Ec = can.EcMicrosiemensPerCm }),
        Stops = sheet.Stops.Select(stop => new
        {
            stop.Plant.Id,
            stop.Plant.Number,
            stop.Plant.Name,
            PlaceId = stop.Plant.Place?.Id,
            PotId = stop.Plant.Pot?.Id,
            stop.Plant.Habit,
            stop.Plant.States,
            stop.Due,
            stop.What,
            stop.CanId,
            stop.CanLetter,
            stop.WaterId,
            Ml = Math.Round(stop.Millilitres),
            Done = stop.DoneFactId is { } id ? new { Id = id, What = stop.DoneWhat, Skip = stop.Skipped, Ml = Math.Round(stop.Millilitres), Letter = stop.CanLetter } : null,
            Growths = stop.Growths.Select(growth => new
            {
                growth.Id,
                growth.Number,
                growth.Form,
                Words = say.Growth(growth),
                Leaves = growth.Leaves.Select(leaf => new { leaf.Id, leaf.Position, Sign = leaf.Marks.Count > 0 ? say.Sign(leaf.Marks[^1].Sign) : null }),
                Spikes = growth.Spikes.Select(spike => new { spike.Id, Open = spike.FirstFlower is not null, Over = spike.LastFlower is not null }),
            }),
        }),
        Proposals = sheet.Proposals.Select(proposal => new { proposal.PlantId, proposal.State, proposal.Begins }),
    }, s_json);

    /// <summary>How a state reads on a tag.</summary>
    public static string ToneOf(PlantState state) => state is PlantState.InSpike or PlantState.Flowering ? "spike" : state is PlantState.DryRest or PlantState.CoolRest ? "clay" : "root";
}
