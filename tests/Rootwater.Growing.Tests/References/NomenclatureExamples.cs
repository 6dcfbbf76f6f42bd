using Rootwater.Growing.Bench.Names;

namespace Rootwater.Growing.Tests.References;

/// <summary>Worked examples of the codes of nomenclature. Unless it says "from memory", a row was read in a stored copy of the named page.</summary>
public sealed class NomenclatureExamples
{
    // ICN (Shenzhen Code 2018), Art. H.2, Ex. 1, www.iapt-taxon.org/nomen/pages/main/art_h2.html.
    [Theory]
    [InlineData("Agrostis L. × Polypogon Desf.")]
    [InlineData("Agrostis stolonifera L. × Polypogon monspeliensis (L.) Desf.")]
    [InlineData("Salix aurita L. × Salix caprea L.")]
    [InlineData("Polypodium vulgare subsp. prionodes (Asch.) Rothm. × Polypodium vulgare L. subsp. vulgare")]
    public void A_hybrid_formula_stands_as_the_code_prints_it(string formula)
    {
        var reading = NameReader.Read(formula);

        reading.Name.ShouldNotBeNull().Sort.ShouldBe(NameSort.Formula);
        reading.Name!.ToText().ShouldBe(formula);
        reading.Findings.ShouldBeEmpty();
    }

    // The same article: "Melampsora medusae Thüm. × M. occidentalis H. S. Jacks.", "Mentha aquatica L. × M. arvensis L. × M. spicata L."
    [Fact]
    public void A_letter_for_the_genus_before_is_written_out()
    {
        NameReader.Read("Melampsora medusae Thüm. × M. occidentalis H. S. Jacks.").Name!.ToText().ShouldBe("Melampsora medusae Thüm. × Melampsora occidentalis H. S. Jacks.");
        var three = NameReader.Read("Mentha aquatica L. × M. arvensis L. × M. spicata L.");
        three.Name!.Parents.Select(parent => parent.Species).ShouldBe(["aquatica", "arvensis", "spicata"]);
        three.Findings.Select(finding => finding.Fault).ShouldBe([NameFault.ParentsUnordered]);
    }

    // Art. H.2, Ex. 2: "Kunzea linearis (Kirk) de Lange × K. robusta de Lange & Toelken", but not "… × robusta de Lange & Toelken".
    [Fact]
    public void A_parent_without_its_genus_is_put_right_and_said()
    {
        var right = NameReader.Read("Kunzea linearis (Kirk) de Lange × K. robusta de Lange & Toelken");
        var wrong = NameReader.Read("Kunzea linearis (Kirk) de Lange × robusta de Lange & Toelken");

        right.Findings.ShouldBeEmpty();
        wrong.Findings.Select(finding => finding.Fault).ShouldBe([NameFault.GenusOmittedInFormula]);
        wrong.Name.ShouldBe(right.Name);
        right.Name!.ToText().ShouldBe("Kunzea linearis (Kirk) de Lange × Kunzea robusta de Lange & Toelken");
    }

    // Art. H.3, Ex. 1, home.kpn.nl/klaasvanmanen/icbn (Vienna Code; the article is unchanged in Shenzhen, from memory).
    [Theory]
    [InlineData("×Agropogon P. Fourn.", "×Agropogon P. Fourn.")]
    [InlineData("×Agropogon littoralis (Sm.) C. E. Hubb.", "×Agropogon littoralis (Sm.) C. E. Hubb.")]
    [InlineData("x Agropogon littoralis", "×Agropogon littoralis")]
    [InlineData("xAgropogon littoralis", "×Agropogon littoralis")]
    [InlineData("Salix ×capreola Andersson", "Salix ×capreola Andersson")]
    [InlineData("Salix x capreola", "Salix ×capreola")]
    [InlineData("Mentha × smithiana R. A. Graham", "Mentha ×smithiana R. A. Graham")]
    [InlineData("Polypodium vulgare nothosubsp. mantoniae (Rothm.) Schidlay", "Polypodium vulgare nothosubsp. mantoniae (Rothm.) Schidlay")]
    [InlineData("Polypodium vulgare nsubsp. mantoniae", "Polypodium vulgare nothosubsp. mantoniae")]
    public void The_sign_stands_before_a_hybrid_genus_or_epithet(string typed, string written) => NameReader.Read(typed).Name!.ToText().ShouldBe(written);

    // Art. H.3.3: for purposes of homonymy the sign and "notho-" are disregarded.
    [Fact]
    public void The_sign_makes_no_other_name() => NameReader.Read("×Hordelymus").Name!.Key.ShouldBe(NameReader.Read("Hordelymus").Name!.Key);

    // Art. H.10, Ex. 4, home.kpn.nl/klaasvanmanen/icbn.
    [Fact]
    public void A_hybrid_epithet_may_come_with_its_parents()
    {
        var name = NameReader.Read("Acaena ×anserovina Orchard (A. anserinifolia × A. ovina)").Name!;

        (name.Species, name.IsNothospecies, name.SpeciesAuthor).ShouldBe(("anserovina", true, "Orchard"));
        name.Parents.Select(parent => parent.ToText()).ShouldBe(["Acaena anserinifolia", "Acaena ovina"]);
    }

