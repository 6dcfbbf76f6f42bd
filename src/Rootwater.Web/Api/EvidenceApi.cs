using Rootwater.Ledger;
using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Api;

/// <summary>What the records can tell of plants.</summary>
internal static class EvidenceApi
{
    public static void MapEvidence(this ApiRoutes api)
    {
        api.MapGet("/evidence/lives", (int? plant, string? kind, Guid? place, string? words, DateOnly? since, string? of, IEvidenceDesk desk, CancellationToken cancel) =>
            desk.LivesAsync(new EvidenceQuestion(Group(plant, kind, place, words), since, Named<LivesOf>("of", of)), cancel));
        api.MapGet("/evidence/rates", (int? plant, string? kind, Guid? place, string? words, DateOnly? since, IEvidenceDesk desk, CancellationToken cancel) =>
            desk.RatesAsync(new EvidenceQuestion(Group(plant, kind, place, words), since), cancel));
        api.MapGet("/evidence/drivers", (int? plant, string? kind, Guid? place, string? words, IEvidenceDesk desk, CancellationToken cancel) =>
            desk.DriversAsync(new EvidenceQuestion(Group(plant, kind, place, words)), cancel));
        api.MapGet("/evidence/growth", (int? plant, string? kind, Guid? place, string? words, IEvidenceDesk desk, CancellationToken cancel) =>
            desk.GrowthAsync(new EvidenceQuestion(Group(plant, kind, place, words)), cancel));
        api.MapGet("/evidence/sisters", (int? plant, string? kind, Guid? place, string? words, DateOnly? since, IEvidenceDesk desk, CancellationToken cancel) =>
            desk.SistersAsync(new EvidenceQuestion(Group(plant, kind, place, words), since), cancel));
        api.MapGet("/evidence/series", (int? plant, string? kind, Guid? place, string? words, DateOnly? since, string? of, DateOnly[]? backOn, IEvidenceDesk desk, CancellationToken cancel) =>
            desk.SeriesAsync(new SeriesQuestion(Group(plant, kind, place, words), Named<SeriesOf>("of", of), since, backOn), cancel));
        api.MapGet("/evidence/changes", (int? plant, string? kind, Guid? place, string? words, IEvidenceDesk desk, CancellationToken cancel) =>
            desk.FeedChangesAsync(Group(plant, kind, place, words), cancel));
        api.MapGet("/evidence/kinds", (DateOnly since, IEvidenceDesk desk, CancellationToken cancel) => desk.KindsAsync(since, cancel));
        api.MapGet("/evidence/next-leaf/{number:int}", (int number, IEvidenceDesk desk, CancellationToken cancel) => desk.NextLeafAsync(number, cancel));
    }

    private static PlantGroup Group(int? plant, string? kind, Guid? place, string? words) => new() { Number = plant, Kind = kind, PlaceId = place, Words = words };

    internal static TEnum Named<TEnum>(string field, string? name) where TEnum : struct, Enum => name is null ? default
        : Enum.TryParse<TEnum>(name, ignoreCase: true, out var value) && Enum.IsDefined(value) ? value
        : throw new EntryException(field, name, string.Join(", ", Enum.GetNames<TEnum>().Select(System.Text.Json.JsonNamingPolicy.CamelCase.ConvertName)));
}
