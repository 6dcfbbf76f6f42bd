using Rootwater.Growing.Climate;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Rows;

/// <summary>A day of air and light at a place.</summary>
public sealed class AirDayRow
{
    public Guid FactId { get; set; }
    public Guid PlaceId { get; set; }
    public DateOnly Day { get; set; }
    public ReadingFrom From { get; set; }
    public required IReadOnlyList<AirSample> Samples { get; set; }

    /// <summary>Minute of the day and PPFD, µmol m⁻² s⁻¹, of every sample with light; lux turned by the lamp's factor where PPFD itself was not read.</summary>
    internal IReadOnlyList<(int Minute, double Ppfd)> LightUnder(Lamp lamp) =>
        [.. Samples.Where(sample => sample.PpfdMicromolesPerSquareMetrePerSecond is not null || sample.Lux is not null)
            .Select(sample => (sample.Minute, sample.PpfdMicromolesPerSquareMetrePerSecond ?? lamp.Ppfd(sample.Lux!.Value)))];

    /// <summary>Light was read as lux alone somewhere, so that what it comes to hangs on the lamp.</summary>
    internal bool NeedsLamp => Samples.Any(sample => sample.PpfdMicromolesPerSquareMetrePerSecond is null && sample.Lux is not null);
}
