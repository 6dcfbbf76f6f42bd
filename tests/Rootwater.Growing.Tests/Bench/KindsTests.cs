using Rootwater.Growing.Bench;
using Rootwater.Growing.Mixing;

namespace Rootwater.Growing.Tests.Bench;

public sealed class KindsTests
{
    [Theory]
    [InlineData("soft-caned Dendrobium", "soft-caned Dendrobium")]
    [InlineData("cool Masdevallia", "Masdevallia")]
    [InlineData("Phalaenopsis species", "Phalaenopsis")]
    [InlineData("cattleya hybrid", "Cattleya")]
    [InlineData("Phalaenopsis equestris var. rosea", "Phalaenopsis")]
    [InlineData("mottled-leaved Paphiopedilum", "mottled-leaved Paphiopedilum")]
    public void A_growers_words_find_the_fullest_kind_they_hold(string words, string kind) => Kinds.Find(words).ShouldNotBeNull().Name.ShouldBe(kind);

    [Theory]
    [InlineData("Dendrobium")]
    [InlineData("fern")]
    [InlineData("")]
    public void A_genus_with_unlike_sections_is_not_guessed_at(string words) => Kinds.Find(words).ShouldBeNull();

    [Fact]
    public void Every_kind_says_where_it_is_from_and_has_wants()
    {
        foreach (var kind in Kinds.All)
        {
            kind.Source.ShouldNotBeEmpty(kind.Name);
            DefaultWants.All.ShouldContain(want => want.Kind == kind.WantKind, kind.Name);
        }
    }

    [Fact]
    public void A_deciduous_kind_rests_and_a_rest_has_signs_for_both_its_ends()
    {
        foreach (var kind in Kinds.All)
        {
            if (kind.Leaves == LeafHabit.Deciduous)
            {
                kind.Rest.ShouldNotBeNull(kind.Name);
            }

            if (kind.Rest is { } rest)
            {
                rest.State.ShouldBeOneOf(PlantState.DryRest, PlantState.CoolRest);
                rest.BeginsAt.ShouldNotBeEmpty(kind.Name);
                rest.EndsAt.ShouldNotBeEmpty(kind.Name);
                rest.FromMonth.ShouldBeInRange(1, 12);
                rest.ToMonth.ShouldBeInRange(1, 12);
            }
        }
    }

    [Fact]
    public void A_season_over_New_Year_is_winter_and_half_a_year_later_in_the_south()
    {
        var rest = Kinds.Find("deciduous Dendrobium")!.Rest!; // October to February

        rest.IsSeason(new DateOnly(2026, 1, 15)).ShouldBeTrue();
        rest.IsSeason(new DateOnly(2026, 3, 1)).ShouldBeFalse();
        rest.IsSeason(new DateOnly(2026, 9, 30)).ShouldBeFalse();
        rest.IsSeason(new DateOnly(2026, 4, 15), southOfEquator: true).ShouldBeTrue();
        rest.IsSeason(new DateOnly(2026, 8, 31), southOfEquator: true).ShouldBeTrue();
        rest.IsSeason(new DateOnly(2026, 1, 15), southOfEquator: true).ShouldBeFalse();
    }
}
