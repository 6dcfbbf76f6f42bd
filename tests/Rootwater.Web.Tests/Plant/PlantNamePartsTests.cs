using Rootwater.Web.Components;

namespace Rootwater.Web.Tests.Plant;

/// <summary>Letters of a name on a page.</summary>
public sealed class PlantNamePartsTests
{
    [Theory]
    [InlineData("Cattleya walkeriana 'Quay'", "Cattleya walkeriana")]
    [InlineData("Phalaenopsis equestris", "Phalaenopsis equestris")]
    [InlineData("unknown, from the market", "")]
    public void Genus_and_epithet_are_italic_and_nothing_is_left_out(string name, string italic)
    {
        var parts = PlantNameParts.Of(name);
        string.Concat(parts.Select(part => part.Text)).ShouldBe(name);
        string.Concat(parts.Where(part => part.Italic).Select(part => part.Text)).Trim().ShouldBe(italic);
    }
}
