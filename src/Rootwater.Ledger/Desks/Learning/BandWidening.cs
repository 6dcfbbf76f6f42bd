using Rootwater.Growing;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Ledger.Desks;

/// <summary>How much wider the bench's own held-back visits show that bands must be: a pot is richer than the model that is fitted to it.</summary>
/// <remarks>
/// Split conformal prediction (Lei, G'Sell, Rinaldo, Tibshirani, Wasserman, Distribution-free predictive inference for regression, J. Am. Stat. Assoc. 113, 2018, from memory):
/// the factor that would have put nine tenths of the held-back readings inside their bands. Never below 1; from fewer than <see cref="Least"/> readings of a kind nothing is said.
/// </remarks>
/// <param name="Ec">On the logarithm.</param>
/// <param name="PH">On pH.</param>
/// <param name="Level">On litres.</param>
internal sealed record BandWidening(double Ec, double PH, double Level)
{
    public const int Least = 10;
    private const double Promised = 0.9;

    public static BandWidening None { get; } = new(1, 1, 1);

    public static BandWidening Of(IReadOnlyList<HeldReading> held) => new(Factor(held, IsEc), Factor(held, IsPH), Factor(held, kind => !IsEc(kind) && !IsPH(kind)));

    public Expected Widen(ReadingKind kind, Expected band)
    {
        if (IsEc(kind))
        {
            var middle = Math.Log(Math.Max(band.Value, 1e-6));
            return new Expected(
                Math.Exp(middle - Ec * (middle - Math.Log(Math.Max(band.Low, 1e-6)))), band.Value, Math.Exp(middle + Ec * (Math.Log(Math.Max(band.High, 1e-6)) - middle)));
        }

        var by = IsPH(kind) ? PH : Level;
        var low = band.Value - by * (band.Value - band.Low);
        return new Expected(IsPH(kind) ? low : Math.Max(0, low), band.Value, band.Value + by * (band.High - band.Value));
    }

    private static double Factor(IReadOnlyList<HeldReading> held, Func<ReadingKind, bool> of)
    {
        var ratios = held.Where(one => of(one.Reading.Kind)).Select(Ratio).Order().ToList();
        return ratios.Count < Least ? 1 : Math.Max(1, ratios[Math.Min(ratios.Count, (int)Math.Ceiling((ratios.Count + 1) * Promised)) - 1]);
    }

    /// <summary>How far off in half bands.</summary>
    private static double Ratio(HeldReading one)
    {
        double Scale(double value) => IsEc(one.Reading.Kind) ? Math.Log(Math.Max(value, 1e-6)) : value;
        var (value, middle) = (Scale(one.Reading.Value), Scale(one.Band.Value));
        var half = value >= middle ? Scale(one.Band.High) - middle : middle - Scale(one.Band.Low);
        return half > 0 ? Math.Abs(value - middle) / half : 1;
    }

    private static bool IsEc(ReadingKind kind) => kind is ReadingKind.ReservoirEc or ReadingKind.MediumEc;

    private static bool IsPH(ReadingKind kind) => kind is ReadingKind.ReservoirPH or ReadingKind.MediumPH;
}

/// <summary>A reading that was held back, and the band of a fit that had not seen it.</summary>
internal sealed record HeldReading(Guid PotId, PotReading Reading, Expected Band);