    // ICN Art. 24, Ex. 1 and 2, www.iapt-taxon.org/nomen/pages/main/art_24.html.
    [Theory]
    [InlineData("Saxifraga aizoon subf. surculosa Engl. & Irmsch.")]
    [InlineData("Saxifraga aizoon var. aizoon subvar. brevifolia f. multicaulis subf. surculosa Engl. & Irmsch.")]
    [InlineData("Solanum melongena var. insanum (L.) Prain")]
    public void A_term_for_the_rank_joins_a_third_word(string name)
    {
        var reading = NameReader.Read(name);

        reading.Name!.ToText().ShouldBe(name);
        reading.Findings.ShouldBeEmpty();
    }

    // The same example: a full classification has its ranks in order, highest first.
    [Fact]
    public void A_full_classification_has_four_ranks_in_order() =>
        NameReader.Read("Saxifraga aizoon var. aizoon subvar. brevifolia f. multicaulis subf. surculosa").Name!.Below.Select(taxon => taxon.Rank)
            .ShouldBe([InfraspecificRank.Variety, InfraspecificRank.Subvariety, InfraspecificRank.Form, InfraspecificRank.Subform]);

    // "Summary of ICNCP rules and guidelines for grex and cultivar epithets", ICNCP guidelines for orchid hybrids 2017, docslib.org/doc/6274362.
    [Theory]
    [InlineData("100th Battalion", "Cattleya")]
    [InlineData("Super 5", "Cattleya")]
    [InlineData("Aurora Borealis", "Cattleya")]
    [InlineData("T. Rex", "Cattleya")]
    [InlineData("Lignum Vitae", "Cattleya")]
    [InlineData("Penelope D. Krige", "Disa")]
    [InlineData("H.P. Norton", "Cattleya")]
    [InlineData("Million Dollars", "Cattleya")]
    [InlineData("Half Pint", "Cattleya")]
    [InlineData("Taisuco", "Phalaenopsis")]
    public void Epithets_the_guideline_accepts_pass(string epithet, string genus) => EpithetRules.Check(epithet, genus).ShouldBeEmpty();

    [Theory]
    [InlineData("$1,000,000", "Cattleya", NameFault.EpithetSymbol)]
    [InlineData("$Million", "Cattleya", NameFault.EpithetSymbol)]
    [InlineData("½ Pint", "Cattleya", NameFault.EpithetSymbol)]
    [InlineData("Penelope Disa Krige", "Disa", NameFault.EpithetRepeatsGenus)]
    [InlineData("Best of All", "Cattleya", NameFault.EpithetExaggerates)]
    [InlineData("Longest Possible", "Cattleya", NameFault.EpithetExaggerates)]
    [InlineData("A", "Cattleya", NameFault.EpithetSingleLetterOrNumbers)]
    [InlineData("1234", "Cattleya", NameFault.EpithetSingleLetterOrNumbers)]
    [InlineData("Wow! Really! Yes!", "Cattleya", NameFault.EpithetSymbol)] // up to two, our example
    [InlineData("Wow!!", "Cattleya", NameFault.EpithetSymbol)] // not adjacent, our example
    [InlineData("Red Hybrid", "Cattleya", NameFault.EpithetForbiddenWord)] // word from the guideline's list, our example
    [InlineData("Improved Rose", "Cattleya", NameFault.EpithetForbiddenWord)] // likewise
    [InlineData("red dawn", "Cattleya", NameFault.EpithetNotCapital)]
    [InlineData("Alba", "Cattleya", NameFault.EpithetLatin)]
    public void Epithets_the_guideline_refuses_are_found(string epithet, string genus, NameFault fault) => EpithetRules.Check(epithet, genus).Select(finding => finding.Fault).ShouldContain(fault);

    // The same guideline: "not exceed 30 characters".
    [Fact]
    public void Thirty_characters_pass_and_thirty_one_do_not()
    {
        EpithetRules.Check("Abcdefghi Klmnopqrs Uvwxyzabcd", null).ShouldBeEmpty();
        EpithetRules.Check("Abcdefghi Klmnopqrs Uvwxyzabcde", null).Select(finding => finding.Fault).ShouldBe([NameFault.EpithetTooLong]);
    }

    // orchid-talk.co.uk/docs/Various/OrcReg.html, after the Handbook on Orchid Nomenclature.
    [Fact]
    public void A_grex_stands_plain_between_genus_and_clone()
    {
        var name = NameReader.Read("Pleione Fujiyama 'Teal'").Name!;
        (name.Genus, name.Grex, name.Cultivar).ShouldBe(("Pleione", "Fujiyama", "Teal"));

        var withParents = NameReader.Read("Pleione Fujiyama = P. El Pico × P. Shantung").Name!;
        withParents.Parents.Select(parent => parent.ToText()).ShouldBe(["Pleione El Pico", "Pleione Shantung"]);
        withParents.ToText().ShouldBe("Pleione Fujiyama (Pleione El Pico × Pleione Shantung)");
    }

