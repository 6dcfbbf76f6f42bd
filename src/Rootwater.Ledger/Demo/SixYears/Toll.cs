namespace Rootwater.Ledger.Demo.SixYears;

/// <summary>Losses while an effect was at work, and the sum of hazards over the same leaf-days with the effect and without.</summary>
internal sealed class Toll
{
    private readonly Dictionary<string, (int Lost, double With, double Without)> _of = [];

    public (int Lost, double With, double Without) Of(string effect) => _of.GetValueOrDefault(effect);

    public void Count(string effect, double logRatio, double hazard, bool lost)
    {
        if (logRatio != 0)
        {
            var (before, with, without) = Of(effect);
            _of[effect] = (before + (lost ? 1 : 0), with + hazard, without + hazard / Math.Exp(logRatio));
        }
    }
}
