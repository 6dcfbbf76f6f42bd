using Rootwater.Growing.Climate;

namespace Rootwater.Growing.Tests.Climate.References;

/// <summary>Published lux factors, and daily integrals that follow from the definition.</summary>
public sealed class LightReferences
{
    [Theory]
    // Thimijan and Heins 1983, HortScience 18:818, read in a copy of their table: 2000 µmol of sunlight are 108,000 lux.
    [InlineData("sun", 108_000, 2000, 0.5)]
    // The same table: its printed "200 µmol = 40,800 lux" is a slip for 10,800, which is what the factor gives.
    [InlineData("sun", 10_800, 200, 0.5)]
    // Sharakshane 2018 (preprint): 1000 lx are about 15 µmol; its own example of 11,000 lx at 3000 K, Ra 98 has 165 µmol.
    [InlineData("white LED", 1000, 15, 0.5)]
    [InlineData("white LED", 11_000, 165, 0.5)]
    public void A_lamps_lux_are_its_photons(string lamp, double lux, double micromoles, double tolerance) =>
        Lamp.Named(lamp)!.Ppfd(lux).ShouldBe(micromoles, tolerance);

    [Fact]
    public void Red_and_blue_lamps_have_no_factor() => Lamp.Named("red and blue LED").ShouldBeNull("a lux meter does not see most of their light");

    [Fact]
    public void Every_factor_names_its_source() => Lamp.All.ShouldAllBe(lamp => lamp.Source.Length > 10 && lamp.LuxPerMicromole > 40 && lamp.LuxPerMicromole < 100);

    [Theory]
    // From the definition: µmol m⁻² s⁻¹ times seconds.
    [InlineData(100, 12, 4.32)]
    [InlineData(150, 12, 6.48)]
    public void Steady_light_over_hours(double ppfd, double hours, double moles) => DailyLight.Steady(ppfd, hours).ShouldBe(moles, 1e-9);

    [Fact]
    public void A_half_sine_day_has_the_integral_of_its_formula()
    {
        // 400 sin(π t / 12 h) from 6 to 18 h: 400 · 2/π · 12 h = 11.0 mol. A sample every ten minutes comes within a thousandth.
        var samples = Enumerable.Range(0, 144).Select(i => i * 10).Select(minute => (minute, Math.Max(0, 400 * Math.Sin(Math.PI * (minute - 360) / 720)))).ToList();
        DailyLight.Integral(samples)!.Value.ShouldBe(400 * 2 / Math.PI * 12 * 3600 / 1e6, 0.011);
    }
}
