using CsCheck;

namespace Rootwater.Growing.Tests;

/// <summary>Draws that are the same on every run: for how good a search is, which is a measurement and not a law.</summary>
internal static class FixedDraws
{
    public static IReadOnlyList<T> Of<T>(Gen<T> gen, int count, ulong seed)
    {
        var random = new PCG(1, seed);
        return [.. Enumerable.Range(0, count).Select(_ => gen.Generate(random, null, out var _))];
    }
}
