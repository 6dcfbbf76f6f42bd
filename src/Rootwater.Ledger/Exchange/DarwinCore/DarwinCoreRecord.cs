using System.Globalization;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Bench.Names;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Exchange.DarwinCore;

/// <summary>
/// Plants and their blooms as records of living specimens in Simple Darwin Core (TDWG, https://dwc.tdwg.org/simple/; terms at https://dwc.tdwg.org/terms/).
/// A plant is one record from its arrival on; every spike that flowered is one more of the same organism, with the span of its flowers.
/// </summary>
internal static class DarwinCoreRecord
{
    /// <summary>The columns; every name is a term of the standard, and none says who sold a plant, for how much, or where it stands.</summary>
    public static readonly IReadOnlyList<string> Terms =
    [
        "occurrenceID", "basisOfRecord", "occurrenceStatus", "organismID", "catalogNumber", "individualCount", "eventDate", "scientificName", "genus", "specificEpithet",
        "infraspecificEpithet", "cultivarEpithet", "taxonRank", "nomenclaturalCode", "identificationQualifier", "dateIdentified", "identificationRemarks", "previousIdentifications",
        "kingdom", "family", "lifeStage", "reproductiveCondition", "vitality", "causeOfDeath", "disposition", "degreeOfEstablishment", "associatedOrganisms", "occurrenceRemarks",
    ];

    public static IEnumerable<IReadOnlyDictionary<string, string>> Of(PlantLife plant)
    {
        var shared = Shared(plant);
        var lost = plant.Card.LostOn;
        yield return new Dictionary<string, string>(shared)
        {
            ["occurrenceID"] = Urn(plant.Card.Id),
            ["eventDate"] = Span(Days(plant.Arrived), lost),
            ["lifeStage"] = lost is null && plant.Card.States.Contains(PlantState.Seedling) ? "seedling" : "",
            ["reproductiveCondition"] = lost is null && plant.Card.States.Contains(PlantState.Flowering) ? "flowering" : "",
            // https://dwc.tdwg.org/list/#dwc_vitality
            ["vitality"] = lost is null ? "alive" : plant.LostCause is null || IsElsewhere(plant.LostCause) ? "notAssessed" : "dead",
            ["causeOfDeath"] = lost is null || plant.LostCause is null || IsElsewhere(plant.LostCause) ? "" : plant.LostCause,
            ["disposition"] = lost is null ? "in collection" : plant.LostCause is { } cause && IsElsewhere(cause) ? cause : "discarded",
            ["associatedOrganisms"] = plant.TakenFrom is { } parent ? $"division of {Urn(parent.Id)}" : "",
            ["occurrenceRemarks"] = lost is null ? "" : plant.LostSeen ?? "",
        };

        foreach (var spike in plant.Growths.SelectMany(growth => growth.Spikes).Where(spike => spike.FirstFlower is not null).OrderBy(spike => spike.FirstFlower!.Value.Earliest))
        {
            yield return new Dictionary<string, string>(shared)
            {
                ["occurrenceID"] = Urn(spike.Id),
                ["eventDate"] = Span(spike.FirstFlower!.Value, (spike.LastFlower ?? spike.FirstFlower)!.Value.Latest),
                ["reproductiveCondition"] = "flowering",
                ["vitality"] = "alive",
                ["disposition"] = "in collection",
                ["occurrenceRemarks"] = Flowers(spike),
            };
        }
    }

