using Rootwater.Growing.Bench.Names;

namespace Rootwater.Growing.Tests.Bench.Names;

public sealed class NameReaderTests
{
    [Theory]
    [InlineData("Masdevallia species", "Masdevallia sp.", NameSort.UndeterminedSpecies)]
    [InlineData("Phalaenopsis hybrid", "Phalaenopsis hybrid", NameSort.UndeterminedHybrid)]
    [InlineData("Cattleya aff. labiata", "Cattleya aff. labiata", NameSort.Species)]
    [InlineData("Cattleya cf. labiata", "Cattleya cf. labiata", NameSort.Species)]
    [InlineData("unknown", "unknown", NameSort.Unknown)]
    [InlineData("NoID", "unknown", NameSort.Unknown)]
    [InlineData("hybrid", "hybrid", NameSort.UndeterminedHybrid)]
    [InlineData("cattleya maxima", "Cattleya maxima", NameSort.Species)]
    [InlineData("PHAL. equestris", "Phalaenopsis equestris", NameSort.Species)]
    [InlineData("Phal equestris", "Phalaenopsis equestris", NameSort.Species)]
    [InlineData("Cattleya 'Red'", "Cattleya 'Red'", NameSort.Genus)]
    public void What_nobody_determined_says_so(string typed, string written, NameSort sort)
    {
        var name = NameReader.Read(typed).Name.ShouldNotBeNull();

        name.ToText().ShouldBe(written);
        name.Sort.ShouldBe(sort);
    }

    [Theory]
    [InlineData("Phal. Alpha x Phal. Beta")]
    [InlineData("Phal. Alpha X Phal. Beta")]
    [InlineData("Phal. Alpha * Phal. Beta")]
    [InlineData("Phal. Alpha × Phal. Beta")]
    [InlineData("Phal. Alpha×Phal. Beta")]
    [InlineData("Phal. Alpha x Beta")]
    public void The_sign_may_be_typed_in_four_ways(string typed) => NameReader.Read(typed).Name!.ToText().ShouldBe("Phalaenopsis Alpha × Phalaenopsis Beta");

    [Fact]
    public void Seed_and_pollen_parent_keep_their_places()
    {
        var name = NameReader.Read("(Phal. Alpha × Phal. equestris) × Phal. Beta").Name!;

        name.Parents[0].Parents.Select(parent => parent.ToText()).ShouldBe(["Phalaenopsis Alpha", "Phalaenopsis equestris"]);
        name.Parents[1].ToText().ShouldBe("Phalaenopsis Beta");
        name.ToText().ShouldBe("(Phalaenopsis Alpha × Phalaenopsis equestris) × Phalaenopsis Beta");
    }

    [Fact]
    public void A_clone_of_an_unnamed_cross_stands_outside_its_parentheses()
    {
        var name = NameReader.Read("(Phal. Alpha × Phal. Beta) 'Red'").Name!;

        (name.Sort, name.Cultivar, name.Parents[1].Cultivar).ShouldBe((NameSort.Formula, "Red", null));
        name.ToText().ShouldBe("(Phalaenopsis Alpha × Phalaenopsis Beta) 'Red'");
    }

    [Theory]
    [InlineData("Phal. Queen's Delight 'Red'", "Queen's Delight", "Red")]
    [InlineData("Phal. Alpha 'Queen's Delight'", "Alpha", "Queen's Delight")]
    [InlineData("Phal. Alpha 'Growers' Choice'", "Alpha", "Growers' Choice")]
    [InlineData("Phal. Generation X 'Red'", "Generation X", "Red")]
    [InlineData("Phal. Circle of Life", "Circle of Life", null)]
    public void An_apostrophe_is_no_quote_and_a_capital_X_may_be_a_word(string typed, string grex, string? clone)
    {
        var name = NameReader.Read(typed).Name!;

        (name.Grex, name.Cultivar).ShouldBe((grex, clone));
    }

    [Fact]
    public void A_third_word_without_its_rank_is_kept_and_said()
    {
        var reading = NameReader.Read("Phalaenopsis equestris alba");

        reading.Name!.Below.Single().ShouldBe(new InfraspecificTaxon(InfraspecificRank.Unstated, "alba"));
        reading.Findings.Select(finding => finding.Fault).ShouldBe([NameFault.RankMissing]);
    }

    [Fact]
    public void Filius_is_no_form()
    {
        NameReader.Read("Cattleya aurea Rchb. f.").Name!.SpeciesAuthor.ShouldBe("Rchb. f.");
        var form = NameReader.Read("Cattleya aurea Rchb. f. alba").Name!;
        (form.SpeciesAuthor, form.Below.Single().Rank).ShouldBe(("Rchb.", InfraspecificRank.Form));
    }

    [Fact]
    public void What_is_no_name_is_left_out_and_said()
    {
        var reading = NameReader.Read("Phalaenopsis equestris seedling");

        reading.Name!.ToText().ShouldBe("Phalaenopsis equestris");
        reading.Findings.Select(finding => finding.Fault).ShouldBe([NameFault.Remark]);
    }

    [Theory]
    [InlineData("", NameFault.Empty)]
    [InlineData("   ", NameFault.Empty)]
    [InlineData(null, NameFault.Empty)]
    [InlineData("'Red'", NameFault.NoGenus)]
    [InlineData("× ", NameFault.NoGenus)]
    [InlineData("Phal. Alpha ×", NameFault.NoGenus)]
    public void What_cannot_be_a_name_is_refused_with_the_way_out(string? typed, NameFault fault)
    {
        var reading = NameReader.Read(typed);

        reading.Name.ShouldBeNull();
        reading.Findings.ShouldContain(finding => finding.Fault == fault && finding.Severity == Severity.Error);
    }

    [Theory]
    [InlineData("Phal. Alpha 'Red", NameFault.QuoteUnclosed)]
    [InlineData("Phal. Alpha (Phal. a-b × Phal. Beta", NameFault.ParenthesisUnmatched)]
    [InlineData("Phal. Alpha ) Beta", NameFault.ParenthesisUnmatched)]
    [InlineData("Qqq. Alpha", NameFault.AbbreviationUnknown)]
    [InlineData("Brassocattleya Alpha", NameFault.NothogenusUnmarked)]
    [InlineData("Cattleya labiata Schuller", NameFault.ReadAsAuthor)]
    public void What_is_doubtful_is_read_as_best_can_be_and_said(string typed, NameFault fault)
    {
        var reading = NameReader.Read(typed);

        reading.Name.ShouldNotBeNull();
        reading.Findings.ShouldContain(finding => finding.Fault == fault);
    }

    [Fact]
    public void Two_tags_name_the_same_plant_whatever_their_awards_and_abbreviations() =>
        NameReader.Read("Phal. equestris 'Red' AM/AOS").Name!.Key.ShouldBe(NameReader.Read("Phalaenopsis equestris ‘Red’").Name!.Key);

    [Fact]
    public void Every_abbreviation_says_where_it_is_from()
    {
        OrchidGenera.All.ShouldAllBe(genus => genus.Source.StartsWith("read:") || genus.Source == "from memory");
        OrchidGenera.All.Select(genus => genus.Abbreviation).ShouldBeUnique();
    }
}
