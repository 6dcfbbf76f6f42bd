using CsCheck;
using Rootwater.Growing.Bench.Names;

namespace Rootwater.Growing.Tests.Laws;

public sealed class AncestryLaws
{
    // Crosses drawn at random among twelve greges and eight species: rings, selfings and unknown parents among them.
    private static readonly string[] s_names = [.. Enumerable.Range(0, 12).Select(i => $"Phalaenopsis Alpha {(char)('A' + i)}z"), .. Enumerable.Range(0, 8).Select(i => $"Phalaenopsis {(char)('a' + i)}lba"), "unknown", "Phalaenopsis hybrid"];

    private static readonly Gen<Cross[]> s_crosses =
        Gen.Select(Gen.Int[0, 11], Gen.Int[0, s_names.Length - 1], Gen.Int[0, s_names.Length - 1]).Select((name, seed, pollen) => new Cross(s_names[name], s_names[seed], s_names[pollen])).Array[0, 14];

    [Fact]
    public void Shares_of_the_founders_sum_to_one() => s_crosses.Sample(crosses =>
    {
        var book = new CrossBook(crosses);
        foreach (var name in s_names.Take(12))
        {
            // Powers of two: exact.
            book.Of(name).Founders.Sum(founder => founder.Share).ShouldBe(1.0);
        }
    }, iter: 200);

    [Fact]
    public void Every_ancestor_has_half_the_share_of_its_child() => s_crosses.Sample(crosses => Check(new CrossBook(crosses).Of(s_names[0]).Root), iter: 200);

    [Fact]
    public void Turning_every_cross_round_moves_no_share() => s_crosses.Sample(crosses =>
    {
        var (book, turned) = (new CrossBook(crosses), new CrossBook(crosses.Select(cross => new Cross(cross.Name, cross.PollenParent, cross.SeedParent))));
        turned.Of(s_names[0]).Founders.ShouldBe(book.Of(s_names[0]).Founders);
    }, iter: 200);

    private static void Check(Ancestor at)
    {
        if (at.End == AncestorEnd.HasParents)
        {
            at.SeedParent!.Share.ShouldBe(at.Share / 2);
            at.PollenParent!.Share.ShouldBe(at.Share / 2);
            Check(at.SeedParent);
            Check(at.PollenParent);
        }
    }
}
