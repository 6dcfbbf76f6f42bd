using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Rootwater.Ledger.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class BenchAndRound : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            // Written by hand: the tables that follow from the facts are made again from them when the bench is opened next.
            foreach (var table in new[] { "bench", "can_steps", "cans", "feedings", "lots", "places", "plants", "pots", "products", "readings", "vessels", "wants", "water_reports", "waters" })
            {
                migrationBuilder.Sql($"DELETE FROM {table};");
            }

            migrationBuilder.AddColumn<DateOnly>(
                name: "last_given_on",
                table: "pots",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<DateOnly>(
                name: "last_fed_on",
                table: "plants",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<DateOnly>(
                name: "last_given_on",
                table: "plants",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "leaf_trouble",
                table: "plants",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<int>(
                name: "living_leaves",
                table: "plants",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<Guid>(
                name: "parent_plant_id",
                table: "plants",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<Guid>(
                name: "photo_id",
                table: "plants",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "quarantine",
                table: "plants",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "raised_as",
                table: "plants",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<double>(
                name: "spike_millimetres",
                table: "plants",
                type: "REAL",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "virus_tests",
                table: "plants",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AlterColumn<Guid>(
                name: "can_id",
                table: "feedings",
                type: "TEXT",
                nullable: true,
                oldClrType: typeof(Guid),
                oldType: "TEXT");

            migrationBuilder.AddColumn<Guid>(
                name: "round_id",
                table: "feedings",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<Guid>(
                name: "water_id",
                table: "feedings",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "what",
                table: "feedings",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<long>(
                name: "drawn_before_poured_microlitres",
                table: "cans",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0L);

            migrationBuilder.AddColumn<long>(
                name: "drawn_microlitres",
                table: "cans",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0L);

            migrationBuilder.AddColumn<long>(
                name: "poured_at",
                table: "cans",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<double>(
                name: "poured_litres_left",
                table: "cans",
                type: "REAL",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "base_address",
                table: "bench",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "units",
                table: "bench",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.CreateTable(
                name: "air_days",
                columns: table => new
                {
                    fact_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    place_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    day = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    from = table.Column<int>(type: "INTEGER", nullable: false),
                    samples = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_air_days", x => x.fact_id);
                });

            migrationBuilder.CreateTable(
                name: "can_contents",
                columns: table => new
                {
                    can_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    letter = table.Column<string>(type: "TEXT", nullable: false),
                    mg_per_litre = table.Column<string>(type: "TEXT", nullable: false),
                    ec_microsiemens_per_cm = table.Column<double>(type: "REAL", nullable: false),
                    ph = table.Column<double>(type: "REAL", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_can_contents", x => x.can_id);
                });

            migrationBuilder.CreateTable(
                name: "crosses",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    seed_parent = table.Column<string>(type: "TEXT", nullable: false),
                    pollen_parent = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_crosses", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "forgotten_plants",
                columns: table => new
                {
                    plant_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    number = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_forgotten_plants", x => x.plant_id);
                });

            migrationBuilder.CreateTable(
                name: "photos",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    fact_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    plant_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    taken_at = table.Column<string>(type: "TEXT", nullable: false),
                    sha256 = table.Column<string>(type: "TEXT", nullable: false),
                    width = table.Column<int>(type: "INTEGER", nullable: false),
                    height = table.Column<int>(type: "INTEGER", nullable: false),
                    bytes = table.Column<long>(type: "INTEGER", nullable: false),
                    caption = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_photos", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "plant_lives",
                columns: table => new
                {
                    plant_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    life = table.Column<string>(type: "TEXT", nullable: false),
                    words = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_plant_lives", x => x.plant_id);
                });

            migrationBuilder.CreateTable(
                name: "rounds",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    as_of = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    position = table.Column<long>(type: "INTEGER", nullable: false),
                    ended_fact_id = table.Column<Guid>(type: "TEXT", nullable: true),
                    note = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_rounds", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "skips",
                columns: table => new
                {
                    fact_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    plant_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    round_id = table.Column<Guid>(type: "TEXT", nullable: true),
                    day = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    reason = table.Column<int>(type: "INTEGER", nullable: false),
                    note = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_skips", x => x.fact_id);
                });

            migrationBuilder.CreateTable(
                name: "taken_readings",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    fact_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    of = table.Column<int>(type: "INTEGER", nullable: false),
                    from = table.Column<int>(type: "INTEGER", nullable: false),
                    at = table.Column<string>(type: "TEXT", nullable: false),
                    plant_id = table.Column<Guid>(type: "TEXT", nullable: true),
                    pot_id = table.Column<Guid>(type: "TEXT", nullable: true),
                    place_id = table.Column<Guid>(type: "TEXT", nullable: true),
                    ec_microsiemens_per_cm = table.Column<double>(type: "REAL", nullable: true),
                    ph = table.Column<double>(type: "REAL", nullable: true),
                    temperature_celsius = table.Column<double>(type: "REAL", nullable: true),
                    level_share = table.Column<double>(type: "REAL", nullable: true),
                    relative_humidity = table.Column<double>(type: "REAL", nullable: true),
                    ppfd_micromoles_per_square_metre_per_second = table.Column<double>(type: "REAL", nullable: true),
                    lux = table.Column<double>(type: "REAL", nullable: true),
                    note = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_taken_readings", x => x.id);
                });

            migrationBuilder.CreateIndex(
                name: "IX_plants_parent_plant_id",
                table: "plants",
                column: "parent_plant_id");

            migrationBuilder.CreateIndex(
                name: "IX_feedings_can_id",
                table: "feedings",
                column: "can_id");

            migrationBuilder.CreateIndex(
                name: "IX_feedings_day",
                table: "feedings",
                column: "day");

            migrationBuilder.CreateIndex(
                name: "IX_feedings_round_id",
                table: "feedings",
                column: "round_id");

            migrationBuilder.CreateIndex(
                name: "IX_facts_corrects",
                table: "facts",
                column: "corrects",
                filter: "corrects IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_air_days_day",
                table: "air_days",
                column: "day");

            migrationBuilder.CreateIndex(
                name: "IX_air_days_place_id_day",
                table: "air_days",
                columns: new[] { "place_id", "day" });

            migrationBuilder.CreateIndex(
                name: "IX_photos_fact_id",
                table: "photos",
                column: "fact_id");

            migrationBuilder.CreateIndex(
                name: "IX_photos_plant_id_taken_at",
                table: "photos",
                columns: new[] { "plant_id", "taken_at" });

            migrationBuilder.CreateIndex(
                name: "IX_photos_sha256",
                table: "photos",
                column: "sha256");

            migrationBuilder.CreateIndex(
                name: "IX_rounds_position",
                table: "rounds",
                column: "position");

            migrationBuilder.CreateIndex(
                name: "IX_skips_day",
                table: "skips",
                column: "day");

            migrationBuilder.CreateIndex(
                name: "IX_skips_plant_id_day",
                table: "skips",
                columns: new[] { "plant_id", "day" });

            migrationBuilder.CreateIndex(
                name: "IX_skips_round_id",
                table: "skips",
                column: "round_id");

            migrationBuilder.CreateIndex(
                name: "IX_taken_readings_at",
                table: "taken_readings",
                column: "at");

            migrationBuilder.CreateIndex(
                name: "IX_taken_readings_fact_id",
                table: "taken_readings",
                column: "fact_id");

            migrationBuilder.CreateIndex(
                name: "IX_taken_readings_place_id_at",
                table: "taken_readings",
                columns: new[] { "place_id", "at" });

            migrationBuilder.CreateIndex(
                name: "IX_taken_readings_plant_id_at",
                table: "taken_readings",
                columns: new[] { "plant_id", "at" });

            // Written by hand: a fact may be emptied, when its plant is forgotten, and nothing else.
            migrationBuilder.Sql("DROP TRIGGER facts_are_not_changed;");
            migrationBuilder.Sql("""
                CREATE TRIGGER facts_are_not_changed BEFORE UPDATE ON facts
                WHEN NOT (NEW.kind = 'fact.emptied' AND NEW.payload = '{}' AND NEW.id = OLD.id AND NEW.position = OLD.position AND NEW.recorded_microseconds = OLD.recorded_microseconds)
                BEGIN SELECT RAISE(ABORT, 'a fact is never changed: add one that corrects it'); END;
                """);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.Sql("DROP TRIGGER facts_are_not_changed;");
            migrationBuilder.Sql("CREATE TRIGGER facts_are_not_changed BEFORE UPDATE ON facts BEGIN SELECT RAISE(ABORT, 'a fact is never changed: add one that corrects it'); END;");

            migrationBuilder.DropTable(
                name: "air_days");

            migrationBuilder.DropTable(
                name: "can_contents");

            migrationBuilder.DropTable(
                name: "crosses");

            migrationBuilder.DropTable(
                name: "forgotten_plants");

            migrationBuilder.DropTable(
                name: "photos");

            migrationBuilder.DropTable(
                name: "plant_lives");

            migrationBuilder.DropTable(
                name: "rounds");

            migrationBuilder.DropTable(
                name: "skips");

            migrationBuilder.DropTable(
                name: "taken_readings");

            migrationBuilder.DropIndex(
                name: "IX_plants_parent_plant_id",
                table: "plants");

            migrationBuilder.DropIndex(
                name: "IX_feedings_can_id",
                table: "feedings");

            migrationBuilder.DropIndex(
                name: "IX_feedings_day",
                table: "feedings");

            migrationBuilder.DropIndex(
                name: "IX_feedings_round_id",
                table: "feedings");

            migrationBuilder.DropIndex(
                name: "IX_facts_corrects",
                table: "facts");

            migrationBuilder.DropColumn(
                name: "last_given_on",
                table: "pots");

            migrationBuilder.DropColumn(
                name: "last_fed_on",
                table: "plants");

            migrationBuilder.DropColumn(
                name: "last_given_on",
                table: "plants");

            migrationBuilder.DropColumn(
                name: "leaf_trouble",
                table: "plants");

            migrationBuilder.DropColumn(
                name: "living_leaves",
                table: "plants");

            migrationBuilder.DropColumn(
                name: "parent_plant_id",
                table: "plants");

            migrationBuilder.DropColumn(
                name: "photo_id",
                table: "plants");

            migrationBuilder.DropColumn(
                name: "quarantine",
                table: "plants");

            migrationBuilder.DropColumn(
                name: "raised_as",
                table: "plants");

            migrationBuilder.DropColumn(
                name: "spike_millimetres",
                table: "plants");

            migrationBuilder.DropColumn(
                name: "virus_tests",
                table: "plants");

            migrationBuilder.DropColumn(
                name: "round_id",
                table: "feedings");

            migrationBuilder.DropColumn(
                name: "water_id",
                table: "feedings");

            migrationBuilder.DropColumn(
                name: "what",
                table: "feedings");

            migrationBuilder.DropColumn(
                name: "drawn_before_poured_microlitres",
                table: "cans");

            migrationBuilder.DropColumn(
                name: "drawn_microlitres",
                table: "cans");

            migrationBuilder.DropColumn(
                name: "poured_at",
                table: "cans");

            migrationBuilder.DropColumn(
                name: "poured_litres_left",
                table: "cans");

            migrationBuilder.DropColumn(
                name: "base_address",
                table: "bench");

            migrationBuilder.DropColumn(
                name: "units",
                table: "bench");

            migrationBuilder.AlterColumn<Guid>(
                name: "can_id",
                table: "feedings",
                type: "TEXT",
                nullable: false,
                defaultValue: new Guid("00000000-0000-0000-0000-000000000000"),
                oldClrType: typeof(Guid),
                oldType: "TEXT",
                oldNullable: true);
        }
    }
}
