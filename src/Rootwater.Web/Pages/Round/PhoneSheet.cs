using System.Buffers.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using Microsoft.AspNetCore.Components;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Desks;
using Rootwater.Web.Numbers;
using Rootwater.Web.Texts;

namespace Rootwater.Web.Pages.Round;

/// <summary>
/// What the phone keeps of the walk beside the rows it shows: ids to write facts with, and the living leaves and spikes to tap at. Enums as facts
/// name them. On a large bench leaves are most of it, so a leaf is a list [id, position, sign] with its id in base64url, and what is empty or null is left out.
/// </summary>
public static class PhoneSheet
{
    private static readonly JsonSerializerOptions s_json = new(JsonSerializerDefaults.Web) { Converters = { new JsonStringEnumConverter() }, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull };

    /// <summary>As a data block: no script runs in it, and JSON's own escapes keep it from ending early. Piece by piece: on a large bench the whole is a megabyte.</summary>
    public static IEnumerable<MarkupString> Block(RoundSheet sheet, PlantWords say, Reader reader)
    {
        var head = JsonSerializer.Serialize(new
        {
            sheet.RoundId,
            sheet.AsOf,
            sheet.Zone,
            // What a pen or a can shows is kept in µS/cm and litres; by these factors it is shown and typed.
            Units = new { Ec = reader.EcUnit, EcFactor = reader.EcFactor, EcDigits = reader.EcDigits, Litres = reader.LitresUnit, LitresFactor = reader.LitresFactor },
            Cans = sheet.Cans.Select(can => new { can.Id, can.Letter, can.Vessel, can.LitresLeft, Ec = can.EcMicrosiemensPerCm }),
            Proposals = sheet.Proposals.Select(proposal => new { proposal.PlantId, proposal.State, proposal.Begins }),
        }, s_json);
        yield return new MarkupString($"<script type=\"application/json\" id=\"sheet-data\">{head[..^1]},\"stops\":[");
        for (var i = 0; i < sheet.Stops.Count; i++)
        {
            yield return new MarkupString((i == 0 ? "" : ",") + Json(sheet.Stops[i], say));
        }

        yield return new MarkupString("]}</script>");
    }

    private static string Json(RoundStop stop, PlantWords say) => JsonSerializer.Serialize(new
    {
        stop.Plant.Id,
        stop.Plant.Number,
        stop.Plant.Name,
        PlaceId = stop.Plant.Place?.Id,
        PotId = stop.Plant.Pot?.Id,
        stop.Plant.Habit,
        States = Some(stop.Plant.States),
        Due = stop.Due ? true : (bool?)null,
        stop.What,
        stop.CanId,
        stop.CanLetter,
        stop.WaterId,
        Ml = Math.Round(stop.Millilitres),
        Done = stop.DoneFactId is { } id ? new { Id = id, What = stop.DoneWhat, Skip = stop.Skipped, Ml = Math.Round(stop.Millilitres), Letter = stop.CanLetter } : null,
        Growths = Some(stop.Growths.Select(growth => new
        {
            growth.Id,
            growth.Number,
            growth.Form,
            Words = say.Growth(growth),
            Leaves = Some(growth.Leaves.Select(leaf => leaf.Marks.Count > 0 ? new object[] { Short(leaf.Id), leaf.Position, say.Sign(leaf.Marks[^1].Sign) } : [Short(leaf.Id), leaf.Position])),
            Spikes = Some(growth.Spikes.Select(spike => new { spike.Id, Open = spike.FirstFlower is not null, Over = spike.LastFlower is not null })),
        })),
    }, s_json);

    private static IReadOnlyList<T>? Some<T>(IEnumerable<T> all) => all.ToList() is { Count: > 0 } some ? some : null;

    private static string Short(Guid id)
    {
        Span<byte> bytes = stackalloc byte[16];
        id.TryWriteBytes(bytes, bigEndian: true, out _);
        return Base64Url.EncodeToString(bytes);
    }

    /// <summary>How a state reads on a tag.</summary>
    public static string ToneOf(PlantState state) => state is PlantState.InSpike or PlantState.Flowering ? "spike" : state is PlantState.DryRest or PlantState.CoolRest ? "clay" : "root";
}
