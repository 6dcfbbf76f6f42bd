using System.Data.Common;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Waters;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>
/// Whole rows read in plain SQL, column by column: what a plan needs, for EF Core compiles each of its queries anew in every program and a command asks each once.
/// </summary>
/// <remarks>The columns are those of the mapping. A test reads every row of a bench both ways and compares, on both databases.</remarks>
internal static class PlainRows
{
    private const string PlantColumns =
        "id, number, name_as_received, determined_name, determined_on, determined_evidence, kind, habit, states, arrived_on, arrived_precision, raised_as, parent_plant_id, want_id, "
        + "place_id, lost_on, lost_cause, living_leaves, spike_millimetres, leaf_trouble, quarantine, virus_tests, last_fed_on, last_given_on, photo_id";

    private const string PotColumns =
        "id, plant_id, culture, medium, medium_litres, reservoir_litres, feed_millilitres, feed_every_days, filled_on, left_on, last_fed_on, last_given_on";

    private const string FactColumns =
        "id, position, kind, version, payload, subject_id, precision, earliest, latest, zone, recorded_microseconds, who, device, sequence, corrects";

    public static async Task<BenchRow?> BenchAsync(LedgerContext db, CancellationToken cancel) => (await PlainSql.ReadAsync(
        db, "SELECT id, name, zone, tools, units, base_address FROM bench", [],
        row => new BenchRow
        {
            Id = row.GetInt32(0),
            Name = row.GetString(1),
            Zone = row.GetString(2),
            Tools = row.Json<Tools>(3),
            Units = row.Json<ReadersUnits>(4),
            BaseAddress = row.TextOrNull(5),
        },
        cancel)).FirstOrDefault();

    public static Task<List<WantRow>> WantsAsync(LedgerContext db, CancellationToken cancel) => PlainSql.ReadAsync(
        db, "SELECT id, name, want FROM wants", [], row => new WantRow { Id = row.GetGuid(0), Name = row.GetString(1), Want = row.Json<Want>(2) }, cancel);

    public static Task<List<PlaceRow>> PlacesAsync(LedgerContext db, CancellationToken cancel) => PlainSql.ReadAsync(
        db, "SELECT id, name, walk_order, light, warmth FROM places", [],
        row => new PlaceRow { Id = row.GetGuid(0), Name = row.GetString(1), WalkOrder = row.GetInt32(2), Light = row.GetString(3), Warmth = row.GetString(4) }, cancel);

    /// <summary>Plants that are not lost; one of them alone when <paramref name="only"/> is not null.</summary>
    public static Task<List<PlantRow>> LivingPlantsAsync(LedgerContext db, Guid? only, CancellationToken cancel) => PlainSql.ReadAsync(
        db, $"SELECT {PlantColumns} FROM plants WHERE lost_on IS NULL{(only is null ? "" : " AND id = @only")}", Only(only), Plant, cancel);

    /// <summary>Pots that a plant stands in; that of one plant alone when <paramref name="only"/> is not null.</summary>
    public static Task<List<PotRow>> StandingPotsAsync(LedgerContext db, Guid? only, CancellationToken cancel) => PlainSql.ReadAsync(
        db, $"SELECT {PotColumns} FROM pots WHERE left_on IS NULL{(only is null ? "" : " AND plant_id = @only")}", Only(only), Pot, cancel);

    public static Task<List<LotRow>> LotsAsync(LedgerContext db, CancellationToken cancel) => PlainSql.ReadAsync(
        db, "SELECT id, product_id, grams, grams_left, weighed_at, bought_on, opened_on, best_before, note FROM lots", [],
        row => new LotRow
        {
            Id = row.GetGuid(0),
            ProductId = row.GetGuid(1),
            Grams = row.GetDouble(2),
            GramsLeft = row.GetDouble(3),
            WeighedAt = row.GetInt64(4),
            BoughtOn = row.DayOrNull(5),
            OpenedOn = row.DayOrNull(6),
            BestBefore = row.DayOrNull(7),
            Note = row.TextOrNull(8),
        },
        cancel);

    public static Task<List<ProductRow>> ProductsAsync(LedgerContext db, CancellationToken cancel) => PlainSql.ReadAsync(
        db, "SELECT id, name, product, formula, made_of FROM products", [],
        row => new ProductRow { Id = row.GetGuid(0), Name = row.GetString(1), Product = row.Json<Product>(2), Formula = row.TextOrNull(3), MadeOf = row.JsonList<string>(4) }, cancel);

    public static Task<List<WaterRow>> WatersAsync(LedgerContext db, CancellationToken cancel) => PlainSql.ReadAsync(
        db, "SELECT id, name, available_litres, price_per_litre FROM waters", [],
        row => new WaterRow { Id = row.GetGuid(0), Name = row.GetString(1), AvailableLitres = row.DoubleOrNull(2), PricePerLitre = row.GetDecimal(3) }, cancel);