    // The same page: genus and species in italics, grex and clone in roman.
    [Fact]
    public void Latin_is_in_italics_and_the_rest_is_not()
    {
        Italics("Pleione forrestii 'Buttercup'").ShouldBe("Pleione forrestii");
        Italics("Pleione Fujiyama 'Teal'").ShouldBe("Pleione");
        Italics("Dendrobium bigibbum var. compactum").ShouldBe("Dendrobium bigibbum compactum"); // libguides.nybg.org/Orchidnames: the variety is italicized, "var." is not
        Italics("×Lycamerlycaste Hera gx").ShouldBe("Lycamerlycaste"); // encyclopedia, "Grex (horticulture)"
    }

    // encyclopedia, "Grex (horticulture)": "× Lycamerlycaste Hera gx". The mark is optional and not written.
    [Fact]
    public void The_mark_gx_is_read_and_left_out() => NameReader.Read("× Lycamerlycaste Hera gx").Name!.ToText().ShouldBe("×Lycamerlycaste Hera");

    // docslib.org/doc/4588991, quarterly supplement to the register of orchid hybrids, July to September 2019.
    [Theory]
    [InlineData("Bc. Huerfanita ADV", "×Brassocattleya Huerfanita ADV")]
    [InlineData("x Aranda Singapore Convention", "×Aranda Singapore Convention")]
    [InlineData("V. [Ascda.] Fuchs Gold x Aer. odorata", "Vanda Fuchs Gold × Aerides odorata")]
    [InlineData("B. grandiflora x C. aclandiae", "Brassavola grandiflora × Cattleya aclandiae")]
    [InlineData("B. flagellaris x C. tigrina [leopoldii]", "Brassavola flagellaris × Cattleya tigrina")]
    public void The_registers_own_lines_are_read(string typed, string written) => NameReader.Read(typed).Name!.ToText().ShouldBe(written);

    // Phalaenopsis Journal, fourth quarter 2013, p. 18: Phal. sumatrana × tetraspis = Phal. Sumaspice.
    [Fact]
    public void A_breeders_shorthand_is_written_out()
    {
        NameReader.Read("Phal. sumatrana × tetraspis = Phal. Sumaspice").Name!.ToText().ShouldBe("Phalaenopsis Sumaspice (Phalaenopsis sumatrana × Phalaenopsis tetraspis)");
        NameReader.Read("Dtps. Abed-Nego “Penny” HCC/AOS x Dtps. Little Peach").Name!.ToText() // plantorchid.wordpress.com, with its double quotes
            .ShouldBe("×Doritaenopsis Abed-Nego 'Penny' HCC/AOS × ×Doritaenopsis Little Peach");
    }

    // aboutorchids.com, "Orchid awards", 14 December 2011; aos.org, "Phalaenopsis, part 2" (with its comma).
    [Theory]
    [InlineData("Dendrobium victoria-reginae ‘Blues Brothers’ HCC/AOS", "Blues Brothers", "HCC/AOS")]
    [InlineData("Paphiopedilum rothschildianum ‘Golden Gate’ BM/CSA", "Golden Gate", "BM/CSA")]
    [InlineData("Phalaenopsis bellina 'Shamrock', HCC/AOS", "Shamrock", "HCC/AOS")]
    public void An_award_is_kept_apart_from_the_clone(string typed, string clone, string award)
    {
        var name = NameReader.Read(typed).Name!;

        name.Cultivar.ShouldBe(clone);
        name.Awards.ShouldBe([award]);
        name.Key.ShouldNotContain("aos");
    }

    // cross-krishna.blogspot.com, "Cultivars are identified", after the ICNCP: double quotes and "cv." are not acceptable.
    [Theory]
    [InlineData("Cryptomeria japonica \"Elegans\"", "Cryptomeria japonica 'Elegans'", NameFault.DoubleQuotes)]
    [InlineData("Berberis thunbergii cv. 'Crimson Pygmy'", "Berberis thunbergii 'Crimson Pygmy'", NameFault.CvWritten)]
    public void Old_ways_of_marking_a_clone_are_read_and_put_right(string typed, string written, NameFault fault)
    {
        var reading = NameReader.Read(typed);

        reading.Name!.ToText().ShouldBe(written);
        reading.Findings.ShouldContain(finding => finding.Fault == fault);
    }

    // www.cymbidium.org, rules of nomenclature: "Paphiopedilum insigne var. Harefield Hall" as growers wrote it; today a clone (from memory).
    [Fact]
    public void A_variety_with_a_capital_is_a_clone()
    {
        var reading = NameReader.Read("Paphiopedilum insigne var. Harefield Hall");

        reading.Name!.ToText().ShouldBe("Paphiopedilum insigne 'Harefield Hall'");
        reading.Findings.Select(finding => finding.Fault).ShouldBe([NameFault.VarietyLooksLikeCultivar]);
    }

    private static string Italics(string typed) => string.Concat(NameReader.Read(typed).Name!.ToParts().Where(part => part.IsItalic).Select(part => part.Text)).Trim();
}
