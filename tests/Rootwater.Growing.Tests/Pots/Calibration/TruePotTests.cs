using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Growing.Tests.Pots.Calibration;

/// <summary>The tests' own integrator and the simulator are two codes of one page: they must agree, or the fit is tested against another model.</summary>
public sealed class TruePotTests(ITestOutputHelper output)
{
    [Fact]
    public void Two_integrators_agree_within_a_fraction_of_what_pens_show()
    {
        foreach (var medium in Media.All)
        {
            var offs = new Dictionary<ReadingKind, List<double>>();
            foreach (var pot in TrueBench.Draw(medium, 12, 5, outliers: 0, noise: 0))
            {
                var readings = pot.HeldBack.Concat(pot.History.Readings).OrderBy(reading => reading.Hours).ToList();
                var probe = StretchFit.Probe(new PotTrace(pot.History, 0, pot.History.Start, readings[^1].Hours, readings), pot.Truth.Theta);
                for (var i = 0; i < readings.Count; i++)
                {
                    var errors = probe.Residual(i) / probe.Sigma[i];
                    offs.TryAdd(readings[i].Kind, []);
                    offs[readings[i].Kind].Add(errors);
                }
            }

            foreach (var (kind, errors) in offs)
            {
                output.WriteLine($"{medium.Id} {kind}: mean {errors.Average():0.00}, root mean square {Math.Sqrt(errors.Average(error => error * error)):0.00}, worst {errors.Max(Math.Abs):0.0} pen errors");
                Math.Sqrt(errors.Average(error => error * error)).ShouldBeLessThan(0.4);
            }
        }
    }
}
