using Rootwater.Growing.Cupboard;

namespace Rootwater.Growing.Tests.Cupboard;

/// <summary>The usual cautions stand where they are needed.</summary>
public sealed class SafetyTextsTests
{
    private static readonly Product s_acid = ProductFactory.FromStrength("phosphoric acid 24 %", "H3PO4", 24, 1.14).Product!;
    private static readonly Product s_calciumNitrate = ProductFactory.FromFormula("calcium nitrate", "5Ca(NO3)2·NH4NO3·10H2O").Product!;
    private static readonly Product s_magnesiumSulfate = ProductFactory.FromFormula("magnesium sulfate", "MgSO4·7H2O").Product!;
    private static readonly Product s_phosphate = ProductFactory.FromFormula("monopotassium phosphate", "KH2PO4").Product!;

    [Fact]
    public void An_acid_goes_into_water_and_never_meets_bleach_even_where_it_only_irritates()
    {
        var texts = SafetyTexts.For(s_acid);
        texts.ShouldContain(text => text.Full.Contains("acid into water") && text.Full.Contains("never water into acid") && text.Full.Contains("gloves and goggles"));
        texts.ShouldContain(text => text.Full.Contains("bleach") && text.Full.Contains("chlorine gas"));
        texts[^1].ShouldBe(SafetyTexts.LabelPrevails);
    }

    [Fact]
    public void Every_hazard_has_a_text_and_ends_with_the_label()
    {
        foreach (var hazard in Enum.GetValues<Hazards>().Where(hazard => hazard != Hazards.None))
        {
            var texts = SafetyTexts.For(hazard);
            texts.Count.ShouldBeGreaterThan(1, hazard.ToString());
            texts.ShouldAllBe(text => text.Short.Length > 0 && text.Full.Length >= text.Short.Length);
            texts[^1].Full.ShouldContain("prevail");
        }

        SafetyTexts.For(Hazards.None).ShouldBeEmpty();
    }

    [Fact]
    public void Ammonium_never_meets_bleach() => SafetyTexts.For(s_calciumNitrate).ShouldContain(text => text.Full.Contains("chloramines"));

    [Fact]
    public void Calcium_never_stands_in_one_concentrate_with_sulfate_or_phosphate()
    {
        SafetyTexts.ForConcentrate([s_calciumNitrate, s_magnesiumSulfate])[0].Full.ShouldContain("Make two concentrates");
        SafetyTexts.ForConcentrate([s_calciumNitrate, s_phosphate])[0].Full.ShouldContain("Make two concentrates");
        SafetyTexts.ForConcentrate([s_magnesiumSulfate, s_phosphate]).ShouldNotContain(text => text.Key == "CalciumClash");
        ConcentrateClash.In([s_calciumNitrate, s_magnesiumSulfate]).ShouldHaveSingleItem().With.ShouldBe("sulfate");
    }
}
