using System.Text.Json;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Cupboard.Entry;
using Rootwater.Growing.Tests.Mixing;

namespace Rootwater.Growing.Tests.Cupboard.Entry;

/// <summary>The way of a new product: no step before its time, none forgotten, corrections only for what was measured.</summary>
public sealed class ProductEntryTests
{
    private static readonly DateTimeOffset s_day = new(2027, 4, 1, 10, 0, 0, TimeSpan.Zero);
    private static readonly Product s_product = Kitchen.PotassiumNitrate.Product;
    private static readonly TestPlanned s_planned = new(s_day, 1, 2, Kitchen.Rain.Id, Kitchen.Rain.MolPerKgWater);

    private static ProductEntry Take(ProductEntry entry, EntryStep step)
    {
        var (next, problems) = entry.With(step);
        problems.ShouldBeEmpty();
        return next.ShouldNotBeNull();
    }

    private static ProductEntry Read(double ecFactor = 1, double phOff = 0)
    {
        var entry = Take(ProductEntry.Start(s_product), s_planned);
        return Take(entry, new TestRead(s_day.AddHours(1), entry.Test!.Ec.Value * ecFactor, entry.Test.PH.Value + phOff));
    }

    private static ProductEntry OnTrial() => Take(Take(Read(), new TestLookedAt(s_day.AddHours(26), true)), new TrialStarted(s_day.AddDays(3), [new TrialPair(Kitchen.Id(1), Kitchen.Id(2)), new TrialPair(Kitchen.Id(3), Kitchen.Id(4))], "leaves lost"));

    [Fact]
    public void The_whole_way_from_label_to_cupboard()
    {
        var entry = OnTrial();
        entry.IsProvisional.ShouldBeTrue();
        entry.Next!.NotBefore.ShouldBe(s_day.AddDays(93));
        entry = Take(entry, new TrialJudged(s_day.AddDays(100), 0, 1));
        entry = Take(entry, new Decided(s_day.AddDays(101), true, "no pair did worse"));
        entry.Stage.ShouldBe(EntryStage.Accepted);
        entry.Next.ShouldBeNull();
        entry.With(new Decided(s_day.AddDays(102), false, "changed my mind")).Entry.ShouldBeNull();
    }

    [Fact]
    public void It_is_resumed_from_its_records_also_through_JSON()
    {
        var entry = OnTrial();
        var json = JsonSerializer.Serialize(entry.Steps.Where(step => step is not TestPlanned).ToList());
        var others = JsonSerializer.Deserialize<List<EntryStep>>(json)!;
        var resumed = ProductEntry.Resume(s_product, [s_planned, .. others]);
        resumed.Stage.ShouldBe(EntryStage.OnTrial);
        resumed.Steps.Count.ShouldBe(entry.Steps.Count);
        Should.Throw<ArgumentException>(() => ProductEntry.Resume(s_product, others)).Message.ShouldContain("no test can");
    }

    [Fact]
    public void Haze_is_looked_for_after_a_day_and_not_before()
    {
        var entry = Read();
        entry.With(new TestLookedAt(s_day.AddHours(5), true)).Problems.ShouldHaveSingleItem().Message.ShouldContain("look again after 2027-04-02");
        var hazy = Take(entry, new TestLookedAt(s_day.AddHours(5), false, "milky"));
        hazy.With(new TrialStarted(s_day.AddDays(2), [new TrialPair(Kitchen.Id(1), Kitchen.Id(2)), new TrialPair(Kitchen.Id(3), Kitchen.Id(4))], "leaves")).Problems.ShouldHaveSingleItem().Message.ShouldContain("stay clear");
        hazy.Next!.What.ShouldContain("reject");
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_trial_is_not_judged_early_unless_it_harms(bool harms)
    {
        var (entry, problems) = OnTrial().With(new TrialJudged(s_day.AddDays(20), harms ? 2 : 0, 0));
        (entry is not null).ShouldBe(harms);
        problems.Count.ShouldBe(harms ? 0 : 1);
    }

    [Fact]
    public void Accepting_needs_a_judged_trial_and_rejecting_needs_only_a_reason()
    {
        Read().With(new Decided(s_day.AddDays(2), true, "looks fine")).Problems.ShouldHaveSingleItem().Message.ShouldContain("trial is judged");
        Take(Read(), new Decided(s_day.AddDays(2), false, "EC far off")).Stage.ShouldBe(EntryStage.Rejected);
    }

    [Fact]
    public void Readings_inside_their_bands_correct_nothing()
    {
        var (product, corrections) = Read(1.03, 0.1).Corrected();
        corrections.ShouldBeEmpty();
        product.MolPerKg.ShouldBe(s_product.MolPerKg);
    }

    [Fact]
    public void An_EC_outside_its_band_corrects_the_strength_and_nothing_else()
    {
        var (product, corrections) = Read(0.8).Corrected();
        corrections.ShouldHaveSingleItem().ShouldContain("of what the label says");
        var factor = product.MgPerKg[Nutrient.Potassium] / s_product.MgPerKg[Nutrient.Potassium];
        factor.ShouldBeInRange(0.76, 0.82);
        (product.MgPerKg[Nutrient.NitrateNitrogen] / s_product.MgPerKg[Nutrient.NitrateNitrogen]).ShouldBe(factor, 1e-9);
    }

    [Fact]
    public void A_pH_outside_its_band_is_explained_by_acid_and_the_test_then_agrees()
    {
        var entry = Read(phOff: -1.2);
        var (product, corrections) = entry.Corrected();
        corrections.ShouldHaveSingleItem().ShouldContain("more acid");
        var again = Take(ProductEntry.Start(product), s_planned);
        again.Test!.PH.Value.ShouldBe(entry.Test!.MeasuredPH!.Value, 0.05);
    }

    [Theory]
    [InlineData(0.83, 6.0, "830 µS/cm, was probably meant")]
    [InlineData(830, 65, "6.5 was probably meant")]
    public void Readings_that_cannot_be_are_caught(double ec, double ph, string meant)
    {
        var entry = Take(ProductEntry.Start(s_product), s_planned);
        entry.With(new TestRead(s_day.AddHours(1), ec, ph)).Problems.ShouldHaveSingleItem().Message.ShouldContain(meant);
    }

    [Fact]
    public void A_changed_label_of_a_known_product_is_noticed()
    {
        var known = s_product with { Name = "Base feed" };
        var same = known with { Id = Kitchen.Id(990), Name = "base  feed" };
        LabelChange.KnownAs(same, [known]).ShouldBe(known);
        LabelChange.Between(known, same).ShouldBeEmpty();
        var changed = same with { MolPerKg = known.MolPerKg.PlusScaled(Kitchen.MagnesiumSulfate.Product.MolPerKg, 0.2) };
        var differences = LabelChange.Between(known, changed);
        differences.Select(each => each.Nutrient).ShouldBe([Nutrient.Magnesium, Nutrient.Sulfur], ignoreOrder: true);
        LabelChange.Words(known, differences).ShouldContain("has changed: ");
        LabelChange.KnownAs(same with { Name = "other feed" }, [known]).ShouldBeNull();
    }
}
