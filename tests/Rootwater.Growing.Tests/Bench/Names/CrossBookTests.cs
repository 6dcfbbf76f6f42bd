using Rootwater.Growing.Bench.Names;

namespace Rootwater.Growing.Tests.Bench.Names;

public sealed class CrossBookTests
{
    // Parentages as printed: Phalaenopsis Journal, fourth quarter 2013, p. 18 (Sumaspice, Pulcia); borneophals.blogspot.com, 21 December 2015 (×intermedia).
    private static readonly CrossBook s_book = new(
    [
        new("Phal. Sumaspice", "Phal. sumatrana", "Phal. tetraspis"),
        new("Phal. Pulcia", "Phal. pulchra", "Phal. lueddemanniana"),
        new("Phalaenopsis ×intermedia", "Phal. equestris", "Phal. sanderiana"),
        new("Phal. Ours", "Phal. Sumaspice", "Phal. Pulcia"),
        new("Phal. Backcross", "Phal. Ours", "Phal. sumatrana 'Big'"),
        new("Phal. Half Known", "Phal. Ours", "unknown"),
        new("Phal. Ring One", "Phal. Ring Two", "Phal. bellina"),
        new("Phal. Ring Two", "Phal. Ring One", "Phal. violacea"),
    ]);

    [Fact]
    public void Half_comes_from_each_parent_at_every_step() => s_book.Of("Phal. Backcross").Founders.ShouldBe(
    [
        ("Phalaenopsis sumatrana", 0.625), ("Phalaenopsis lueddemanniana", 0.125), ("Phalaenopsis pulchra", 0.125), ("Phalaenopsis tetraspis", 0.125),
    ]);

    [Fact]
    public void The_reciprocal_cross_has_the_same_grex()
    {
        s_book.GrexOf("Phal. tetraspis", "Phal. sumatrana").ShouldBe("Phalaenopsis Sumaspice");
        s_book.GrexOf("Phalaenopsis sumatrana 'A'", "Phal. tetraspis var. alba").ShouldBe("Phalaenopsis Sumaspice");
        s_book.GrexOf("Phal. sanderiana", "Phal. equestris").ShouldBe("Phalaenopsis ×intermedia");
        s_book.GrexOf("Phal. bellina", "Phal. tetraspis").ShouldBeNull();
    }

    // www.cymbidium.org, rules of nomenclature: crosses between two plants of one species remain that species (Paphiopedilum insigne).
    [Fact]
    public void A_species_crossed_with_itself_stays_the_species()
    {
        s_book.GrexOf("Paph. insigne 'Harefield Hall'", "Paph. insigne 'Sanderae'").ShouldBe("Paphiopedilum insigne");
        s_book.Of("Paph. insigne", "Paph. insigne 'A'", "Paph. insigne 'B'").Founders.ShouldBe([("Paphiopedilum insigne", 1.0)]);
    }

    [Fact]
    public void An_unknown_parent_is_called_so_and_comes_last() => s_book.Of("Phal. Half Known").Founders[^1].ShouldBe(("unknown", 0.5));

    [Fact]
    public void A_name_among_its_own_descendants_is_found()
    {
        var ring = s_book.Of("Phal. Ring One");

        ring.CycleAt.ShouldBe(["Phalaenopsis Ring One"]);
        ring.Founders.ShouldBe([("Phalaenopsis bellina", 0.5), ("Phalaenopsis violacea", 0.25), ("unknown", 0.25)]);
    }

    [Fact]
    public void A_plant_of_unknown_name_still_has_the_parents_it_was_given()
    {
        var tree = s_book.Of("Phalaenopsis hybrid", "Phal. Sumaspice", "Phal. bellina");

        tree.Root.SeedParent!.Name.ShouldBe("Phalaenopsis Sumaspice");
        tree.Founders.ShouldBe([("Phalaenopsis bellina", 0.5), ("Phalaenopsis sumatrana", 0.25), ("Phalaenopsis tetraspis", 0.25)]);
        s_book.Of("Phalaenopsis hybrid").Founders.ShouldBe([("unknown", 1.0)]);
    }

    [Fact]
    public void A_formula_is_a_tree_of_its_own() => s_book.Of("(Phal. amboinensis × Phal. violacea) × Phal. Sumaspice").Founders.Sum(founder => founder.Share).ShouldBe(1);
}
