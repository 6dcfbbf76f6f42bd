using System.Globalization;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Pots.Calibration;

/// <summary>What a pot does to the pH of a feed.</summary>
/// <param name="Poured">pH as poured.</param>
/// <param name="Days">After so many days.</param>
/// <param name="AtRoot">pH at the root then as a pen would read it there, 90 % band: the scatter of readings about the fits is in it, with what the model leaves out.</param>
/// <param name="Siblings">The same for the mean of its siblings with this pot's sizes; no reading of its own in it.</param>
/// <param name="StartAt">What to pour at so that it stands at the wanted pH then; null where none was asked for or none from 4.5 to 7.5 does it.</param>
/// <param name="NoPourDoes">None does, and the band says so too; where the band leaves it open it is not said.</param>
/// <param name="Words">In a sentence.</param>
public sealed record PotLift(double Poured, double Days, Expected AtRoot, Expected Siblings, double? StartAt, bool NoPourDoes, string Words);

/// <content>What a pot does to a feed.</content>
public sealed partial class PotCalibration
{
    private const double LowestPour = 4.5, HighestPour = 7.5;

    /// <summary>Where a feed refilled now would stand at the root after some days.</summary>
    /// <param name="pot">The record; with or without readings.</param>
    /// <param name="feedMolPerKgWater">The feed before acid or base.</param>
    /// <param name="pouredPH">Brought to this pH.</param>
    /// <param name="days">0.25 to 30.</param>
    /// <param name="wanted">pH wanted at the root then.</param>
    /// <param name="wider">Factor on the bands, 1 and up: what held-back readings show that the model leaves out.</param>
    /// <exception cref="PotInputException">The feed cannot be brought to that pH.</exception>
    public PotLift LiftOf(PotHistory pot, ComponentAmounts feedMolPerKgWater, double pouredPH = 5.8, double days = 2, double? wanted = null, double wider = 1)
    {
        PotInputException.RequireWithin("days", days, 0.25, 30, "days");
        var fit = FitOf(pot.Id);
        var state = (fit is null ? OfUnread(pot) : Of(pot.Id)).StateNow;
        var own = fit is null ? _pool.PriorOf(pot.MediumId) : BeliefNow(pot.Id);
        var siblings = PriorOf(pot);
        var atRoot = Probe(own, pouredPH);
        var among = Probe(siblings, pouredPH);
        var start = wanted is { } aim ? PourFor(aim) : null;
        var none = wanted is { } sought && start is null && (Probe(own, LowestPour).Low > sought || Probe(own, HighestPour).High < sought);
        return new PotLift(pouredPH, days, atRoot, among, start, none, Words());

        Expected Probe(Belief belief, double ph)
        {
            var probe = ProbeAt(belief.Mean, ph, slopes: true);
            var unfitted = s_unfitted.Sum(one => Math.Pow((At(one.High(pot.Parameters)) - At(one.Low(pot.Parameters))) / 2, 2));
            var sd = wider * Math.Sqrt(Spd.Quadratic(belief.Covariance, probe.Jacobian) + Math.Pow(probe.Sigma[0] * _pool.ScatterOf(pot.MediumId).PH, 2) + unfitted);
            double At(PotParameters constants) => ProbeAt(belief.Mean, ph, slopes: false, constants).Predicted[0];
            return new Expected(probe.Predicted[0] - Interval * sd, probe.Predicted[0], probe.Predicted[0] + Interval * sd);
        }

        StretchFit ProbeAt(double[] theta, double ph, bool slopes, PotParameters? constants = null)
        {
            var poured = PotInverse.AtPH(feedMolPerKgWater, ph).Poured;
            var refilled = pot with { Events = [new PotEvent(PotEventKind.Refill, 0, pot.Setup.ReservoirLitres + pot.Setup.HeldLitres, poured)], Readings = [], KnownChanges = [], Air = [], Parameters = constants ?? pot.Parameters };
            return StretchFit.Probe(new PotTrace(refilled, 0, state, days * 24, [new PotReading(days * 24, ReadingKind.MediumPH, 7)]), theta, slopes);
        }

        // The pH at the root rises with the pH poured: halve the bracket.
        double? PourFor(double aim)
        {
            var (low, high) = (LowestPour, HighestPour);
            if (ProbeAt(own.Mean, low, false).Predicted[0] > aim || ProbeAt(own.Mean, high, false).Predicted[0] < aim)
            {
                return null;
            }

            for (var i = 0; i < 8; i++)
            {
                var middle = (low + high) / 2;
                (low, high) = ProbeAt(own.Mean, middle, false).Predicted[0] < aim ? (middle, high) : (low, middle);
            }

            return (low + high) / 2;
        }

        string Words()
        {
            var verb = atRoot.Value >= pouredPH ? "lifts" : "lowers";
            var text = Say($"This pot {verb} a {pouredPH:0.0} feed to {atRoot.Value:0.0} in {days:0.#} days ({atRoot.Low:0.0} to {atRoot.High:0.0})");
            text += fit is null
                ? _pool.Media.ContainsKey(pot.MediumId) ? ", by what its siblings do: it has no reading of its own" : ", by the data sheet of its medium: nothing of the kind was read yet"
                : atRoot.Value > among.High ? Say($", more than its siblings would ({among.Value:0.0})")
                : atRoot.Value < among.Low ? Say($", less than its siblings would ({among.Value:0.0})")
                : ", like its siblings in the same medium";
            text += start is { } pour ? Say($"; start at {pour:0.0} for plants that want {wanted:0.0}.") : wanted is null ? "." : none ? Say($"; no pour from {LowestPour} to {HighestPour} brings it to {wanted:0.0} by then.")
                : Say($"; whether a pour from {LowestPour} to {HighestPour} brings it to {wanted:0.0} by then cannot be told.");
            return text;
        }
    }

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
