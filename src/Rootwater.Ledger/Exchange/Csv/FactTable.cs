using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Exchange.Csv;

/// <summary>Rows of one kind of fact, as a grower's own file has them: a plant by its number, a place by its name, ids made where none are given.</summary>
internal sealed class FactTable(FactSheet sheet) : ICsvTable
{
    private static readonly string[] s_named = ["plantId", "placeId", "wantId", "waterId", "productId"];

    // The field that names the thing a fact brings into being.
    private static readonly Dictionary<string, string> s_own = new()
    {
        ["plant.arrived"] = "plantId",
        ["growth.seen"] = "growthId",
        ["leaf.seen"] = "leafId",
        ["spike.seen"] = "spikeId",
        ["reading.taken"] = "readingId",
        ["plant.potted"] = "pot.id",
        ["round.begun"] = "roundId",
        ["place.set"] = "place.id",
        ["want.set"] = "wantId",
        ["cross.set"] = "crossId",
        ["lot.bought"] = "lotId",
        ["water.set"] = "waterId",
        ["water.reported"] = "reportId",
        ["vessel.set"] = "vesselId",
    };

    private readonly Dictionary<string, int> _alike = [];

    public string Name => sheet.Kind;

    public IReadOnlyList<string> Fields { get; } = [.. sheet.Columns];

    public IEnumerable<NewFact> Facts(RowFacts row)
    {
        var when = row.When("when");
        var words = sheet.Fields.Select(field => row.Cell(field.Name)).ToArray();
        // Two rows alike are two pourings, not one: the second is told apart by being the second.
        var key = string.Join('\u001f', words.Prepend(when?.ToText()));
        var nth = _alike[key] = _alike.GetValueOrDefault(key) + 1;
        var made = RowFacts.IdFor(when, [Name, when?.ToText(), nth.ToString(System.Globalization.CultureInfo.InvariantCulture), .. words]);
        var payload = sheet.Read(field => Cell(row, field, made), row.Refuse);
        if (payload is null)
        {
            yield break;
        }

        // Of what has a desk of its own the table itself says under which id it was told.
        if ((FactSubjects.Of(payload) ?? (TableFacts.SubjectOf(payload) is { } own ? Id(row, "subject") ?? own : null)) is not { } subject)
        {
            row.Refuse("table", Name, "a table of plants, rounds, readings, cans, waters or the cupboard: this one comes in with a whole set, or at its own page");
            yield break;
        }

        yield return new NewFact
        {
            Id = Id(row, "id") ?? RowFacts.IdFor(when, "fact", made.ToString()),
            SubjectId = subject,
            Payload = payload,
            When = when,
            Corrects = Id(row, "corrects"),
        };
    }

    private string? Cell(RowFacts row, string field, Guid made)
    {
        var text = row.Cell(field);
        if (text is null)
        {
            return s_own.GetValueOrDefault(Name) == field ? made.ToString() : null;
        }

        if (!s_named.Contains(field) || row.Bench.Find(field, text) is { } known && known.ToString() is var _)
        {
            return s_named.Contains(field) ? row.Bench.Find(field, text)!.Value.ToString() : text;
        }

        row.Refuse(field, text, field == "plantId" ? "the number or id of a plant on this bench" : "the name or id of one on this bench");
        return null;
    }

    private static Guid? Id(RowFacts row, string field)
    {
        if (row.Cell(field) is not { } text)
        {
            return null;
        }

        if (Guid.TryParse(text, out var id))
        {
            return id;
        }

        row.Refuse(field, text, "an id (UUID)");
        return null;
    }
}
