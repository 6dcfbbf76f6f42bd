using Rootwater.Growing.Evidence;
using Rootwater.Growing.Evidence.Causes;

namespace Rootwater.Growing.Tests.Evidence.Causes;

/// <summary>Text-book cases of the published symptom and mobility tables (sources per row in data/growing/cause-likelihoods.csv), and their look-alikes.</summary>
public sealed class CauseSheetTests
{
    [Theory]
    // Symptoms as printed; the source of each stands in the table.
    [InlineData("ageing", "leaf-age=oldest pattern=even-yellow speed=weeks roots=firm turgor=firm")]
    [InlineData("nitrogen-short", "leaf-age=old pattern=pale speed=months roots=firm")] // Wang & Chang 2017
    [InlineData("potassium-short", "leaf-age=old pattern=margin-tip phase=spiking roots=firm")] // Wang 2007
    [InlineData("potassium-short", "leaf-age=old pattern=purple-spots phase=spiking")] // Wang 2007
    [InlineData("magnesium-short", "leaf-age=old pattern=between-veins speed=months")]
    [InlineData("phosphorus-short", "leaf-age=old pattern=dark-purple speed=months")]
    [InlineData("calcium-short", "organ=new-growth leaf-age=newest pattern=black-tip roots=dead-tips")]
    [InlineData("iron-short", "leaf-age=newest pattern=between-veins root-ph=high")]
    [InlineData("boron-short", "organ=new-growth leaf-age=newest pattern=deformed")]
    [InlineData("sulfur-short", "leaf-age=newest pattern=pale speed=months")] // CIMMYT: young leaves where nitrogen is ample
    [InlineData("salt", "leaf-age=all pattern=dry-tips roots=dead-tips reservoir-ec=far-above crust=yes")]
    [InlineData("root-loss", "pattern=limp-pleated turgor=limp roots=mostly-dead reservoir-ec=as-feed")]
    [InlineData("thirst", "pattern=limp-pleated turgor=limp roots=firm event=drought")]
    [InlineData("cold", "pattern=pitted-patch exposed=yes speed=days event=cold")]
    [InlineData("sunburn", "pattern=bleached-patch exposed=yes speed=days event=sun")]
    [InlineData("bacterial-rot", "pattern=water-soaked smell=foul speed=days")] // after Baker and Burnett
    [InlineData("black-rot", "organ=stem pattern=black-spreading speed=days smell=none")] // Cating et al. 2010
    [InlineData("fusarium", "pattern=even-yellow speed=months turgor=limp cut-ring=purple-ring")]
    [InlineData("virus", "leaf-age=newest pattern=streaks exposed=no event=none")] // PNW handbook
    [InlineData("mites", "pattern=silver-stipple pests=mites")]
    [InlineData("thrips", "pattern=silver-stipple pests=thrips")]
    [InlineData("scale", "pattern=sticky-bumps pests=scale")]
    [InlineData("mealybugs", "pattern=sticky-bumps pests=mealybugs")]
    [InlineData("bud-blast", "organ=bud phase=spiking speed=days event=fumes")]
    [InlineData("rest-shedding", "phase=resting pattern=even-yellow leaf-age=all roots=firm")]
    public void A_textbook_case_is_ranked_first(string cause, string seen)
    {
        var sheet = Make(seen);
        sheet.Causes[0].Id.ShouldBe(cause, string.Join(", ", sheet.Causes.Take(4).Select(c => FormattableString.Invariant($"{c.Id} {c.Share:0.00}"))));
        sheet.Causes[0].Share.ShouldBeGreaterThan(0.4);
        sheet.Causes[0].For.ShouldNotBeEmpty();
    }

    [Theory]
    [InlineData("nitrogen-short", "N")]
    [InlineData("phosphorus-short", "P")]
    [InlineData("potassium-short", "K")]
    [InlineData("magnesium-short", "Mg")]
    public void A_mobile_element_shows_on_old_leaves_first(string cause, string element) => Ratio(cause, element, "old").ShouldBeGreaterThan(4 * Ratio(cause, element, "newest")); // CIMMYT; IPNI 4R manual 2012

