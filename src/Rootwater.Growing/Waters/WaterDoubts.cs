using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Waters;

/// <summary>Turns draws of a water into a few independent moves with the same spread of every ion.</summary>
/// <remarks>
/// Pivoted Cholesky of the draws' covariance, the largest relative doubt first. Each move is a sum of differences between neutral waters, so it is neutral
/// itself. It stops when no ion has more than a twentieth of its variance left; what is left is made up by one factor, so that no ion's spread is understated.
/// </remarks>
internal static class WaterDoubts
{
    private const double VarianceLeft = 0.05;

    // Below this an ion's spread is beneath every report's last digit, mol/kg.
    private const double Smallest = 1e-7;

    public static IReadOnlyList<ComponentAmounts> Of(ComponentAmounts best, IReadOnlyList<ComponentAmounts> draws)
    {
        var n = ComponentAmounts.Count;
        var covariance = new double[n, n];
        if (draws.Count < 2)
        {
            return [];
        }

        // About the best value, not the mean: where the two differ, that is doubt too.
        foreach (var draw in draws)
        {
            var off = draw.PlusScaled(best, -1);
            for (var i = 0; i < n; i++)
            {
                for (var j = 0; j < n; j++)
                {
                    covariance[i, j] += off.AsSpan()[i] * off.AsSpan()[j] / draws.Count;
                }
            }
        }

        var whole = Enumerable.Range(0, n).Select(i => covariance[i, i]).ToArray();
        // Hydrogen follows from the rest; it is never what is in doubt.
        var ions = Enumerable.Range(0, n).Where(i => (Component)i != Component.Hydrogen && whole[i] > Smallest * Smallest).ToList();
        var moves = new List<ComponentAmounts>();
        while (moves.Count < ions.Count && ions.MaxBy(i => covariance[i, i] / whole[i]) is var pivot && covariance[pivot, pivot] > VarianceLeft * whole[pivot])
        {
            var root = Math.Sqrt(covariance[pivot, pivot]);
            var move = new double[n];
            for (var i = 0; i < n; i++)
            {
                move[i] = covariance[i, pivot] / root;
            }

            for (var i = 0; i < n; i++)
            {
                for (var j = 0; j < n; j++)
                {
                    covariance[i, j] -= move[i] * move[j];
                }
            }

            moves.Add(ComponentAmounts.FromSpan(move));
        }

        var factor = ions.Count == 0 ? 1 : Math.Sqrt(ions.Max(i => whole[i] / (whole[i] - Math.Max(0, covariance[i, i]))));
        return [.. moves.Select(move => move.Scaled(factor))];
    }
}
