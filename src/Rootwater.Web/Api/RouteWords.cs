using System.Text.RegularExpressions;

namespace Rootwater.Web.Api;

/// <summary>What every address of the API does, in a sentence; the source of the OpenAPI description.</summary>
public static partial class RouteWords
{
    /// <summary>Null for an address nobody has described yet.</summary>
    public static string? Of(string method, string path) => s_words.GetValueOrDefault($"{method.ToUpperInvariant()} {Constraint().Replace(path, "}")}");

    // "{id:guid}" is "{id}" to a reader.
    [GeneratedRegex(@":\w+\}")]
    private static partial Regex Constraint();

    private static readonly Dictionary<string, string> s_words = new(StringComparer.Ordinal)
    {
        ["GET /api/health"] = "Whether the ledger can be read.",
        ["GET /api/openapi.json"] = "This description.",
        ["GET /api/bench"] = "Who is due on a day, with waters, cupboard, vessels and leftovers.",
        ["POST /api/plan"] = "Plans the cans for those who are due; closing the connection cancels the search.",
        ["GET /api/cans"] = "Cans, newest first.",
        ["POST /api/cans"] = "Keeps a can as a plan gave it.",
        ["GET /api/cans/{id}"] = "A can's card, ticks and readings.",
        ["POST /api/cans/{id}/steps/{number}/done"] = "Ticks a step; what it used is taken from its lot.",
        ["POST /api/cans/{id}/steps/{number}/undone"] = "Takes a tick back.",
        ["POST /api/cans/{id}/readings"] = "Keeps what the pens read in a can.",
        ["GET /api/cans/{id}/judgement"] = "Whether the latest reading agrees with what was expected, and what to check first.",
        ["GET /api/cans/{id}/repair"] = "What would put this can right.",
        ["POST /api/cans/{id}/repairs"] = "Writes down a repair that was done.",
        ["POST /api/cans/{id}/repairs/{repair}/undone"] = "Takes a repair back.",
        ["POST /api/cans/{id}/poured"] = "Writes down that the can was poured to the plants on its card.",
        ["POST /api/cans/{id}/unpoured"] = "Takes the pouring back.",
        ["GET /api/products"] = "The cupboard: products with their lots.",
        ["GET /api/products/{id}"] = "One product with its lots.",
        ["POST /api/products/preview"] = "Reads a product's label or formula and keeps nothing.",
        ["POST /api/products"] = "Keeps a product.",
        ["POST /api/lots"] = "Adds a bought package.",
        ["POST /api/lots/{id}/left"] = "Sets what is left of a lot.",
        ["GET /api/waters"] = "Waters with their newest reports.",
        ["GET /api/waters/{id}"] = "One water with its reports.",
        ["POST /api/waters"] = "Keeps a water.",
        ["POST /api/reports/preview"] = "Reads a water report and keeps nothing.",
        ["POST /api/reports"] = "Keeps a water report.",
        ["GET /api/pots"] = "Pots that hold a plant.",
        ["GET /api/pots/{id}/forecast"] = "What the root gets from a kept can, day by day.",
        ["GET /api/pots/fit"] = "Every pot with what its readings taught, media, medium to have ready, soak tests, and how often the bands were right; the fit so far, never waited for.",
        ["POST /api/pots/fit"] = "Sets the fit going in the background, if it is behind.",
        ["POST /api/pots/fit/stop"] = "Stops it; the fit so far stands.",
        ["GET /api/pots/of/{number}"] = "One plant's pot: traits with intervals, what cannot be told, changes, forecast bands with readings, siblings, repotting.",
        ["GET /api/pots/of/{number}/pour"] = "At which pH, how strong and how often to leach; with group=true for all that share its can. Closing the connection cancels the search.",
        ["POST /api/pots/readings/check"] = "Looks at a pot's reading and keeps nothing: what cannot be, and what was probably meant.",
        ["POST /api/pots/readings"] = "Keeps a pot's reading.",
        ["POST /api/pots/soaks/check"] = "Looks at a soak test and keeps nothing.",
        ["POST /api/pots/soaks"] = "Keeps a soak test of bare medium; it counts as readings of that medium.",
        ["POST /api/facts"] = "Writes facts in order, all or none; one sent before under its id is kept once.",
        ["POST /api/facts/{id}/undo"] = "Takes back a fact of the last hour.",
        ["GET /api/facts/recent"] = "What was entered lately, newest first.",
        ["GET /api/plants"] = "Plants as cards in walking order, narrowed by words, place, kind, state, due, trouble, quarantine.",
        ["GET /api/plants/next-number"] = "The next free number for a tag.",
        ["GET /api/plants/sole"] = "Plants of which no division is kept aside.",
        ["GET /api/plants/{id}"] = "A plant's whole life.",
        ["GET /api/plants/number/{number}"] = "The same by the number on its tag.",
        ["GET /api/plants/{id}/nutrients"] = "What a plant was given, week by week, in milligrams of each nutrient.",
        ["GET /api/plants/{id}/believed"] = "The root forecasts that were believed when its cans were poured.",
        ["GET /api/plants/{id}/forget"] = "What forgetting a plant would remove.",
        ["POST /api/plants/{id}/forget"] = "Forgets a plant for good; backups keep it until they age out.",
        ["GET /api/plants/{id}/photos"] = "A plant's photos, oldest first.",
        ["GET /api/names"] = "A name read by the codes of nomenclature: its parts, and what is wrong with it.",
        ["GET /api/places"] = "Places in walking order.",
        ["POST /api/photos"] = "Takes photos in, as a form: plantId, files, and if wanted id for each, takenAt, caption.",
        ["GET /api/photos/{id}"] = "A photo as JPEG.",
        ["GET /api/photos/{id}/thumbnail"] = "The same, small.",
        ["GET /api/round"] = "Today's walk: who gets what, and why.",
        ["GET /api/absence"] = "How long each reservoir lasts, and what whoever waters meanwhile should do.",
        ["GET /api/exchange/tables"] = "The tables that go out and come in as CSV, with their fields.",
        ["GET /api/exchange/csv/{table}"] = "One table as CSV.",
        ["POST /api/exchange/csv"] = "What a CSV file would do to the bench, as a form: file, mapping in JSON; with write=true it is done if nothing is in the way.",
        ["GET /api/exchange/csv-set"] = "All tables as a ZIP of CSV files.",
        ["POST /api/exchange/csv-set"] = "A set of all tables into an empty bench; tried only unless write=true.",
        ["GET /api/exchange/archive"] = "The whole bench with its photos as one file.",
        ["POST /api/exchange/archive"] = "Looks through an archive; with write=true an empty bench becomes the one in it.",
        ["GET /api/exchange/darwin-core"] = "Plants and blooms as a Darwin Core archive.",
        ["GET /api/backups"] = "Backups, newest first, and why the last one could not be made, if so.",
        ["POST /api/backups"] = "Makes a backup now, verifies it, and removes those that age out.",
        ["POST /api/backups/{name}/verify"] = "Opens a backup and looks whether it could be restored whole.",
    };
}
