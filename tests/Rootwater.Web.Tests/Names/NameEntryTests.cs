using Rootwater.Web.Components;
using Rootwater.Web.Pages.Plant.Entries;

namespace Rootwater.Web.Tests.Names;

/// <summary>Names as they are entered and shown.</summary>
public sealed class NameEntryTests
{
    [Theory]
    [InlineData("Phal. equestris", "Phalaenopsis equestris")]
    [InlineData("phalaenopsis equestris", "Phalaenopsis equestris")]
    [InlineData("Phal. sumatrana x tetraspis", "Phalaenopsis sumatrana × Phalaenopsis tetraspis")]
    [InlineData("Cattleya maxima seedling", "Cattleya maxima seedling")] // something would be lost
    [InlineData("Cattleya labiata Schuller", "Cattleya labiata Schuller")] // an author or a clone: nobody knows
    [InlineData("'Red'", "'Red'")] // no name: the ledger's own check speaks
    public void A_determined_name_is_kept_as_the_codes_write_it_unless_that_loses_a_word(string typed, string kept) => PlantForms.ByTheCodes(typed).ShouldBe(kept);

    [Theory]
    [InlineData("Phalaenopsis equestris var. rosea", "Phalaenopsis|equestris|rosea")]
    [InlineData("Cattleya Quarry Dawn 'Red'", "Cattleya")]
    [InlineData("×Brassocattleya Binosa", "Brassocattleya")]
    [InlineData("Phal. equestris, near blooming size", "")]
    public void What_is_Latin_is_in_italics_and_no_letter_is_lost(string name, string italics)
    {
        var parts = PlantNameParts.Of(name);

        string.Concat(parts.Select(part => part.Text)).ShouldBe(name);
        if (italics.Length > 0)
        {
            parts.Where(part => part.Italic).Select(part => part.Text.Trim()).ShouldBe(italics.Split('|'));
        }
    }
}
