using Rootwater.Growing;
using Rootwater.Growing.Pots.Calibration;
using Rootwater.Ledger.Desks;

namespace Rootwater.Ledger.Tests.Desks;

public sealed class BandWideningTests
{
    [Fact]
    public void Bands_that_held_back_readings_show_too_narrow_are_widened_until_nine_tenths_are_inside()
    {
        // Ten readings 0.1 to 1.0 pH above the middle of a band of ± 0.2.
        var held = Enumerable.Range(1, 20).Select(i => new HeldReading(Guid.NewGuid(), new PotReading(i, ReadingKind.ReservoirPH, 6 + 0.05 * i), new Expected(5.8, 6, 6.2))).ToList();

        var widening = BandWidening.Of(held);

        widening.PH.ShouldBe(0.95 / 0.2, 1e-9);
        widening.Ec.ShouldBe(1);
        held.Count(one => one.Reading.Value <= widening.Widen(ReadingKind.ReservoirPH, one.Band).High + 1e-9).ShouldBe(19);
    }

    [Fact]
    public void Too_few_readings_widen_nothing_and_good_bands_are_not_narrowed()
    {
        BandWidening.Of([.. Enumerable.Range(1, 9).Select(i => new HeldReading(Guid.NewGuid(), new PotReading(i, ReadingKind.ReservoirPH, 9), new Expected(5.8, 6, 6.2)))]).ShouldBe(BandWidening.None);
        BandWidening.Of([.. Enumerable.Range(1, 30).Select(i => new HeldReading(Guid.NewGuid(), new PotReading(i, ReadingKind.ReservoirEc, 500), new Expected(400, 500, 600)))]).ShouldBe(BandWidening.None);
    }
}
