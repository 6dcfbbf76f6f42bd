using Microsoft.Extensions.Localization;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Options;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Web.Pages.Plant.Entries;
using Rootwater.Web.Texts;

namespace Rootwater.Web.Tests.Plant;

/// <summary>Sheets become facts: each field that is filled in says one thing, pressed twice it is said once, and what is put right keeps its id.</summary>
public sealed class EntryFormTests
{
    private static readonly BenchSettings s_bench = new("The lean-to", FixtureLives.Zone, FixtureLives.Today.ToDateTime(new TimeOnly(9, 30)), new ReadersUnits(), null);
    private static readonly PlantWords s_say = new(new StringLocalizer<TermText>(new ResourceManagerStringLocalizerFactory(Options.Create(new LocalizationOptions()), NullLoggerFactory.Instance)));

    private static EntryContext Context(int number, ReadersUnits? units = null) =>
        new(FixtureLives.All.Single(life => life.Card.Number == number), units is null ? s_bench : s_bench with { Units = units }, [FixtureLives.Shelf, FixtureLives.Hanging], 37);

    [Fact]
    public void A_tapped_leaf_may_say_three_things_at_once()
    {
        var context = Context(17);
        var stem = context.Life.Growths[0];
        var form = LeafForms.Leaf(context, s_say, stem, stem.Leaves[4]);
        form.About.ShouldBe("leaf 5");
        form["sign"].Value = nameof(LeafSign.Yellowing);
        form["part"].Value = nameof(LeafPart.Tip);
        form["length"].Value = "14,5";
        form["lost"].Value = nameof(LeafLoss.Age);
        form["note"].Value = "from the tip inwards";
        var facts = form.ToFacts(context);
        facts.Select(fact => fact.Payload).ShouldBe(
        [
            new LeafMarked(FixtureLives.Id(17), stem.Leaves[4].Id, LeafSign.Yellowing, LeafPart.Tip, "from the tip inwards"),
            new LeafMeasured(FixtureLives.Id(17), stem.Leaves[4].Id, 145, null),
            new LeafLost(FixtureLives.Id(17), stem.Leaves[4].Id, LeafLoss.Age, null),
        ]);
        facts.ShouldAllBe(fact => fact.SubjectId == FixtureLives.Id(17));
        form.ToFacts(context).Select(fact => fact.Id).ShouldBe(facts.Select(fact => fact.Id), "pressed twice, it is kept once");
    }

    [Fact]
    public void An_empty_sheet_is_refused_and_every_wrong_field_is_named()
    {
        var context = Context(17);
        var form = LeafForms.Leaf(context, s_say, context.Life.Growths[0], context.Life.Growths[0].Leaves[4]);
        Should.Throw<EntryException>(() => form.ToFacts(context)).Problems.Single().Field.ShouldBe("entry");
        form["length"].Value = "long";
        form["width"].Value = "999";
        Should.Throw<EntryException>(() => form.ToFacts(context)).Problems.Select(problem => problem.Field).ShouldBe(["length", "width"]);
    }

    [Fact]
    public void A_new_spike_and_its_first_flower_are_of_one_spike()
    {
        var context = Context(14);
        var form = SpikeForms.Spike(context, s_say);
        form["length"].Value = "4";
        form["opened"].Ticked = true;
        form["flowers"].Value = "3";
        form["scent"].Value = "of rain on stone";
        var facts = form.ToFacts(context).Select(fact => fact.Payload).ToList();
        var seen = facts[0].ShouldBeOfType<SpikeSeen>();
        seen.LengthMillimetres.ShouldBe(40);
        seen.GrowthId.ShouldBe(FixtureLives.Id(1409), "the youngest growth is the likely one");
        facts[1].ShouldBe(new BloomOpened(FixtureLives.Id(14), seen.SpikeId));
        facts[2].ShouldBe(new BloomDescribed(FixtureLives.Id(14), seen.SpikeId, 3, null, null, "of rain on stone"));
    }

    [Fact]
    public void Growths_that_go_with_a_division_end_here_and_begin_there_with_their_leaves_of_unknown_age()
    {
        var context = Context(14);
        var form = PlantForms.Division(context, s_say);
        form[FixtureLives.Id(1408).ToString()].Ticked = true;
        form[FixtureLives.Id(1409).ToString()].Ticked = true;
        var facts = form.ToFacts(context);
        var arrived = facts[0].Payload.ShouldBeOfType<PlantArrived>();
        arrived.Number.ShouldBe(37);
        arrived.Provenance!.ParentPlantId.ShouldBe(FixtureLives.Id(14));
        facts.Count(fact => fact.Payload is GrowthEnded).ShouldBe(2);
        facts.Select(fact => fact.Payload).OfType<LeafSeen>().ShouldAllBe(leaf => leaf.ThereOnArrival && leaf.PlantId == arrived.PlantId);
        facts.Where(fact => fact.Payload is GrowthEnded).ShouldAllBe(fact => fact.SubjectId == FixtureLives.Id(14));
        facts.Where(fact => fact.Payload is not GrowthEnded).ShouldAllBe(fact => fact.SubjectId == arrived.PlantId);
    }

