using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Tests.Pots;

public sealed class MediaTests
{
    [Fact]
    public void Every_medium_says_where_its_values_come_from_and_makes_sense()
    {
        Media.All.Count.ShouldBeGreaterThanOrEqualTo(4);
        foreach (var medium in Media.All)
        {
            medium.Source.ShouldContain("from memory", customMessage: medium.Id);
            medium.WaterHeldLitresPerLitre.ShouldBeInRange(0.05, 0.9, medium.Id);
            medium.RestingPH.ShouldBeInRange(3.5, 10, medium.Id);
            medium.WetSurfaceShare.ShouldBeInRange(0, 1, medium.Id);
            var cations = medium.Cations;
            (cations.Calcium + cations.Magnesium + cations.Potassium + cations.Sodium).ShouldBe(1, 1e-12, medium.Id);
        }

        Media.All.Select(medium => medium.Id).ShouldBeUnique();
    }

    [Fact]
    public void The_default_is_expanded_clay_that_rests_near_pH_8() => Media.Default.ShouldSatisfyAllConditions(
        medium => medium.Id.ShouldBe("expanded-clay"), medium => medium.RestingPH.ShouldBe(8.0));

    [Theory]
    [InlineData("expanded clay", "expanded-clay")]
    [InlineData("Bark mix", "bark-mix")]
    [InlineData("sphagnum", "sphagnum")]
    public void A_grower_s_words_find_it(string words, string id) => Media.Find(words)!.Id.ShouldBe(id);

    [Theory]
    [InlineData("pumice")]
    [InlineData("")]
    public void Unknown_words_find_none(string words) => Media.Find(words).ShouldBeNull();
}
