using Rootwater.Growing.Mixing;
using Rootwater.Growing.Tests.Mixing;

namespace Rootwater.Growing.Tests.References;

/// <summary>
/// Hoagland and Arnon 1950, California Agricultural Experiment Station Circular 347, solution no. 1. Recipe from memory, printed element
/// profile (N 210, P 31, K 235, Ca 200, Mg 48.6, S 64 mg/L) from encyclopedia copies of it.
/// </summary>
public sealed class PublishedSolutionsTests
{
    // mmol/L 5, 5, 1, 2 of the four salts; g/L by molar mass.
    private static readonly (Growing.Cupboard.SupplyItem Salt, double GramsPerLitre)[] s_recipe =
    [
        (Kitchen.PotassiumNitrate, 0.5055), (Kitchen.CalciumNitrate, 1.1807), (Kitchen.MonopotassiumPhosphate, 0.1361), (Kitchen.MagnesiumSulfate, 0.4929),
    ];

    [Theory]
    [InlineData(0.1)]
    [InlineData(0.5)]
    public void The_four_salts_and_the_printed_profile_give_back_the_recipe_within_the_weighing_step(double scaleStepGrams)
    {
        const double litres = 10;
        var want = Kitchen.Want(limits: new HardLimits { EcMicrosiemensPerCm = 3000 }, feed: new Dictionary<Nutrient, Band>
        {
            [Nutrient.Phosphorus] = About(31),
            [Nutrient.Potassium] = About(235),
            [Nutrient.Calcium] = About(200),
            [Nutrient.Magnesium] = About(48.6),
            [Nutrient.Sulfur] = About(64),
        }) with
        { TotalNitrogenMgPerLitre = About(210), EcMicrosiemensPerCm = new(0, 2000, 4000) };
        var request = Kitchen.Request(
            [Kitchen.Group("Hoagland", want, plants: 98, millilitres: 100, pourPH: new(3.5, 5.5, 8))],
            [Kitchen.PureWater],
            [.. s_recipe.Select(each => each.Salt)],
            [new Vessel("10 L can", litres)]) with
        { Tools = new Tools { ScaleStepGrams = scaleStepGrams, ScaleErrorGrams = scaleStepGrams / 10 } };

        var can = Kitchen.Plan(request).Plan.ShouldNotBeNull().Cans.ShouldHaveSingleItem();

        can.Litres.ShouldBe(litres);
        foreach (var (salt, gramsPerLitre) in s_recipe)
        {
            var dose = can.Steps.Where(step => step.ProductId == salt.Product.Id).Sum(step => step.Amount);
            dose.ShouldBe(gramsPerLitre * litres, scaleStepGrams, salt.Product.Name);
        }
    }

    private static Band About(double mgPerLitre) => new(0.9 * mgPerLitre, mgPerLitre, 1.1 * mgPerLitre);
}