    public static Task<List<WaterReportRow>> WaterReportsAsync(LedgerContext db, CancellationToken cancel) => PlainSql.ReadAsync(
        db,
        "SELECT id, water_id, sampled_on, position, \"values\", origin, temperature_celsius, \"from\", source, ph, ec_microsiemens_per_cm, alkalinity_meq_per_litre, charge_imbalance_percent FROM water_reports",
        [],
        row => new WaterReportRow
        {
            Id = row.GetGuid(0),
            WaterId = row.GetGuid(1),
            SampledOn = row.Day(2),
            Position = row.GetInt64(3),
            Values = row.JsonList<ReportedValue>(4),
            Origin = (WaterOrigin)row.GetInt32(5),
            TemperatureCelsius = row.GetDouble(6),
            From = row.TextOrNull(7),
            Source = row.Json<WaterSource>(8),
            PH = row.DoubleOrNull(9),
            EcMicrosiemensPerCm = row.DoubleOrNull(10),
            AlkalinityMeqPerLitre = row.DoubleOrNull(11),
            ChargeImbalancePercent = row.DoubleOrNull(12),
        },
        cancel);

    /// <summary>Facts about some things of some kinds, in the order they were written.</summary>
    public static async Task<List<Fact>> FactsAsync(LedgerContext db, IReadOnlyCollection<Guid> subjects, IReadOnlyCollection<string> kinds, CancellationToken cancel)
    {
        if (subjects.Count == 0 || kinds.Count == 0)
        {
            return [];
        }

        var about = subjects.Select((subject, i) => ($"s{i}", (object)subject)).ToList();
        var named = kinds.Select((kind, i) => ($"k{i}", (object)kind)).ToList();
        return await PlainSql.ReadAsync(
            db, $"SELECT {FactColumns} FROM facts WHERE subject_id IN ({Names(about)}) AND kind IN ({Names(named)}) ORDER BY position", [.. about, .. named],
            row => new Fact
            {
                Id = row.GetGuid(0),
                Position = row.GetInt64(1),
                Kind = row.GetString(2),
                Version = row.GetInt32(3),
                Payload = row.GetString(4),
                SubjectId = row.GetGuid(5),
                Precision = (WhenPrecision)row.GetInt32(6),
                Earliest = row.GetString(7),
                Latest = row.GetString(8),
                Zone = row.GetString(9),
                RecordedMicroseconds = row.GetInt64(10),
                Who = row.GetString(11),
                Device = row.GetString(12),
                Sequence = row.GetInt64(13),
                Corrects = row.GuidOrNull(14),
            },
            cancel);
    }

    private static PlantRow Plant(DbDataReader row) => new()
    {
        Id = row.GetGuid(0),
        Number = row.GetInt32(1),
        NameAsReceived = row.GetString(2),
        DeterminedName = row.TextOrNull(3),
        DeterminedOn = row.DayOrNull(4),
        DeterminedEvidence = row.TextOrNull(5),
        Kind = row.GetString(6),
        Habit = (Habit)row.GetInt32(7),
        States = row.JsonList<PlantState>(8),
        ArrivedOn = row.Day(9),
        ArrivedPrecision = (WhenPrecision)row.GetInt32(10),
        RaisedAs = (Propagation)row.GetInt32(11),
        ParentPlantId = row.GuidOrNull(12),
        WantId = row.GuidOrNull(13),
        PlaceId = row.GuidOrNull(14),
        LostOn = row.DayOrNull(15),
        LostCause = row.TextOrNull(16),
        LivingLeaves = row.GetInt32(17),
        SpikeMillimetres = row.DoubleOrNull(18),
        LeafTrouble = row.JsonList<string>(19),
        Quarantine = row.IsDBNull(20) ? null : row.Json<Quarantine>(20),
        VirusTests = row.JsonList<VirusTest>(21),
        LastFedOn = row.DayOrNull(22),
        LastGivenOn = row.DayOrNull(23),
        PhotoId = row.GuidOrNull(24),
    };

    private static PotRow Pot(DbDataReader row) => new()
    {
        Id = row.GetGuid(0),
        PlantId = row.GetGuid(1),
        Culture = (Culture)row.GetInt32(2),
        Medium = row.GetString(3),
        MediumLitres = row.GetDouble(4),
        ReservoirLitres = row.GetDouble(5),
        FeedMillilitres = row.GetDouble(6),
        FeedEveryDays = row.GetInt32(7),
        FilledOn = row.Day(8),
        LeftOn = row.DayOrNull(9),
        LastFedOn = row.DayOrNull(10),
        LastGivenOn = row.DayOrNull(11),
    };

    private static (string, object)[] Only(Guid? only) => only is { } id ? [("only", id)] : [];

    private static string Names(IEnumerable<(string Name, object)> parameters) => string.Join(", ", parameters.Select(parameter => "@" + parameter.Name));

    private static T Json<T>(this DbDataReader row, int column) => FactJson.Read<T>(row.GetString(column));

    // Most lists of most plants are empty, and the first reading of a type costs milliseconds.
    private static IReadOnlyList<T> JsonList<T>(this DbDataReader row, int column) => row.GetString(column) is var text && text == "[]" ? [] : FactJson.Read<IReadOnlyList<T>>(text);
}
