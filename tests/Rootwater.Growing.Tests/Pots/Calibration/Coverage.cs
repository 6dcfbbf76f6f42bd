using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Growing.Tests.Pots.Calibration;

/// <summary>How often 90 % intervals held what they should.</summary>
internal sealed class Coverage
{
    private int _pots;

    public Dictionary<string, (int Inside, int All)> Counts { get; } = [];

    /// <summary>Mean squared errors of held-back readings in their own errors, by kind.</summary>
    public Dictionary<string, (double Sum, int All)> Squares { get; } = [];

    /// <summary>Mean error of each trait in its own standard deviations.</summary>
    public Dictionary<PotTrait, double> Biases { get; } = [];

    public double Share(string what) => Counts.TryGetValue(what, out var count) ? (double)count.Inside / count.All : double.NaN;

    public double MeanSquare(string what) => Squares[what].Sum / Squares[what].All;

    public void Count(string what, bool inside)
    {
        var (a, b) = Counts.GetValueOrDefault(what);
        Counts[what] = (a + (inside ? 1 : 0), b + 1);
    }

    public static Coverage Of(PotCalibration calibration, IReadOnlyList<KnownPot> pots)
    {
        var coverage = new Coverage();
        coverage.Add(calibration, pots);
        return coverage;
    }

    public void Add(PotCalibration calibration, IReadOnlyList<KnownPot> pots)
    {
        _pots += pots.Count;
        var coverage = this;
        foreach (var pot in pots)
        {
            var all = calibration.Forecast(pot.History, pot.HeldBack);
            for (var i = 0; i < all.Count; i++)
            {
                var (reading, band) = all[i];
                var kind = reading.Kind.ToString();
                coverage.Count(kind, reading.Value >= band.Low && reading.Value <= band.High);
                var sigma = PotReading.UsualSigma(reading.Kind, reading.Value, pot.History.Setup.ReservoirLitres);
                var (sum, n) = coverage.Squares.GetValueOrDefault(kind);
                coverage.Squares[kind] = (sum + Math.Min(100, Math.Pow((reading.Value - band.Value) / sigma, 2)), n + 1);
            }

            var belief = calibration.BeliefOf(pot.History.Id);
            var fitted = calibration.Of(pot.History.Id);
            for (var k = 0; k < PotTraits.Count; k++)
            {
                if ((PotTrait)k == PotTrait.Algae && !pot.Truth.InTheLight)
                {
                    continue;
                }

                var truth = (pot.Truth.ThetaAfter ?? pot.Truth.Theta)[k];
                var natural = (PotTrait)k == PotTrait.RestingPH ? truth : Math.Exp(truth);
                var inside = natural >= fitted.Traits[k].Value.Low && natural <= fitted.Traits[k].Value.High;
                coverage.Count("all." + (PotTrait)k, inside);
                var bias = coverage.Biases.GetValueOrDefault((PotTrait)k);
                coverage.Biases[(PotTrait)k] = bias + (belief.Mean[k] - (pot.Truth.ThetaAfter ?? pot.Truth.Theta)[k]) / belief.Sd(k);
                if (fitted.Traits[k].Known != Knowledge.Untold)
                {
                    coverage.Count("told." + (PotTrait)k, inside);
                }
            }
        }
    }

    public override string ToString() => "  bias " + string.Join(" ", Biases.Values.Select(bias => $"{bias / _pots:+0.00;-0.00}")) + "\n" + string.Join("\n", Counts.OrderBy(pair => pair.Key).Select(pair => $"  {pair.Key,-24} {(double)pair.Value.Inside / pair.Value.All:0.000} of {pair.Value.All}"))
        + "\n" + string.Join("\n", Squares.Select(pair => $"  msq {pair.Key,-20} {pair.Value.Sum / pair.Value.All:0.00}"));
}
