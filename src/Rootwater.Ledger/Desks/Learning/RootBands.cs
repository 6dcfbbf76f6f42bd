using Rootwater.Growing;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Ledger.Desks;

/// <summary>
/// The bands of a fitted pot's forecast as they are shown and recorded: nine tenths of what pens will read, as wide as held-back readings show they must be. The forecaster
/// varies what the fit leaves open by one standard deviation; the scatter of readings about the fits comes to that, and then the widening.
/// </summary>
/// <param name="widening">Of the bench.</param>
/// <param name="ecError">One standard deviation of an EC reading about the fit, relative.</param>
/// <param name="phError">The same of a pH.</param>
/// <param name="levelError">The same of a level, litres.</param>
internal sealed class RootBands(BandWidening widening, double ecError, double phError, double levelError)
{
    // Standard deviations of a 90 % interval.
    private const double Interval = 1.6448536269514722;

    public Expected PH(Expected oneSd) => widening.Widen(ReadingKind.MediumPH, Ninety(oneSd, phError));

    public Expected Ec(Expected oneSd)
    {
        static Expected Each(Expected value, Func<double, double> of) => new(of(value.Low), of(value.Value), of(value.High));
        return widening.Widen(ReadingKind.MediumEc, Each(Ninety(Each(oneSd, value => Math.Log(Math.Max(value, 1e-6))), ecError), Math.Exp));
    }

    /// <summary>Litres left of what was poured; never more than there was.</summary>
    public Expected Litres(Expected oneSd, double full)
    {
        var wide = widening.Widen(ReadingKind.ReservoirLitres, Ninety(oneSd, full > 0 ? levelError : 0));
        return wide with { High = Math.Min(Math.Max(full, wide.Value), wide.High) };
    }

    private static Expected Ninety(Expected oneSd, double error)
    {
        double Half(double sd) => Interval * Math.Sqrt(sd * sd + error * error);
        return new Expected(oneSd.Value - Half(oneSd.Value - oneSd.Low), oneSd.Value, oneSd.Value + Half(oneSd.High - oneSd.Value));
    }
}
