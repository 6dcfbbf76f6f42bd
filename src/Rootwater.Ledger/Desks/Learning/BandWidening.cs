using Rootwater.Growing;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Ledger.Desks;

/// <summary>How much wider the bench's own held-back visits show that bands must be: a pot is richer than the model that is fitted to it.</summary>
/// <remarks>
/// Split conformal prediction (Lei, G'Sell, Rinaldo, Tibshirani, Wasserman, Distribution-free predictive inference for regression, J. Am. Stat. Assoc. 113, 2018, from memory):
/// the factor that would have put nine tenths of the held-back readings inside their bands. Never below 1; from fewer than <see cref="Least"/> readings of a kind nothing is said.
/// The water at the root has factors of its own. It is read as it drips before a leach, long after a feed, and forecast as it stands soon after one, when most of it is what the
/// reservoir was filled with too; so its factor is the (geometric) mean of what its own readings ask and what the reservoir's ask, and never below its own. Where too little was
/// read of it, it is taken to be as doubtful as the reservoir.
/// </remarks>
/// <param name="Ec">Of the reservoir, on the logarithm.</param>
/// <param name="PH">Of the reservoir.</param>
/// <param name="Level">On litres.</param>
/// <param name="RootEc">Of the water in the medium, on the logarithm.</param>
/// <param name="RootPH">Of the water in the medium.</param>
internal sealed record BandWidening(double Ec, double PH, double Level, double RootEc, double RootPH)
{
    public const int Least = 10;
    private const double Promised = 0.9;

    public static BandWidening None { get; } = new(1, 1, 1, 1, 1);

    public static BandWidening Of(IReadOnlyList<HeldReading> held)
    {
        double? For(params ReadingKind[] kinds) => Factor(held, kinds);
        var (ec, ph) = (For(ReadingKind.ReservoirEc) ?? 1, For(ReadingKind.ReservoirPH) ?? 1);
        double Root(ReadingKind kind, double reservoir) => For(kind) is not { } own ? reservoir : Math.Max(own, Math.Sqrt(own * reservoir));
        return new BandWidening(ec, ph, For(ReadingKind.ReservoirLitres, ReadingKind.MediumAlkalinity) ?? 1, Root(ReadingKind.MediumEc, ec), Root(ReadingKind.MediumPH, ph));
    }

    public Expected Widen(ReadingKind kind, Expected band)
    {
        var by = FactorOf(kind);
        if (IsEc(kind))
        {
            var middle = Math.Log(Math.Max(band.Value, 1e-6));
            return new Expected(
                Math.Exp(middle - by * (middle - Math.Log(Math.Max(band.Low, 1e-6)))), band.Value, Math.Exp(middle + by * (Math.Log(Math.Max(band.High, 1e-6)) - middle)));
        }

        var low = band.Value - by * (band.Value - band.Low);
        return new Expected(IsPH(kind) ? low : Math.Max(0, low), band.Value, band.Value + by * (band.High - band.Value));
    }

    public double FactorOf(ReadingKind kind) => kind switch
    {
        ReadingKind.ReservoirEc => Ec,
        ReadingKind.ReservoirPH => PH,
        ReadingKind.MediumEc => RootEc,
        ReadingKind.MediumPH => RootPH,
        _ => Level,
    };

    private static double? Factor(IReadOnlyList<HeldReading> held, ReadingKind[] kinds)
    {
        var ratios = held.Where(one => kinds.Contains(one.Reading.Kind)).Select(Ratio).Order().ToList();
        return ratios.Count < Least ? null : Math.Max(1, ratios[Math.Min(ratios.Count, (int)Math.Ceiling((ratios.Count + 1) * Promised)) - 1]);
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
