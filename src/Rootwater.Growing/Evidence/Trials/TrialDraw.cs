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

        if (plants.Count < arms.Count || plants.Select(plant => plant.Plant).Distinct().Count() != plants.Count)
        {
            throw new EvidenceInputException("plants", plants.Count, "each plant once, and at least one for each arm");
        }

        var random = new Random(seed);
        var dealt = new Dictionary<string, string>();
        var next = random.Next(arms.Count);
        foreach (var block in plants.GroupBy(plant => plant.Block).OrderBy(block => block.Key, StringComparer.Ordinal))
        {
            var shuffled = block.Select(plant => plant.Plant).Order(StringComparer.Ordinal).ToArray();
            random.Shuffle(shuffled);
            foreach (var plant in shuffled)
            {
                // Going on where the last block ended keeps the arms within one plant of each other.
                dealt[plant] = arms[next++ % arms.Count];
            }
        }

        return dealt;
    }
}
