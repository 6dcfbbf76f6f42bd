using System.Globalization;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Exchange.Csv;

/// <summary>
/// The bench as growers keep it in a spreadsheet: a plant a row, by its number. A new number is an arrival; a known one is compared with the bench, and what
/// differs becomes a fact of today (or of the day in "changed").
/// </summary>
internal sealed class PlantTable : ICsvTable
{
    public static readonly IReadOnlyList<string> Columns =
    [
        "number", "nameAsReceived", "kind", "habit", "arrived", "source", "price", "currency", "wildLocality", "raisedAs", "determinedName", "evidence", "place", "want",
        "culture", "medium", "mediumLitres", "reservoirLitres", "feedMillilitres", "feedEveryDays", "changed", "lost", "lostCause", "note",
    ];

    public string Name => "plants";

    public IReadOnlyList<string> Fields => Columns;

    public static string[] Write(PlantLife plant, IReadOnlyDictionary<Guid, string> wants)
    {
        var (card, from) = (plant.Card, plant.Provenance);
        return
        [
            Number(card.Number), CsvCell.Write(card.NameAsReceived), CsvCell.Write(card.Kind), card.Habit.ToString(), plant.Arrived.ToText(), CsvCell.Write(from.Source),
            from.Price?.ToString(CultureInfo.InvariantCulture) ?? "", CsvCell.Write(from.Currency), CsvCell.Write(from.WildLocality), from.RaisedAs.ToString(),
            CsvCell.Write(plant.Names.LastOrDefault()?.Name), CsvCell.Write(plant.Names.LastOrDefault()?.Evidence), CsvCell.Write(card.Place?.Name),
            CsvCell.Write(card.WantId is { } want ? wants.GetValueOrDefault(want) : null), card.Pot?.Culture.ToString() ?? "", CsvCell.Write(card.Pot?.Medium),
            Number(card.Pot?.MediumLitres), Number(card.Pot?.ReservoirLitres), Number(card.Pot?.FeedMillilitres), Number(card.Pot?.FeedEveryDays), "",
            card.LostOn?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? "", CsvCell.Write(plant.LostCause), "",
        ];

        static string Number(double? value) => value?.ToString("R", CultureInfo.InvariantCulture) ?? "";
    }

    public IEnumerable<NewFact> Facts(RowFacts row)
    {
        if (Whole(row, "number") is not { } number)
        {
            row.Refuse("number", row.Cell("number"), "the plant's number, 1 and up");
            return [];
        }

        return row.Bench.Plants.TryGetValue(number, out var card) ? Changes(row, card) : Arrival(row, number);
    }

    private static IEnumerable<NewFact> Arrival(RowFacts row, int number)
    {
        var (name, kind, arrived, habit) = (row.Cell("nameAsReceived"), row.Cell("kind"), row.When("arrived"), Choice<Habit>(row, "habit"));
        if (name is null || kind is null || arrived is null || habit is null)
        {
            Need(row, "nameAsReceived", name, "the name as received");
            Need(row, "kind", kind, "its kind, as \"Phalaenopsis\"");
            Need(row, "arrived", arrived, "when it came: 2026, 2026-03 or 2026-03-14");
            Need(row, "habit", habit, $"one of {string.Join(", ", Enum.GetNames<Habit>())}");
            yield break;
        }

        var plant = RowFacts.IdFor(arrived, "plant", number.ToString(CultureInfo.InvariantCulture), name, arrived.ToText());
        yield return Fact(plant, arrived, new PlantArrived(plant, number, name, kind, habit.Value, new Provenance
        {
            Source = row.Cell("source"),
            Price = Decimal(row, "price") is { } price ? (decimal)price : null,
            Currency = row.Cell("price") is null ? null : row.Cell("currency"),
            WildLocality = row.Cell("wildLocality"),
            RaisedAs = Choice<Propagation>(row, "raisedAs") ?? Propagation.Unknown,
        }));
        foreach (var fact in Rest(row, plant, null, arrived))
        {
            yield return fact;
        }
    }

    private static IEnumerable<NewFact> Changes(RowFacts row, PlantCard card)
    {
        foreach (var (field, is_, said) in new[] { ("nameAsReceived", card.NameAsReceived, row.Cell("nameAsReceived")), ("kind", card.Kind, row.Cell("kind")) })
        {
            if (said is not null && said != is_)
            {
                row.Refuse(field, said, $"\"{is_}\", as the bench has no. {card.Number}: what it was received as stands for ever; what it proved to be belongs in determinedName");
            }
        }

        return Rest(row, card.Id, card, row.When("changed"));
    }