    [Theory]
    [InlineData("calcium-short", "Ca")]
    [InlineData("boron-short", "B")]
    [InlineData("iron-short", "Fe")]
    [InlineData("manganese-short", "Mn")]
    public void An_immobile_element_shows_on_the_newest_leaf_first(string cause, string element) => Ratio(cause, element, "newest").ShouldBeGreaterThan(4 * Ratio(cause, element, "old")); // CIMMYT; IPNI 4R manual 2012

    [Theory]
    // Which of two wins, by the separating evidence that is printed beside the look-alikes.
    [InlineData("ageing", "nitrogen-short", "leaf-age=oldest pattern=even-yellow", "leaf-age=old pattern=even-yellow speed=months")]
    [InlineData("salt", "root-loss", "leaf-age=all pattern=dry-tips reservoir-ec=far-above", "leaf-age=all pattern=limp-pleated reservoir-ec=as-feed roots=mostly-dead")]
    [InlineData("cold", "sunburn", "exposed=yes speed=days pattern=pitted-patch", "exposed=yes speed=days pattern=bleached-patch")]
    [InlineData("thirst", "root-loss", "turgor=limp pattern=limp-pleated roots=firm", "turgor=limp pattern=limp-pleated roots=mostly-dead")]
    [InlineData("bacterial-rot", "black-rot", "speed=days pattern=water-soaked smell=foul", "speed=days pattern=black-spreading smell=none")]
    [InlineData("virus", "cold", "pattern=pitted-patch leaf-age=newest strip-test=positive event=none", "pattern=pitted-patch speed=days event=cold strip-test=negative")]
    [InlineData("magnesium-short", "iron-short", "pattern=between-veins leaf-age=old", "pattern=between-veins leaf-age=newest")]
    [InlineData("fusarium", "root-loss", "turgor=limp roots=mostly-dead cut-ring=purple-ring", "turgor=limp roots=mostly-dead cut-ring=not-seen")]
    [InlineData("calcium-short", "salt", "leaf-age=newest pattern=black-tip", "leaf-age=all pattern=dry-tips")]
    public void Look_alikes_are_told_apart(string first, string second, string seenOfFirst, string seenOfSecond)
    {
        Share(seenOfFirst, first).ShouldBeGreaterThan(2 * Share(seenOfFirst, second));
        Share(seenOfSecond, second).ShouldBeGreaterThan(2 * Share(seenOfSecond, first));
    }

    [Fact]
    public void The_ledger_tells_an_old_leaf_that_was_due_from_one_that_was_starved()
    {
        const string seen = "leaf-age=oldest pattern=even-yellow";
        var due = CauseSheet.Make(new CauseRecords { LeafAgeDays = 3.1 * 365.25, SisterLosses = [2.6 * 365.25, 3.4 * 365.25], Supply = new Dictionary<string, double> { ["N"] = 1, ["K"] = 1 } }, Seen(seen));
        due.Causes[0].Id.ShouldBe("ageing");
        due.Causes[0].For.Select(reason => reason.Words).ShouldContain("3.1 years old; sisters were lost at 2.6 to 3.4");
        var starved = CauseSheet.Make(new CauseRecords { LeafAgeDays = 0.9 * 365.25, SisterLosses = [2.6 * 365.25, 3.4 * 365.25], LostLastYear = 4, NewLastYear = 1, Supply = new Dictionary<string, double> { ["N"] = 0.1, ["K"] = 1 } }, Seen("leaf-age=old pattern=even-yellow"));
        starved.Causes[0].Id.ShouldBe("nitrogen-short");
        starved.Causes[0].For.Select(reason => reason.Words).ShouldContain("10 % of the N it wants was given over the last 12 weeks");
        starved.Causes.Single(cause => cause.Id == "ageing").Against.ShouldNotBeEmpty();
    }

