using Rootwater.Growing.Mixing.Reconciliation;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Demo.SixYears;

/// <summary>The two pens the cans are read with: they drift, and are held into their standards about every third month and set. Chances of their own, so that nothing else of the demo falls otherwise.</summary>
/// <remarks>What they truly are off by is in the readings of cans alone; the pots' readings have the plain noise of data/demo/truth.csv.</remarks>
internal sealed class DemoPens
{
    private const double DaysPerMonth = 30.44;
    private const int CheckEveryRounds = 26;

    // Drift a month: an EC pen's cell gets dirty, a pH pen's electrode ages. Invented, in the range pens are said to drift.
    private const double EcDrift = -0.003, EcDriftSpread = 0.002, PHDrift = 0.01, PHDriftSpread = 0.01;

    // Set to a standard, a pen is right as far as the standard is.
    private const double EcStandard = 0.006, PHStandard = 0.015;

    // One autumn nobody held the pH pen into anything, and the old electrode went fast.
    private const int ForgottenRound = 468, ForgottenFromRound = 442;
    private const double OldElectrodeDrift = 0.045;

    private readonly Dice _dice;
    private readonly Pen _ec, _ph;
    private double _ecShare, _phOff;
    private DateOnly _on;

    public DemoPens(Dice dice, DateTimeOffset start)
    {
        _dice = dice;
        _ec = new Pen { Id = dice.Id(start), Name = "blue EC pen", Kind = PenKind.Ec, CompensationPerCelsius = 0.02 };
        _ph = new Pen { Id = dice.Id(start), Name = "yellow pH pen", Kind = PenKind.PH };
        _on = DateOnly.FromDateTime(start.UtcDateTime);
    }

    public IReadOnlyList<PenSet> Kept => [new PenSet(_ec), new PenSet(_ph)];

    public Guid NewId(DateTimeOffset now) => _dice.Id(now);

    /// <summary>What the pens show of a can, from what faultless ones would.</summary>
    public (double Ec, double PH) Shown(double ec, double ph) => (ec * (1 + _ecShare), ph + _phOff);

    /// <summary>The days since the last walk pass; now and then the pens are held into their standards before anything is mixed.</summary>
    public IEnumerable<(Guid Id, PenCalibrated Said)> Walk(int round, DateOnly day, DateTimeOffset now)
    {
        var months = (day.DayNumber - _on.DayNumber) / DaysPerMonth;
        _on = day;
        _ecShare += (EcDrift + EcDriftSpread * _dice.Normal()) * months;
        _phOff += ((round is >= ForgottenFromRound and < ForgottenRound ? OldElectrodeDrift : PHDrift) + PHDriftSpread * _dice.Normal()) * months;
        if (round != 1 && round % CheckEveryRounds != 0)
        {
            yield break;
        }

        var celsius = Math.Round(20 + 1.5 * _dice.Normal(), 1);
        var shown = PenStandards.ShownEc(1413, celsius, _ec) * (1 + _ecShare + 0.004 * _dice.Normal());
        yield return (_dice.Id(now), new PenCalibrated(_ec.Id, [new StandardRead(1413, Math.Round(shown / 10) * 10, celsius)], true, null));
        _ecShare = EcStandard * _dice.Normal();
        if (round == ForgottenFromRound)
        {
            yield break; // the buffers were used up, and the order forgotten
        }

        double Buffer(double at25) => Math.Round(PenStandards.BufferPH(at25, celsius) + _phOff + 0.015 * _dice.Normal(), 2);
        yield return (_dice.Id(now), new PenCalibrated(_ph.Id, [new StandardRead(7.00, Buffer(7.00), celsius), new StandardRead(4.01, Buffer(4.01), celsius)], true, round == ForgottenRound ? "half a year late; new electrode" : null));
        _phOff = PHStandard * _dice.Normal();
    }
}
