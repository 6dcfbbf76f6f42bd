namespace Rootwater.Growing.Evidence.Trials;

/// <summary>
/// A trial's draw made again many times, blocks and all: what the difference between its arms could have been. The test that a trial ends with, and that a plan is simulated with:
/// one class, so that a promised power is the power of the test.
/// </summary>
public sealed class TrialRedraws
{
    /// <summary>Draws beside the trial's own.</summary>
    public const int Usual = 9_999;

    private readonly int[][] _blocks;
    private readonly string[] _plants;
    private readonly byte[] _arms;
    private readonly int _count;

    /// <param name="plants">The trial's plants with their blocks.</param>
    /// <param name="seed">Of the trial; its redraws have seeds that follow from it.</param>
    /// <param name="count">How often it is drawn again.</param>
    /// <exception cref="EvidenceInputException">Fewer than two plants, or one named twice.</exception>
    public TrialRedraws(IReadOnlyList<TrialPlant> plants, int seed, int count = Usual)
    {
        (_plants, _blocks, _count) = ([.. plants.Select(plant => plant.Plant)], TrialDraw.BlocksOf(plants, 2), count);
        _arms = new byte[count * _plants.Length];
        for (var draw = 0; draw < count; draw++)
        {
            TrialDraw.Deal(_blocks, 2, new Random(unchecked(seed * 7919 + draw + 1)), _arms.AsSpan(draw * _plants.Length, _plants.Length));
        }
    }

    /// <summary>The plants, in the order in which values and arms are handed in.</summary>
    public IReadOnlyList<string> Plants => _plants;

    /// <summary>One more draw: arm 0 or 1 of each plant.</summary>
    public byte[] Deal(Random random)
    {
        var arms = new byte[_plants.Length];
        TrialDraw.Deal(_blocks, 2, random, arms);
        return arms;
    }

    /// <summary>Two-sided p of the difference of arm means.</summary>
    /// <param name="values">Of each plant; NaN where it has none.</param>
    /// <param name="arms">As they were dealt.</param>
    /// <returns>Null where an arm is empty or every draw gives the same difference.</returns>
    public double? P(double[] values, byte[] arms)
    {
        var seen = Difference(values, arms);
        if (double.IsNaN(seen))
        {
            return null;
        }

        var slack = Slack(seen);
        int asLarge = 1, differ = 0;
        for (var draw = 0; draw < _count; draw++)
        {
            var difference = Drawn(values, draw);
            asLarge += Math.Abs(difference) >= Math.Abs(seen) - slack ? 1 : 0;
            differ += Math.Abs(Math.Abs(difference) - Math.Abs(seen)) > slack ? 1 : 0;
        }

        return differ == 0 ? null : asLarge / (_count + 1.0);
    }

    /// <summary>Whether <see cref="P"/> is at or below a level; stops as soon as it is known.</summary>
    public bool Reaches(double[] values, byte[] arms, double level)
    {
        var seen = Difference(values, arms);
        if (double.IsNaN(seen))
        {
            return false;
        }

        var slack = Slack(seen);
        var most = (int)Math.Floor(level * (_count + 1.0) + 1e-9);
        int asLarge = 1, differ = 0;
        for (var draw = 0; draw < _count && asLarge <= most; draw++)
        {
            var difference = Drawn(values, draw);
            asLarge += Math.Abs(difference) >= Math.Abs(seen) - slack ? 1 : 0;
            differ += Math.Abs(Math.Abs(difference) - Math.Abs(seen)) > slack ? 1 : 0;
        }

        return asLarge <= most && differ > 0;
    }

    private static double Slack(double seen) => 1e-9 * (Math.Abs(seen) + 1e-9);

    // A draw that leaves an arm without a value shows no difference.
    private double Drawn(double[] values, int draw)
    {
        var difference = Difference(values, _arms.AsSpan(draw * values.Length, values.Length));
        return double.IsNaN(difference) ? 0 : difference;
    }

    private static double Difference(double[] values, ReadOnlySpan<byte> arms)
    {
        double first = 0, second = 0;
        int firsts = 0, seconds = 0;
        for (var i = 0; i < values.Length; i++)
        {
            if (double.IsNaN(values[i]))
            {
                continue;
            }

            if (arms[i] == 0)
            {
                (first, firsts) = (first + values[i], firsts + 1);
            }
            else
            {
                (second, seconds) = (second + values[i], seconds + 1);
            }
        }

        return firsts == 0 || seconds == 0 ? double.NaN : second / seconds - first / firsts;
    }
}