    private static IEnumerable<NewFact> Rest(RowFacts row, Guid plant, PlantCard? card, FactWhen? when)
    {
        if (row.Cell("determinedName") is { } name && name != card?.Name)
        {
            yield return Fact(plant, when, new PlantDetermined(plant, name, row.Cell("evidence") ?? "from a file"));
        }

        if (Named(row, "place", "placeId") is { } place && place != card?.Place?.Id)
        {
            yield return Fact(plant, when, new PlantMoved(plant, place));
        }

        if (Named(row, "want", "wantId") is { } want && want != card?.WantId)
        {
            yield return Fact(plant, when, new PlantWantChosen(plant, want));
        }

        if (Pot(row, plant, card?.Pot, when) is { } pot)
        {
            yield return Fact(plant, when, new PlantPotted(plant, pot));
        }

        if (row.Cell("note") is { } note)
        {
            yield return Fact(plant, when, new PlantNoted(plant, note));
        }

        if (row.When("lost") is { } lost && card?.LostOn is null)
        {
            yield return Fact(plant, lost, new PlantLost(plant, row.Cell("lostCause") ?? "unknown"));
        }
    }

    private static Pot? Pot(RowFacts row, Guid plant, Pot? now, FactWhen? when)
    {
        if (row.Cell("medium") is not { } medium)
        {
            return null;
        }

        var pot = new Pot
        {
            Id = RowFacts.IdFor(when, "pot", plant.ToString(), medium, row.Cell("mediumLitres"), row.Cell("culture"), when?.ToText()),
            Culture = Choice<Culture>(row, "culture") ?? now?.Culture ?? Culture.Wicking,
            Medium = medium,
            MediumLitres = Decimal(row, "mediumLitres") ?? now?.MediumLitres ?? 0,
            ReservoirLitres = Decimal(row, "reservoirLitres") ?? now?.ReservoirLitres ?? 0,
            FeedMillilitres = Decimal(row, "feedMillilitres") ?? now?.FeedMillilitres ?? 0,
            FeedEveryDays = Whole(row, "feedEveryDays") ?? now?.FeedEveryDays ?? 7,
            LastFed = null,
        };
        return now is not null && now with { Id = pot.Id, LastFed = null } == pot ? null : pot;
    }

    private static NewFact Fact(Guid plant, FactWhen? when, FactPayload payload)
    {
        var (kind, _, json) = FactKinds.Write(payload);
        return new NewFact { Id = RowFacts.IdFor(when, kind, json, when?.ToText()), SubjectId = plant, Payload = payload, When = when };
    }

    private static void Need(RowFacts row, string field, object? value, string accepted)
    {
        if (value is null)
        {
            row.Refuse(field, row.Cell(field), accepted);
        }
    }

    private static Guid? Named(RowFacts row, string field, string sort)
    {
        if (row.Cell(field) is not { } text)
        {
            return null;
        }

        if (row.Bench.Find(sort, text) is { } found)
        {
            return found;
        }

        var names = sort == "placeId" ? row.Bench.Places.Keys : row.Bench.Wants.Keys;
        row.Refuse(field, text, $"one of {string.Join(", ", names)}");
        return null;
    }

    private static T? Choice<T>(RowFacts row, string field) where T : struct, Enum
    {
        if (row.Cell(field) is not { } text)
        {
            return null;
        }

        if (Enum.TryParse<T>(text.Replace(" ", "", StringComparison.Ordinal), ignoreCase: true, out var value) && Enum.IsDefined(value) && !char.IsDigit(text[0]))
        {
            return value;
        }

        row.Refuse(field, text, $"one of {string.Join(", ", Enum.GetNames<T>())}");
        return null;
    }

    private static double? Decimal(RowFacts row, string field)
    {
        if (row.Cell(field) is not { } text)
        {
            return null;
        }

        try
        {
            return double.Parse(CsvNumber.Read(text).ToString(), NumberStyles.Float, CultureInfo.InvariantCulture);
        }
        catch (FormatException wrong)
        {
            row.Refuse(field, text, wrong.Message);
            return null;
        }
    }

    private static int? Whole(RowFacts row, string field)
    {
        var value = Decimal(row, field);
        if (value is { } number && (number != Math.Floor(number) || number is < 1 or > 1_000_000))
        {
            row.Refuse(field, row.Cell(field), "a whole number of 1 and up");
            return null;
        }

        return (int?)value;
    }
}