    [Fact]
    public void A_plant_does_not_leave_by_division()
    {
        var context = Context(14);
        var form = PlantForms.Division(context, s_say);
        foreach (var growth in context.Life.Growths.Where(growth => growth.Ended is null))
            form[growth.Id.ToString()].Ticked = true;
        Should.Throw<EntryException>(() => form.ToFacts(context));
    }

    [Fact]
    public void A_pot_typed_in_gallons_is_kept_in_litres()
    {
        var context = Context(17, new ReadersUnits { Volume = VolumeUnit.UsGallon });
        var form = PlantForms.Repotted(context, s_say);
        form["mediumVolume"].Value = "1";
        form["reservoir"].Value = "0,5";
        var pot = form.ToFacts(context).Single().Payload.ShouldBeOfType<PlantPotted>().Pot;
        pot.MediumLitres.ShouldBe(3.785, 0.001);
        pot.ReservoirLitres.ShouldBe(1.893, 0.001);
    }

    [Theory]
    [InlineData(WhenKnown.Day, "2026-03-14", WhenPrecision.Day)]
    [InlineData(WhenKnown.Month, "2023-02", WhenPrecision.Month)]
    [InlineData(WhenKnown.Year, "2019", WhenPrecision.Year)]
    public void Old_memories_count_as_exactly_as_they_are_known(WhenKnown known, string text, WhenPrecision precision)
    {
        var when = new WhenEntry { Known = known, Text = text }.ToWhen(s_bench.Zone, s_bench.Now);
        when.Precision.ShouldBe(precision);
        WhenEntry.From(when).Text.ShouldBe(text);
    }

    [Theory]
    [InlineData(WhenKnown.Day, "2026-03-15")]
    [InlineData(WhenKnown.Day, "14.3.2026")]
    [InlineData(WhenKnown.Month, "2026-13")]
    [InlineData(WhenKnown.Year, "26")]
    [InlineData(WhenKnown.Day, "")]
    public void What_is_to_come_or_no_date_is_refused(WhenKnown known, string text) =>
        Should.Throw<EntryException>(() => new WhenEntry { Known = known, Text = text }.ToWhen(s_bench.Zone, s_bench.Now)).Problems.Single().Field.ShouldBe("when");

    // Every kind of fact that a sheet writes comes back into its sheet and out again unchanged, as a correction.
    [Fact]
    public void What_a_sheet_wrote_comes_back_as_it_was_and_corrects()
    {
        var context = Context(17);
        var (plant, stem) = (FixtureLives.Id(17), context.Life.Growths[0]);
        var (leaf, spike) = (stem.Leaves[4].Id, stem.Spikes[3].Id);
        FactPayload[] written =
        [
            new LeafMarked(plant, leaf, LeafSign.DryTip, LeafPart.Margin, "brown"), new LeafMeasured(plant, leaf, 123, 45.5), new LeafLost(plant, leaf, LeafLoss.Rot, "soft"),
            new LeafSeen(plant, stem.Id, leaf, 5, false), new GrowthSeen(plant, stem.Id, 1, GrowthForm.Stem, true), new NewRootsSeen(plant, stem.Id, 3),
            new SpikeSeen(plant, stem.Id, spike, 40), new SpikeMeasured(plant, spike, 120, 6), new BloomOpened(plant, spike), new BloomOver(plant, spike),
            new BloomDescribed(plant, spike, 4, 28, 31, "faint"), new SpikeEnded(plant, spike, SpikeEnd.Blasted, "too dry"), new PlantNoted(plant, "The wick had slipped."),
            new PlantMoved(plant, FixtureLives.Hanging.Id), new PlantDetermined(plant, "Phalaenopsis equestris", "in flower"), new PlantParentage(plant, "Phalaenopsis equestris", "Phalaenopsis aphrodite"),
            new WrongArrival(plant, "one", "another", null), new VirusTested(plant, "CymMV", VirusTestMethod.Elisa, VirusTestResult.Unclear, null), new PlantLost(plant, "rot", "smelled"),
            new ReadingTaken { ReadingId = FixtureLives.Id(5), Of = ReadingOf.Runoff, PlantId = plant, PotId = FixtureLives.Id(170), EcMicrosiemensPerCm = 1230, PH = 6.35, TemperatureCelsius = 17.5, LevelShare = 0.5, Note = "after rain" },
        ];
        foreach (var payload in written)
        {
            var line = new FactLine { Id = Guid.CreateVersion7(), Kind = "", SubjectId = plant, Words = "", When = FactWhen.InMonth(2025, 3, FixtureLives.Zone), RecordedAt = default, Who = "", TakenBack = false, CanBeUndone = false, Payload = payload };
            var fact = Corrections.Of(line, context, s_say).ShouldNotBeNull(payload.GetType().Name).ToFacts(context).ShouldHaveSingleItem();
            fact.Payload.ShouldBe(payload);
            fact.Corrects.ShouldBe(line.Id);
            fact.When.ShouldBe(line.When);
        }
    }
}
