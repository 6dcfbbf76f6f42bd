namespace Rootwater.Growing.Evidence.Trials;

/// <summary>A plant put up for a trial.</summary>
/// <param name="Plant">Its id or tag.</param>
/// <param name="Block">Drawn within: kind, size, place. Plants of one block are shared out evenly.</param>
public sealed record TrialPlant(string Plant, string Block = "");

/// <summary>Deals plants into arms: the same seed and the same plants give the same arms, whatever order they come in.</summary>
public static class TrialDraw
{
    /// <exception cref="EvidenceInputException">Fewer than two arms, an arm or plant named twice, fewer plants than arms.</exception>
    public static IReadOnlyDictionary<string, string> Draw(IReadOnlyList<TrialPlant> plants, IReadOnlyList<string> arms, int seed)
    {
        if (arms.Count < 2 || arms.Distinct().Count() != arms.Count)
        {
            throw new EvidenceInputException("arms", string.Join(", ", arms), "two or more arms, each with its own name");
        }

        var blocks = BlocksOf(plants, arms.Count);
        var dealt = new byte[plants.Count];
        Deal(blocks, arms.Count, new Random(seed), dealt);
        return plants.Select((plant, i) => (plant.Plant, Arm: arms[dealt[i]])).ToDictionary(each => each.Plant, each => each.Arm);
    }

    /// <summary>Places in the list of the plants of each block, blocks and plants in the order of their names.</summary>
    internal static int[][] BlocksOf(IReadOnlyList<TrialPlant> plants, int arms)
    {
        if (plants.Count < arms || plants.Select(plant => plant.Plant).Distinct().Count() != plants.Count)
        {
            throw new EvidenceInputException("plants", plants.Count, "each plant once, and at least one for each arm");
        }

        return [.. plants.Select((plant, i) => (plant, i)).GroupBy(each => each.plant.Block).OrderBy(block => block.Key, StringComparer.Ordinal)
            .Select(block => block.OrderBy(each => each.plant.Plant, StringComparer.Ordinal).Select(each => each.i).ToArray())];
    }

    internal static void Deal(int[][] blocks, int arms, Random random, Span<byte> dealt)
    {
        var next = random.Next(arms);
        Span<int> shuffled = stackalloc int[dealt.Length];
        foreach (var block in blocks)
        {
            var own = shuffled[..block.Length];
            block.CopyTo(own);
            random.Shuffle(own);
            foreach (var plant in own)
            {
                // Going on where the last block ended keeps the arms within one plant of each other.
                dealt[plant] = (byte)(next++ % arms);
            }
        }
    }
}