    private static Dictionary<string, string> Shared(PlantLife plant)
    {
        var name = NameReader.ReadOrUnknown(plant.Card.Name);
        var determined = plant.Names.LastOrDefault();
        var below = name.Below.IsEmpty ? null : name.Below[^1];
        var earlier = new[] { plant.Card.NameAsReceived }.Concat(plant.Names.SkipLast(1).Select(one => $"{one.Name} ({Day(Days(one.When))})")).Where(text => text != plant.Card.Name);
        return new Dictionary<string, string>(Terms.ToDictionary(term => term, _ => ""))
        {
            // https://dwc.tdwg.org/list/#dwc_basisOfRecord
            ["basisOfRecord"] = "LivingSpecimen",
            ["occurrenceStatus"] = "present",
            ["organismID"] = Urn(plant.Card.Id),
            ["catalogNumber"] = plant.Card.Number.ToString(CultureInfo.InvariantCulture),
            ["individualCount"] = "1",
            ["scientificName"] = (name with { Cultivar = null, Awards = [], Parents = [] }).ToText(),
            ["genus"] = name.Genus is null ? "" : (name.IsNothogenus ? "×" : "") + name.Genus,
            ["specificEpithet"] = name.Species is null ? "" : (name.IsNothospecies ? "×" : "") + name.Species,
            ["infraspecificEpithet"] = below?.Epithet ?? "",
            ["cultivarEpithet"] = name.Cultivar ?? "",
            ["taxonRank"] = name.Cultivar is not null ? "cultivar" : name.Grex is not null ? "grex" : below is not null ? NameWriter.RankTerm(below.Rank, below.IsNotho) : name.Species is not null ? "species" : name.Genus is not null ? "genus" : "",
            ["nomenclaturalCode"] = name.Grex is not null || name.Cultivar is not null ? "ICNCP" : "ICN",
            ["identificationQualifier"] = name.Qualifier switch { NameQualifier.Near => $"aff. {name.Species}", NameQualifier.Compare => $"cf. {name.Species}", _ => "" },
            ["dateIdentified"] = determined is null ? "" : Day(Days(determined.When)),
            ["identificationRemarks"] = determined?.Evidence ?? "",
            ["previousIdentifications"] = string.Join(" | ", earlier),
            ["kingdom"] = "Plantae",
            ["family"] = "Orchidaceae",
            // Label from the vocabulary of https://dwc.tdwg.org/doe/.
            ["degreeOfEstablishment"] = "cultivated",
        };
    }

    private static string Flowers(Spike spike)
    {
        var words = new List<string>();
        if (spike.Flowers is { } count)
        {
            words.Add(string.Create(CultureInfo.InvariantCulture, $"{count} flowers"));
        }

        if (spike.FlowerWidthMillimetres is { } width)
        {
            words.Add(spike.FlowerHeightMillimetres is { } height
                ? string.Create(CultureInfo.InvariantCulture, $"{width:0.#} mm wide, {height:0.#} mm high")
                : string.Create(CultureInfo.InvariantCulture, $"{width:0.#} mm wide"));
        }

        if (spike.Scent is { Length: > 0 } scent)
        {
            words.Add($"scent: {scent}");
        }

        return string.Join("; ", words);
    }

    private static bool IsElsewhere(string cause) =>
        cause.Contains("given", StringComparison.OrdinalIgnoreCase) || cause.Contains("sold", StringComparison.OrdinalIgnoreCase) || cause.Contains("swap", StringComparison.OrdinalIgnoreCase);

    private static DaySpan Days(FactWhen when) => new(DateOnly.FromDateTime(when.Earliest), DateOnly.FromDateTime(when.Latest));

    // ISO 8601, as eventDate asks: a day, or an interval "from/to"; a month or year that is all that is known stays one.
    private static string Day(DaySpan span) => span switch
    {
        { IsOneDay: true } => Iso(span.Earliest),
        { Earliest: { Day: 1, Month: 1 }, Latest: { Day: 31, Month: 12 } } when span.Earliest.Year == span.Latest.Year => span.Earliest.ToString("yyyy", CultureInfo.InvariantCulture),
        { Earliest.Day: 1 } when span.Latest == span.Earliest.AddMonths(1).AddDays(-1) => span.Earliest.ToString("yyyy-MM", CultureInfo.InvariantCulture),
        _ => $"{Iso(span.Earliest)}/{Iso(span.Latest)}",
    };

    private static string Span(DaySpan from, DateOnly? to) => to is { } end && end > from.Latest ? $"{Day(from).Split('/')[0]}/{Iso(end)}" : Day(from);

    private static string Iso(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string Urn(Guid id) => $"urn:uuid:{id}";
}
