using Rootwater.Ledger.Exchange.Csv;

namespace Rootwater.Ledger.Tests.Exchange;

/// <summary>Every kind of fact is a table.</summary>
public sealed class FactSheetTests
{
    [Fact]
    public void No_table_has_two_columns_of_one_name() => FactSheet.All().Where(sheet => sheet.Columns.Distinct(StringComparer.OrdinalIgnoreCase).Count() < sheet.Columns.Count()).Select(sheet => sheet.Kind).ShouldBeEmpty();

    [Fact]
    public void A_field_made_of_several_has_a_column_for_each() =>
        FactSheet.Of("plant.potted")!.Fields.Select(field => field.Name).ShouldBe(["plantId", "pot.id", "pot.culture", "pot.medium", "pot.mediumLitres", "pot.reservoirLitres", "pot.feedMillilitres", "pot.feedEveryDays", "pot.lastFed"]);

    [Theory]
    [InlineData("pot.culture", "hanging")]
    [InlineData("pot.mediumLitres", "a lot")]
    [InlineData("plantId", "twelve")]
    [InlineData("pot.lastFed", "yesterday")]
    public void A_cell_that_cannot_be_is_named(string field, string text)
    {
        var cells = new Dictionary<string, string?>
        {
            ["plantId"] = Guid.CreateVersion7().ToString(),
            ["pot.id"] = Guid.CreateVersion7().ToString(),
            ["pot.culture"] = "Wicking",
            ["pot.medium"] = "clay",
            ["pot.mediumLitres"] = "1",
            ["pot.reservoirLitres"] = "0.3",
            ["pot.feedMillilitres"] = "200",
            ["pot.feedEveryDays"] = "7",
        };
        var refused = new List<string>();
        FactSheet.Of("plant.potted")!.Read(cells.GetValueOrDefault, (column, _, _) => refused.Add(column)).ShouldNotBeNull();
        cells[field] = text;
        FactSheet.Of("plant.potted")!.Read(cells.GetValueOrDefault, (column, _, _) => refused.Add(column)).ShouldBeNull();
        refused.ShouldBe([field]);
    }
}
