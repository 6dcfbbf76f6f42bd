using Rootwater.Growing.Bench;

namespace Rootwater.Growing.Tests.Bench;

public sealed class VirusRulesTests
{
    private static readonly DateOnly s_day = new(2025, 1, 1);
    private static readonly Guid s_mother = Guid.NewGuid();
    private static readonly Guid s_child = Guid.NewGuid();
    private static readonly Guid s_sister = Guid.NewGuid();

    [Fact]
    public void One_negative_strip_is_no_clearance()
    {
        Alone().Standing.ShouldBe(VirusStanding.Untested);
        Alone(Test(0)).Standing.ShouldBe(VirusStanding.NegativeOnce);
        Alone(Test(0), Test(27)).Standing.ShouldBe(VirusStanding.NegativeOnce);
        Alone(Test(0), Test(28)).Standing.ShouldBe(VirusStanding.NegativeTwice);
        Alone(Test(0)).Words.ShouldBe("CymMV: negative once, which is no clearance (strip, 2025-01-01)");
    }

    [Fact]
    public void Positive_is_for_ever()
    {
        var verdict = Alone(Test(0, VirusTestResult.Positive), Test(100), Test(200), Test(300));

        verdict.Standing.ShouldBe(VirusStanding.Positive);
        verdict.Words.ShouldBe("CymMV: positive (strip, 2025-01-01)");
    }

    [Fact]
    public void An_unclear_test_is_settled_by_later_ones()
    {
        Alone(Test(0), Test(40, VirusTestResult.Unclear)).Standing.ShouldBe(VirusStanding.Doubtful);
        Alone(Test(0), Test(40, VirusTestResult.Unclear), Test(60)).Standing.ShouldBe(VirusStanding.NegativeTwice);
    }

    [Fact]
    public void The_worst_virus_decides() => Alone(Test(0), Test(40), Test(40, VirusTestResult.Positive, "ORSV")).Words.ShouldStartWith("ORSV: positive");

    [Fact]
    public void A_later_test_is_not_known_yet() => Judge(new VirusHistory(s_child, null, null, [Test(10, VirusTestResult.Positive)]), s_day.AddDays(9)).Standing.ShouldBe(VirusStanding.Untested);

    [Fact]
    public void A_division_inherits_what_was_known_when_it_was_taken()
    {
        var positive = Judge(Child(takenOn: 50), s_day.AddDays(400), Mother(Test(0, VirusTestResult.Positive)));
        positive.Standing.ShouldBe(VirusStanding.Positive);
        positive.OfPlant.ShouldBe(s_mother);
        Judge(Child(takenOn: 50), s_day.AddDays(400), Mother(Test(0), Test(30))).Standing.ShouldBe(VirusStanding.NegativeTwice);
        Judge(Child(takenOn: 20), s_day.AddDays(400), Mother(Test(0), Test(30))).Standing.ShouldBe(VirusStanding.NegativeTwice, "what is free after the parting was free at it");
        Judge(Child(takenOn: 20), s_day.AddDays(400), Mother(Test(0), Test(30, VirusTestResult.Unclear))).Standing.ShouldBe(VirusStanding.NegativeOnce, "an unclear test after the parting says nothing of it");
    }

    [Fact]
    public void A_mother_or_sister_found_infected_later_casts_doubt_until_two_tests_since()
    {
        var infected = new VirusHistory(s_sister, s_mother, s_day.AddDays(60), [Test(90, VirusTestResult.Positive)]);

        Judge(Child(takenOn: 50, Test(60), Test(100)), s_day.AddDays(400), Mother(), infected).Standing.ShouldBe(VirusStanding.Doubtful);
        Judge(Child(takenOn: 50, Test(100), Test(130)), s_day.AddDays(400), Mother(), infected).Standing.ShouldBe(VirusStanding.NegativeTwice);
        Judge(Child(takenOn: 50, Test(60), Test(100)), s_day.AddDays(89), Mother(), infected).Standing.ShouldBe(VirusStanding.NegativeOnce);
    }

    [Fact]
    public void A_circle_of_divisions_ends()
    {
        var a = new VirusHistory(s_mother, s_child, s_day, [Test(0)]);
        var b = new VirusHistory(s_child, s_mother, s_day, [Test(0)]);

        VirusRules.Judge(a, new Dictionary<Guid, VirusHistory> { [s_mother] = a, [s_child] = b }, s_day.AddDays(9)).Standing.ShouldBe(VirusStanding.NegativeOnce);
    }

    [Fact]
    public void A_plant_without_division_or_like_is_a_sole_specimen()
    {
        var (a, b, c, d, e, f, g) = (Guid.NewGuid(), Guid.NewGuid(), Guid.NewGuid(), Guid.NewGuid(), Guid.NewGuid(), Guid.NewGuid(), Guid.NewGuid());
        IReadOnlyList<Specimen> bench =
        [
            new(a, "Phal. equestris", null), new(b, "Phalaenopsis equestris", null), // two of one species
            new(c, "Phalaenopsis hybrid", null), new(d, "Phalaenopsis hybrid", null), // nobody knows which
            new(e, "Phal. Alpha 'Red'", null), new(f, "Phal. Alpha 'Blue'", null), // unlike seedlings
            new(g, "Cattleya labiata", null),
        ];

        SoleSpecimens.Find(bench).ShouldBe([c, d, e, f, g]);
        SoleSpecimens.Find([.. bench, new(Guid.NewGuid(), "Phalaenopsis hybrid", c)]).ShouldBe([d, e, f, g]);
        SoleSpecimens.Find([.. bench, new(Guid.NewGuid(), "Cattleya labiata", null, VirusStanding.Positive)]).ShouldContain(g, "an infected plant is no backup");
        var gone = Guid.NewGuid();
        SoleSpecimens.Find([new(a, "unknown", gone), new(b, "unknown", gone)]).ShouldBeEmpty("two divisions of a mother that is gone");
    }

    private static VirusVerdict Alone(params VirusTest[] tests) => Judge(new VirusHistory(s_child, null, null, tests), s_day.AddDays(1000));

    private static VirusVerdict Judge(VirusHistory plant, DateOnly asOf, params VirusHistory[] kin) =>
        VirusRules.Judge(plant, kin.Append(plant).ToDictionary(history => history.PlantId), asOf);

    private static VirusHistory Mother(params VirusTest[] tests) => new(s_mother, null, null, tests);

    private static VirusHistory Child(int takenOn, params VirusTest[] tests) => new(s_child, s_mother, s_day.AddDays(takenOn), tests);

    private static VirusTest Test(int day, VirusTestResult result = VirusTestResult.Negative, string virus = "CymMV") => new(DaySpan.On(s_day.AddDays(day)), virus, VirusTestMethod.Strip, result, null);
}
