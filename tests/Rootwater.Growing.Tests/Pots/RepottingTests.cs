using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Tests.Pots;

/// <summary>Due by age or by spent base; done when new roots show. The years a medium lasts are common practice, no source.</summary>
public sealed class RepottingTests
{
    private static readonly DateOnly s_today = new(2027, 4, 1);

    private static RepottingCandidate Pot(string medium = "bark-mix", double? years = null, Expected? left = null, bool roots = true, bool flower = false) => new()
    {
        Setup = Samples.WickingClay with { Medium = Media.ById(medium) },
        Name = "17",
        PottedOn = years is { } age ? s_today.AddDays(-(int)(365.25 * age)) : null,
        BaseLeft = left,
        NewRoots = roots,
        InFlower = flower,
    };

    private static RepottingAdvice Judge(RepottingCandidate pot) => Repotting.Judge([pot], s_today).Single();

    [Fact]
    public void Old_bark_is_due_when_roots_show_and_waits_without()
    {
        Judge(Pot(years: 2.2)).Now.ShouldBeTrue();
        Judge(Pot(years: 2.2, roots: false)).ShouldSatisfyAllConditions(advice => advice.Now.ShouldBeFalse(), advice => advice.Words.ShouldContain("wait for new roots"));
        Judge(Pot(years: 2.2, flower: true)).Words.ShouldContain("let it flower");
        Judge(Pot(years: 0.5)).Words.ShouldContain("not due");
    }

    [Fact]
    public void Clay_of_one_year_whose_base_is_surely_spent_is_due_and_an_open_interval_says_nothing()
    {
        Judge(Pot("expanded-clay", 1, new Expected(0.02, 0.06, 0.12))).ShouldSatisfyAllConditions(advice => advice.Now.ShouldBeTrue(), advice => advice.Words.ShouldContain("base is nearly spent"));
        Judge(Pot("expanded-clay", 1, new Expected(0, 0.3, 1))).Now.ShouldBeFalse();
    }

    [Fact]
    public void New_clay_is_soaked_until_its_salt_is_down_to_that_of_clay_in_use()
    {
        var wanted = Repotting.Wanted([Pot("expanded-clay"), Pot("expanded-clay")]).ShouldHaveSingleItem();
        wanted.Medium.Id.ShouldBe("expanded-clay-new");
        wanted.Litres.ShouldBe(2.2, 1e-9);

        // 3 meq/L falling by a quarter's rate a day: 3 e^(-0.25 n) <= 0.2 wants n = 11; nobody soaks more than a week.
        wanted.Soaks.ShouldBe(7);
    }
}
