using Rootwater.Growing.Labels;

namespace Rootwater.Growing.Tests.Labels;

/// <summary>More invented labels, one line each, and what is to be read from them.</summary>
public sealed class LabelTextLayoutTests
{
    [Theory]
    [InlineData("Guaranteed Analysis: Total Nitrogen (N)…15% (13.5% Nitrate, 1.5% Ammoniacal) Soluble Potash (K₂O)…15% Calcium (Ca)…4%", "N 15; NO3-N 13.5; NH4-N 1.5; K2O 15 soluble; Ca 4")]
    [InlineData("flüssig 7-3-6\nN 7 % (3,2 % Nitrat-N, 1,8 % Ammonium-N, 2,0 % Carbamid-N)\nP2O5 3 % wasserlöslich\nK2O 6 % wasserlöslich\n0,01 % B, 0,004 % Cu*, 0,02 % Fe*, 0,001 % Mo\n* als Chelat von EDTA\nDichte: 1,18 g/cm³",
        "N 7; NO3-N 3.2; NH4-N 1.8; NH2-N 2; P2O5 3; K2O 6 soluble; B 0.01; Cu 0.004 Edta; Fe 0.02 Edta; Mo 0.001")]
    [InlineData("Epsom salt\nMgO 16 %, SO3 32.5 %", "MgO 16; SO3 32.5")]
    [InlineData("chloride of potash 0-0-60, Cl 47 %", "N 0; P2O5 0; K2O 60; Cl 47")]
    [InlineData("Urée 46 % N", "NH2-N 46")]
    [InlineData("N\tP2O5\tK2O\tMgO\n15\t5\t20\t2", "N 15; P2O5 5; K2O 20; MgO 2")]
    [InlineData("Total N 15,0%; NO3-N 9,0%; NH4-N 6,0%; P2O5 5,0%; K2O 30,0%; Fe-EDTA 0,04%; Mn-EDTA 0,02%; B 0,01%", "N 15; NO3-N 9; NH4-N 6; P2O5 5; K2O 30; Fe 0.04 Edta; Mn 0.02 Edta; B 0.01")]
    [InlineData("Iron (Fe) 13.2 % chelated by EDTA", "Fe 13.2 Edta")]
    [InlineData("Stickstoff gesamt (N) 10%, davon Nitrat-N 6%, Ammonium-N 4% | Phosphorsäure P2O5 52% | Kali K2O 10%", "N 10; NO3-N 6; NH4-N 4; P2O5 52; K2O 10")]
    [InlineData("9 % d'azote (N) total\n4,5 % azote nitrique\n4,5 % azote ammoniacal\n27 % d'anhydride phosphorique (P2O5)\n18 % d'oxyde de potassium (K2O)", "N 9; NO3-N 4.5; NH4-N 4.5; P2O5 27; K2O 18")]
    [InlineData("orchid food. 30-10-10. Contains 30% total nitrogen (25% urea nitrogen, 2% ammoniacal nitrogen, 3% nitrate nitrogen), 10% P2O5, 10% K2O. Mix 1/2 tsp per gallon.", "N 30; NH2-N 25; NH4-N 2; NO3-N 3; P2O5 10; K2O 10")]
    [InlineData("Silicon 8 % as SiO2, potassium 5 % K2O w/w, pH 11.5", "SiO2 8; K2O 5")]
    [InlineData("Fe 6 % (of which ortho-ortho 4.8 %) chelated EDDHA", "Fe 6; Fe 4.8 Eddha")]
    [InlineData("NPK (Mg) 12-12-17 (2)", "N 12; P2O5 12; K2O 17; MgO 2")]
    [InlineData("N P K 5 - 10 - 3 plus micronutrients\nIron (EDTA) 0.02%\nManganese (EDTA) 0.01%", "N 5; P2O5 10; K2O 3; Fe 0.02 Edta; Mn 0.01 Edta")]
    public void Is_read_as(string text, string expected)
    {
        var read = LabelText.Parse(text).Label.ShouldNotBeNull().Declarations.Select(line => string.Create(System.Globalization.CultureInfo.InvariantCulture,
            $"{line.Form.Symbol()} {line.Percent}{(line.Chelator == Chelator.None ? "" : $" {line.Chelator}")}{(line.WaterSoluble ? " soluble" : "")}"));
        string.Join("; ", read).ShouldBe(expected);
    }

    [Fact]
    public void Percent_under_the_words_weight_by_volume_counts_by_volume()
    {
        var label = LabelText.Parse("Composition (w/v)\nN: 3.0%\nCa: 2.5%\nSpecific gravity 1.15").Label!;
        label.Basis.ShouldBe(LabelBasis.ByVolume);
        label.Contents().MgPerKg[Nutrient.Calcium].ShouldBe(25_000 / 1.15, 1e-6);
    }

    // A column of bare numbers that does not fit its heads is not guessed at.
    [Fact]
    public void A_column_askew_is_not_read()
    {
        var reading = LabelText.Parse("N P2O5 K2O\n15 5");
        reading.Label?.Declarations.ShouldBeEmpty();
        reading.IsUsable.ShouldBeFalse();
    }
}
