using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Rootwater.Ledger.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class FirstLedger : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "bench",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    zone = table.Column<string>(type: "text", nullable: false),
                    tools = table.Column<string>(type: "text", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_bench", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "can_steps",
                columns: table => new
                {
                    can_id = table.Column<Guid>(type: "uuid", nullable: false),
                    number = table.Column<int>(type: "integer", nullable: false),
                    uses = table.Column<string>(type: "text", nullable: false),
                    done_fact_id = table.Column<Guid>(type: "uuid", nullable: true),
                    done_at = table.Column<long>(type: "bigint", nullable: true),
                    taken = table.Column<string>(type: "text", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_can_steps", x => new { x.can_id, x.number });
                });

            migrationBuilder.CreateTable(
                name: "cans",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    letter = table.Column<string>(type: "text", nullable: false),
                    vessel = table.Column<string>(type: "text", nullable: false),
                    litres = table.Column<double>(type: "double precision", nullable: false),
                    mixed_on = table.Column<DateOnly>(type: "date", nullable: false),
                    position = table.Column<long>(type: "bigint", nullable: false),
                    steps = table.Column<int>(type: "integer", nullable: false),
                    steps_done = table.Column<int>(type: "integer", nullable: false),
                    plants = table.Column<int>(type: "integer", nullable: false),
                    ec_low = table.Column<double>(type: "double precision", nullable: false),
                    ec = table.Column<double>(type: "double precision", nullable: false),
                    ec_high = table.Column<double>(type: "double precision", nullable: false),
                    ph_low = table.Column<double>(type: "double precision", nullable: false),
                    ph = table.Column<double>(type: "double precision", nullable: false),
                    ph_high = table.Column<double>(type: "double precision", nullable: false),
                    cost = table.Column<decimal>(type: "numeric", nullable: false),
                    litres_left = table.Column<double>(type: "double precision", nullable: false),
                    poured_on = table.Column<DateOnly>(type: "date", nullable: true),
                    poured_fact_id = table.Column<Guid>(type: "uuid", nullable: true),
                    card = table.Column<string>(type: "text", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_cans", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "facts",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    position = table.Column<long>(type: "bigint", nullable: false),
                    kind = table.Column<string>(type: "text", nullable: false),
                    version = table.Column<int>(type: "integer", nullable: false),
                    payload = table.Column<string>(type: "text", nullable: false),
                    subject_id = table.Column<Guid>(type: "uuid", nullable: false),
                    precision = table.Column<int>(type: "integer", nullable: false),
                    earliest = table.Column<string>(type: "text", nullable: false),
                    latest = table.Column<string>(type: "text", nullable: false),
                    zone = table.Column<string>(type: "text", nullable: false),
                    recorded_microseconds = table.Column<long>(type: "bigint", nullable: false),
                    who = table.Column<string>(type: "text", nullable: false),
                    device = table.Column<string>(type: "text", nullable: false),
                    sequence = table.Column<long>(type: "bigint", nullable: false),
                    corrects = table.Column<Guid>(type: "uuid", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_facts", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "feedings",
                columns: table => new
                {
                    fact_id = table.Column<Guid>(type: "uuid", nullable: false),
                    plant_id = table.Column<Guid>(type: "uuid", nullable: false),
                    pot_id = table.Column<Guid>(type: "uuid", nullable: true),
                    can_id = table.Column<Guid>(type: "uuid", nullable: false),
                    day = table.Column<DateOnly>(type: "date", nullable: false),
                    millilitres = table.Column<double>(type: "double precision", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_feedings", x => new { x.fact_id, x.plant_id });
                });

            migrationBuilder.CreateTable(
                name: "lots",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    product_id = table.Column<Guid>(type: "uuid", nullable: false),
                    grams = table.Column<double>(type: "double precision", nullable: false),
                    grams_left = table.Column<double>(type: "double precision", nullable: false),
                    weighed_at = table.Column<long>(type: "bigint", nullable: false),
                    bought_on = table.Column<DateOnly>(type: "date", nullable: true),
                    opened_on = table.Column<DateOnly>(type: "date", nullable: true),
                    best_before = table.Column<DateOnly>(type: "date", nullable: true),
                    note = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_lots", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "places",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    walk_order = table.Column<int>(type: "integer", nullable: false),
                    light = table.Column<string>(type: "text", nullable: false),
                    warmth = table.Column<string>(type: "text", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_places", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "plants",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    number = table.Column<int>(type: "integer", nullable: false),
                    name_as_received = table.Column<string>(type: "text", nullable: false),
                    determined_name = table.Column<string>(type: "text", nullable: true),
                    determined_on = table.Column<DateOnly>(type: "date", nullable: true),
                    determined_evidence = table.Column<string>(type: "text", nullable: true),
                    kind = table.Column<string>(type: "text", nullable: false),
                    habit = table.Column<int>(type: "integer", nullable: false),
                    states = table.Column<string>(type: "text", nullable: false),
                    arrived_on = table.Column<DateOnly>(type: "date", nullable: false),
                    arrived_precision = table.Column<int>(type: "integer", nullable: false),
                    want_id = table.Column<Guid>(type: "uuid", nullable: true),
                    place_id = table.Column<Guid>(type: "uuid", nullable: true),
                    lost_on = table.Column<DateOnly>(type: "date", nullable: true),
                    lost_cause = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_plants", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "pots",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    plant_id = table.Column<Guid>(type: "uuid", nullable: false),
                    culture = table.Column<int>(type: "integer", nullable: false),
                    medium = table.Column<string>(type: "text", nullable: false),
                    medium_litres = table.Column<double>(type: "double precision", nullable: false),
                    reservoir_litres = table.Column<double>(type: "double precision", nullable: false),
                    feed_millilitres = table.Column<double>(type: "double precision", nullable: false),
                    feed_every_days = table.Column<int>(type: "integer", nullable: false),
                    filled_on = table.Column<DateOnly>(type: "date", nullable: false),
                    left_on = table.Column<DateOnly>(type: "date", nullable: true),
                    last_fed_on = table.Column<DateOnly>(type: "date", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_pots", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "products",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    product = table.Column<string>(type: "text", nullable: false),
                    formula = table.Column<string>(type: "text", nullable: true),
                    made_of = table.Column<string>(type: "text", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_products", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "readings",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    can_id = table.Column<Guid>(type: "uuid", nullable: false),
                    after_step = table.Column<int>(type: "integer", nullable: true),
                    ec_microsiemens_per_cm = table.Column<double>(type: "double precision", nullable: true),
                    ph = table.Column<double>(type: "double precision", nullable: true),
                    temperature_celsius = table.Column<double>(type: "double precision", nullable: true),
                    note = table.Column<string>(type: "text", nullable: true),
                    recorded_microseconds = table.Column<long>(type: "bigint", nullable: false),
                    position = table.Column<long>(type: "bigint", nullable: false),
                    corrected_by = table.Column<Guid>(type: "uuid", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_readings", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "vessels",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    litres = table.Column<double>(type: "double precision", nullable: false),
                    relative_volume_error = table.Column<double>(type: "double precision", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_vessels", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "wants",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    want = table.Column<string>(type: "text", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_wants", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "water_reports",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    water_id = table.Column<Guid>(type: "uuid", nullable: false),
                    sampled_on = table.Column<DateOnly>(type: "date", nullable: false),
                    position = table.Column<long>(type: "bigint", nullable: false),
                    values = table.Column<string>(type: "text", nullable: false),
                    origin = table.Column<int>(type: "integer", nullable: false),
                    temperature_celsius = table.Column<double>(type: "double precision", nullable: false),
                    from = table.Column<string>(type: "text", nullable: true),
                    source = table.Column<string>(type: "text", nullable: false),
                    ph = table.Column<double>(type: "double precision", nullable: true),
                    ec_microsiemens_per_cm = table.Column<double>(type: "double precision", nullable: true),
                    alkalinity_meq_per_litre = table.Column<double>(type: "double precision", nullable: true),
                    charge_imbalance_percent = table.Column<double>(type: "double precision", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_water_reports", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "waters",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    available_litres = table.Column<double>(type: "double precision", nullable: true),
                    price_per_litre = table.Column<decimal>(type: "numeric", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_waters", x => x.id);
                });

            migrationBuilder.CreateIndex(
                name: "IX_cans_position",
                table: "cans",
                column: "position");

            migrationBuilder.CreateIndex(
                name: "IX_cans_poured_on",
                table: "cans",
                column: "poured_on");

            migrationBuilder.CreateIndex(
                name: "IX_facts_earliest",
                table: "facts",
                column: "earliest");

            migrationBuilder.CreateIndex(
                name: "IX_facts_position",
                table: "facts",
                column: "position",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_facts_subject_id_position",
                table: "facts",
                columns: new[] { "subject_id", "position" });

            migrationBuilder.CreateIndex(
                name: "IX_feedings_plant_id_day",
                table: "feedings",
                columns: new[] { "plant_id", "day" });

            migrationBuilder.CreateIndex(
                name: "IX_lots_product_id",
                table: "lots",
                column: "product_id");

            migrationBuilder.CreateIndex(
                name: "IX_plants_number",
                table: "plants",
                column: "number",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_pots_plant_id_left_on",
                table: "pots",
                columns: new[] { "plant_id", "left_on" });

            migrationBuilder.CreateIndex(
                name: "IX_readings_can_id_position",
                table: "readings",
                columns: new[] { "can_id", "position" });

            migrationBuilder.CreateIndex(
                name: "IX_water_reports_water_id_sampled_on",
                table: "water_reports",
                columns: new[] { "water_id", "sampled_on" });

            // Written by hand: the ledger is append-only, whoever writes.
            migrationBuilder.Sql(
                """
                CREATE FUNCTION facts_stay() RETURNS trigger LANGUAGE plpgsql AS $$
                BEGIN
                    RAISE EXCEPTION 'a fact is never changed or removed: add one that corrects it' USING ERRCODE = 'restrict_violation';
                END $$;
                CREATE TRIGGER facts_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON facts FOR EACH STATEMENT EXECUTE FUNCTION facts_stay();
                """);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.Sql("DROP TRIGGER facts_stay ON facts; DROP FUNCTION facts_stay();");

            migrationBuilder.DropTable(
                name: "bench");

            migrationBuilder.DropTable(
                name: "can_steps");

            migrationBuilder.DropTable(
                name: "cans");

            migrationBuilder.DropTable(
                name: "facts");

            migrationBuilder.DropTable(
                name: "feedings");

            migrationBuilder.DropTable(
                name: "lots");

            migrationBuilder.DropTable(
                name: "places");

            migrationBuilder.DropTable(
                name: "plants");

            migrationBuilder.DropTable(
                name: "pots");

            migrationBuilder.DropTable(
                name: "products");

            migrationBuilder.DropTable(
                name: "readings");

            migrationBuilder.DropTable(
                name: "vessels");

            migrationBuilder.DropTable(
                name: "wants");

            migrationBuilder.DropTable(
                name: "water_reports");

            migrationBuilder.DropTable(
                name: "waters");
        }
    }
}
