using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Growing.Tests.Pots.Calibration;

/// <summary>Readings that cannot be are caught with what was probably meant.</summary>
public sealed class ReadingEntryTests
{
    [Theory]
    [InlineData(ReadingKind.ReservoirPH, 65, "6.5 was probably meant")]
    [InlineData(ReadingKind.ReservoirPH, 655, "6.55 was probably meant")]
    [InlineData(ReadingKind.ReservoirPH, 1200, "EC in µS/cm")]
    [InlineData(ReadingKind.ReservoirEc, 0.83, "830 µS/cm, was probably meant")]
    [InlineData(ReadingKind.ReservoirEc, 83000, "stronger than any feed")]
    [InlineData(ReadingKind.ReservoirLitres, 250, "0.25 L, was probably meant")]
    [InlineData(ReadingKind.MediumAlkalinity, 100, "2 meq/L is 100 mg/L")]
    public void What_cannot_be_is_caught_with_what_was_meant(ReadingKind kind, double value, string meaning)
    {
        var problem = ReadingEntry.Check(kind, value, reservoirLitres: 0.35).ShouldHaveSingleItem();
        problem.Severity.ShouldBe(Severity.Error);
        problem.Message.ShouldContain(meaning);
    }

    [Theory]
    [InlineData(ReadingKind.ReservoirPH, 6.4)]
    [InlineData(ReadingKind.ReservoirEc, 830)]
    [InlineData(ReadingKind.ReservoirEc, 25)]
    [InlineData(ReadingKind.ReservoirLitres, 0)]
    public void What_can_be_is_taken(ReadingKind kind, double value) => ReadingEntry.Check(kind, value, 0.35).ShouldBeEmpty();

    [Fact]
    public void Meter_ppm_is_asked_back_when_the_forecast_gives_it_away()
    {
        var problem = ReadingEntry.Check(ReadingKind.ReservoirEc, 415, expected: new Expected(780, 830, 880)).ShouldHaveSingleItem();
        problem.Severity.ShouldBe(Severity.Warning);
        problem.Message.ShouldContain("830 µS/cm");
    }

    [Fact]
    public void A_record_with_such_a_reading_is_refused_by_name()
    {
        var pot = TrueBench.Draw(Media.Default, 1, 3)[0].History;
        Should.Throw<PotInputException>(() => PotCalibration.Empty.With(pot with { Readings = [new PotReading(50, ReadingKind.ReservoirPH, 65)] })).Message.ShouldContain("6.5");
    }
}
