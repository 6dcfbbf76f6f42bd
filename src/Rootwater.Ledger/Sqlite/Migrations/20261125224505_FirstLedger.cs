using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Rootwater.Ledger.Sqlite.Migrations
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
                    id = table.Column<int>(type: "INTEGER", nullable: false),
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    zone = table.Column<string>(type: "TEXT", nullable: false),
                    tools = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_bench", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "can_steps",
                columns: table => new
                {
                    can_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    number = table.Column<int>(type: "INTEGER", nullable: false),
                    uses = table.Column<string>(type: "TEXT", nullable: false),
                    done_fact_id = table.Column<Guid>(type: "TEXT", nullable: true),
                    done_at = table.Column<long>(type: "INTEGER", nullable: true),
                    taken = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_can_steps", x => new { x.can_id, x.number });
                });

            migrationBuilder.CreateTable(
                name: "cans",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    letter = table.Column<string>(type: "TEXT", nullable: false),
                    vessel = table.Column<string>(type: "TEXT", nullable: false),
                    litres = table.Column<double>(type: "REAL", nullable: false),
                    mixed_on = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    position = table.Column<long>(type: "INTEGER", nullable: false),
                    steps = table.Column<int>(type: "INTEGER", nullable: false),
                    steps_done = table.Column<int>(type: "INTEGER", nullable: false),
                    plants = table.Column<int>(type: "INTEGER", nullable: false),
                    ec_low = table.Column<double>(type: "REAL", nullable: false),
                    ec = table.Column<double>(type: "REAL", nullable: false),
                    ec_high = table.Column<double>(type: "REAL", nullable: false),
                    ph_low = table.Column<double>(type: "REAL", nullable: false),
                    ph = table.Column<double>(type: "REAL", nullable: false),
                    ph_high = table.Column<double>(type: "REAL", nullable: false),
                    cost = table.Column<decimal>(type: "TEXT", nullable: false),
                    litres_left = table.Column<double>(type: "REAL", nullable: false),
                    poured_on = table.Column<DateOnly>(type: "TEXT", nullable: true),
                    poured_fact_id = table.Column<Guid>(type: "TEXT", nullable: true),
                    card = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_cans", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "facts",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    position = table.Column<long>(type: "INTEGER", nullable: false),
                    kind = table.Column<string>(type: "TEXT", nullable: false),
                    version = table.Column<int>(type: "INTEGER", nullable: false),
                    payload = table.Column<string>(type: "TEXT", nullable: false),
                    subject_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    precision = table.Column<int>(type: "INTEGER", nullable: false),
                    earliest = table.Column<string>(type: "TEXT", nullable: false),
                    latest = table.Column<string>(type: "TEXT", nullable: false),
                    zone = table.Column<string>(type: "TEXT", nullable: false),
                    recorded_microseconds = table.Column<long>(type: "INTEGER", nullable: false),
                    who = table.Column<string>(type: "TEXT", nullable: false),
                    device = table.Column<string>(type: "TEXT", nullable: false),
                    sequence = table.Column<long>(type: "INTEGER", nullable: false),
                    corrects = table.Column<Guid>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_facts", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "feedings",
                columns: table => new
                {
                    fact_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    plant_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    pot_id = table.Column<Guid>(type: "TEXT", nullable: true),
                    can_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    day = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    millilitres = table.Column<double>(type: "REAL", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_feedings", x => new { x.fact_id, x.plant_id });
                });

            migrationBuilder.CreateTable(
                name: "lots",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    product_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    grams = table.Column<double>(type: "REAL", nullable: false),
                    grams_left = table.Column<double>(type: "REAL", nullable: false),
                    weighed_at = table.Column<long>(type: "INTEGER", nullable: false),
                    bought_on = table.Column<DateOnly>(type: "TEXT", nullable: true),
                    opened_on = table.Column<DateOnly>(type: "TEXT", nullable: true),
                    best_before = table.Column<DateOnly>(type: "TEXT", nullable: true),
                    note = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_lots", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "places",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    walk_order = table.Column<int>(type: "INTEGER", nullable: false),
                    light = table.Column<string>(type: "TEXT", nullable: false),
                    warmth = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_places", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "plants",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    number = table.Column<int>(type: "INTEGER", nullable: false),
                    name_as_received = table.Column<string>(type: "TEXT", nullable: false),
                    determined_name = table.Column<string>(type: "TEXT", nullable: true),
                    determined_on = table.Column<DateOnly>(type: "TEXT", nullable: true),
                    determined_evidence = table.Column<string>(type: "TEXT", nullable: true),
                    kind = table.Column<string>(type: "TEXT", nullable: false),
                    habit = table.Column<int>(type: "INTEGER", nullable: false),
                    states = table.Column<string>(type: "TEXT", nullable: false),
                    arrived_on = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    arrived_precision = table.Column<int>(type: "INTEGER", nullable: false),
                    want_id = table.Column<Guid>(type: "TEXT", nullable: true),
                    place_id = table.Column<Guid>(type: "TEXT", nullable: true),
                    lost_on = table.Column<DateOnly>(type: "TEXT", nullable: true),
                    lost_cause = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_plants", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "pots",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    plant_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    culture = table.Column<int>(type: "INTEGER", nullable: false),
                    medium = table.Column<string>(type: "TEXT", nullable: false),
                    medium_litres = table.Column<double>(type: "REAL", nullable: false),
                    reservoir_litres = table.Column<double>(type: "REAL", nullable: false),
                    feed_millilitres = table.Column<double>(type: "REAL", nullable: false),
                    feed_every_days = table.Column<int>(type: "INTEGER", nullable: false),
                    filled_on = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    left_on = table.Column<DateOnly>(type: "TEXT", nullable: true),
                    last_fed_on = table.Column<DateOnly>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_pots", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "products",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    product = table.Column<string>(type: "TEXT", nullable: false),
                    formula = table.Column<string>(type: "TEXT", nullable: true),
                    made_of = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_products", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "readings",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    can_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    after_step = table.Column<int>(type: "INTEGER", nullable: true),
                    ec_microsiemens_per_cm = table.Column<double>(type: "REAL", nullable: true),
                    ph = table.Column<double>(type: "REAL", nullable: true),
                    temperature_celsius = table.Column<double>(type: "REAL", nullable: true),
                    note = table.Column<string>(type: "TEXT", nullable: true),
                    recorded_microseconds = table.Column<long>(type: "INTEGER", nullable: false),
                    position = table.Column<long>(type: "INTEGER", nullable: false),
                    corrected_by = table.Column<Guid>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_readings", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "vessels",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    litres = table.Column<double>(type: "REAL", nullable: false),
                    relative_volume_error = table.Column<double>(type: "REAL", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_vessels", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "wants",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    want = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_wants", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "water_reports",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    water_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    sampled_on = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    position = table.Column<long>(type: "INTEGER", nullable: false),
                    values = table.Column<string>(type: "TEXT", nullable: false),
                    origin = table.Column<int>(type: "INTEGER", nullable: false),
                    temperature_celsius = table.Column<double>(type: "REAL", nullable: false),
                    from = table.Column<string>(type: "TEXT", nullable: true),
                    source = table.Column<string>(type: "TEXT", nullable: false),
                    ph = table.Column<double>(type: "REAL", nullable: true),
                    ec_microsiemens_per_cm = table.Column<double>(type: "REAL", nullable: true),
                    alkalinity_meq_per_litre = table.Column<double>(type: "REAL", nullable: true),
                    charge_imbalance_percent = table.Column<double>(type: "REAL", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_water_reports", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "waters",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    available_litres = table.Column<double>(type: "REAL", nullable: true),
                    price_per_litre = table.Column<decimal>(type: "TEXT", nullable: false)
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
            migrationBuilder.Sql("CREATE TRIGGER facts_are_not_changed BEFORE UPDATE ON facts BEGIN SELECT RAISE(ABORT, 'a fact is never changed: add one that corrects it'); END;");
            migrationBuilder.Sql("CREATE TRIGGER facts_are_not_removed BEFORE DELETE ON facts BEGIN SELECT RAISE(ABORT, 'a fact is never removed: add one that corrects it'); END;");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
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