    [Theory]
    // Where an element gathers, from memory; the shares are judgement.
    [InlineData("sodium-excess", "Na", "leaf-age=old pattern=dry-tips")]
    [InlineData("chloride-excess", "Cl", "leaf-age=old pattern=dry-tips")]
    [InlineData("boron-excess", "B", "leaf-age=old pattern=dry-tips")]
    [InlineData("manganese-excess", "Mn", "leaf-age=old pattern=purple-spots root-ph=low phase=growing")]
    public void An_element_above_its_ceiling_is_suspected_and_one_far_below_is_not(string cause, string element, string seen)
    {
        double Share(double ofCeiling) => CauseSheet.Make(new CauseRecords { OfCeiling = new Dictionary<string, double> { [element] = ofCeiling } }, Seen(seen)).Causes.Single(each => each.Id == cause).Share;
        Share(1.8).ShouldBeGreaterThan(8 * Share(0.2));
        var high = CauseSheet.Make(new CauseRecords { OfCeiling = new Dictionary<string, double> { [element] = 1.8 } }, Seen(seen)).Causes;
        high.Take(3).Select(each => each.Id).ShouldContain(cause);
        high.Single(each => each.Id == cause).For.ShouldContain(reason => reason.Basis == "judgement" && reason.Words.StartsWith(element, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("phosphorus-excess", "P")]
    [InlineData("potassium-excess", "K")]
    [InlineData("calcium-excess", "Ca")]
    [InlineData("magnesium-excess", "Mg")]
    [InlineData("sulfur-excess", "S")]
    [InlineData("iron-excess", "Fe")]
    [InlineData("zinc-excess", "Zn")]
    [InlineData("copper-excess", "Cu")]
    [InlineData("molybdenum-excess", "Mo")]
    public void Four_times_its_want_speaks_for_too_much_of_an_element_and_its_want_against(string cause, string element)
    {
        double Share(double ofWant) => CauseSheet.Make(new CauseRecords { Supply = new Dictionary<string, double> { [element] = ofWant } }, Seen("speed=months")).Causes.Single(each => each.Id == cause).Share;
        Share(4).ShouldBeGreaterThan(8 * Share(1));
    }

    [Fact]
    public void Every_nutrient_is_there_short_and_in_excess_with_its_mobility()
    {
        foreach (var element in new[] { "nitrogen", "phosphorus", "potassium", "calcium", "magnesium", "sulfur", "iron", "manganese", "zinc", "copper", "boron", "molybdenum" })
        {
            CauseTables.Facts[element + "-short"].Mobility.ShouldBeOneOf("mobile", "variable", "immobile");
            CauseTables.Facts.ContainsKey(element + "-excess").ShouldBeTrue(element);
        }
    }

    [Fact]
    public void A_forecast_pH_is_no_answer_to_what_the_pen_shows()
    {
        var records = new CauseRecords { RootPH = 7.4, RootPHWindow = (5.5, 6.5) };
        CauseSheet.Make(records, Seen("leaf-age=newest")).NextChecks.ShouldNotContain(check => check.Clue.Id == "root-ph");
        CauseSheet.Make(records with { RootPHIsForecast = true }, Seen("leaf-age=newest")).NextChecks.ShouldContain(check => check.Clue.Id == "root-ph");
    }

    [Fact]
    public void A_leaf_that_was_there_on_arrival_is_not_young_because_it_came_lately()
    {
        var records = new CauseRecords { LeafAgeDays = 100, SisterLosses = [900, 1100] };
        CauseSheet.Make(records, Seen("pattern=even-yellow")).Causes.Single(cause => cause.Id == "ageing").Against.ShouldContain(reason => reason.Words.Contains("years old", StringComparison.Ordinal));
        CauseSheet.Make(records with { LeafAgeIsLeast = true }, Seen("pattern=even-yellow")).Causes.Single(cause => cause.Id == "ageing").Against.ShouldNotContain(reason => reason.Words.Contains("years old", StringComparison.Ordinal));
        CauseSheet.Make(records with { LeafAgeIsLeast = true, LeafAgeDays = 1000 }, Seen("pattern=even-yellow")).Causes[0].For.ShouldContain(reason => reason.Words.StartsWith("at least 2.7 years old", StringComparison.Ordinal));
    }

    [Fact]
    public void What_stands_in_the_ledger_is_not_asked_again_and_a_look_goes_before_it()
    {
        var records = new CauseRecords { Looked = new Dictionary<string, string> { ["pattern"] = "even-yellow" }, VirusPositive = true };
        var sheet = CauseSheet.Make(records, Seen("leaf-age=oldest"));
        sheet.FromLedger.ShouldBe(new Dictionary<string, string> { ["strip-test"] = "positive", ["pattern"] = "even-yellow" }, ignoreOrder: true);
        sheet.NextChecks.ShouldNotContain(check => check.Clue.Id == "pattern");
        CauseSheet.Make(records, Seen("leaf-age=newest pattern=streaks")).FromLedger.ShouldNotContainKey("pattern");
        CauseSheet.Make(records, Seen("leaf-age=newest pattern=streaks")).Causes[0].Id.ShouldBe("virus");
    }

    [Fact]
    public void Rest_is_known_by_kind()
    {
        const string seen = "pattern=even-yellow leaf-age=all phase=resting";
        CauseSheet.Make(new CauseRecords { ShedsForRest = true }, Seen(seen)).Causes[0].Id.ShouldBe("rest-shedding");
        CauseSheet.Make(new CauseRecords { ShedsForRest = false }, Seen(seen)).Causes.Single(cause => cause.Id == "rest-shedding").Share.ShouldBeLessThan(0.1);
    }

    [Fact]
    public void The_next_check_tells_most_for_least()
    {
        var sheet = Make("leaf-age=all turgor=limp pattern=limp-pleated");
        sheet.NextChecks.Select(check => check.BitsPerMinute).ShouldBe(sheet.NextChecks.Select(check => check.BitsPerMinute).OrderDescending());
        sheet.NextChecks.ShouldNotContain(check => check.Clue.Id == "turgor", "it was looked at");
        // Whether it stood dry and what the roots are like tell root loss from thirst; the first costs less to find out than unpotting.
        sheet.NextChecks.OrderByDescending(check => check.Bits).Take(2).Select(check => check.Clue.Id).ShouldBe(["event", "roots"], ignoreOrder: true);
        sheet.NextChecks[0].Clue.Id.ShouldBe("event");
        sheet.NextChecks.TakeWhile(check => check.Clue.Id != "roots").Count().ShouldBeGreaterThan(1);
    }

    [Fact]
    public void Quarantine_is_proposed_when_something_contagious_is_plausible_and_not_else()
    {
        Make("pattern=streaks leaf-age=newest").Quarantine.ShouldNotBeNull().ShouldContain("virus");
        Make("pattern=streaks leaf-age=newest").Clinic.ShouldNotBeNull().ShouldContain("not told by eye");
        Make("leaf-age=oldest pattern=even-yellow roots=firm").Quarantine.ShouldBeNull();
    }

    [Fact]
    public void Nothing_looked_at_says_so_and_asks()
    {
        var sheet = CauseSheet.Make(new CauseRecords(), new Dictionary<string, string>());
        sheet.Words[0].ShouldContain("Nothing was looked at yet");
        sheet.Causes.Sum(cause => cause.Share).ShouldBe(1, 1e-9);
        sheet.Caution.ShouldContain("does not diagnose");
    }

    [Fact]
    public void An_unknown_clue_or_value_is_named()
    {
        Should.Throw<EvidenceInputException>(() => Make("colour=red")).Field.ShouldBe("clue");
        Should.Throw<EvidenceInputException>(() => Make("speed=slow")).Field.ShouldBe("speed");
    }

    [Fact]
    public void Every_cause_in_the_table_has_a_class_and_every_row_names_what_there_is()
    {
        CauseSheet.Causes.Select(cause => cause.Id).Order().ShouldBe(CauseTables.Facts.Keys.Order());
        foreach (var cause in CauseSheet.Causes)
        {
            foreach (var clue in CauseTables.Clues)
            {
                clue.Values.Sum(value => value.Background).ShouldBe(1, 1e-9, clue.Id);
                clue.Values.Sum(value => cause.Likelihood(clue.Id, value.Id)).ShouldBe(1, 1e-9, $"{cause.Id} {clue.Id}");
            }
        }
    }

    private static CauseSheetResult Make(string seen) => CauseSheet.Make(new CauseRecords(), Seen(seen));

    private static double Share(string seen, string cause) => Make(seen).Causes.Single(each => each.Id == cause).Share;

    private static double Ratio(string cause, string element, string age) =>
        CauseSheet.Make(new CauseRecords { Supply = new Dictionary<string, double> { [element] = 0.2 } }, Seen("leaf-age=" + age)).Causes.Single(each => each.Id == cause).Share;

    private static Dictionary<string, string> Seen(string text) => text.Split(' ').Select(part => part.Split('=')).ToDictionary(part => part[0], part => part[1]);
}
