using System.Collections.Immutable;
using CsCheck;
using Rootwater.Growing.Bench.Names;

namespace Rootwater.Growing.Tests.Laws;

public sealed class NameLaws
{
    private static readonly Gen<string> s_latin = Gen.Select(OneOf("ca", "ti", "ro", "men", "lu", "vi", "gra"), OneOf("ri", "no", "stel", "pu", "cin"), OneOf("ata", "um", "ensis", "oides", "a-reginae"))
        .Select((a, b, c) => a + b + c);

    private static readonly Gen<string> s_word = OneOf("Red", "Queen's", "Delight", "Morning", "El", "Nr.", "D.", "5", "of", "Wow!", "Abed-Nego", "Élan");
    private static readonly Gen<string> s_epithet = Gen.Select(OneOf("Alpha", "Taisuco", "Fuchs", "H.P.", "100th"), s_word.Array[1, 3]).Select((first, rest) => first + " " + string.Join(' ', rest));
    private static readonly Gen<string?> s_author = OneOf<string?>(null, null, "Lindl.", "(Lindl.) Rchb.f.", "Braem & G. J. Braem", "de Vriese ex Hook.");

    private static readonly Gen<InfraspecificTaxon> s_taxon = Gen.Select(Gen.Enum<InfraspecificRank>(), s_latin, Gen.Bool, s_author)
        .Where((rank, _, _, _) => rank != InfraspecificRank.Unstated)
        .Select((rank, epithet, notho, author) => new InfraspecificTaxon(rank, epithet, notho, author));

    private static readonly Gen<OrchidName> s_base = Gen.Select(OneOf<OrchidGenus>([.. OrchidGenera.All]), OneOf(NameSort.Species, NameSort.Grex, NameSort.UndeterminedHybrid, NameSort.UndeterminedSpecies, NameSort.Genus))
        .Select((genus, sort) => new OrchidName { Sort = sort, Genus = genus.Name, IsNothogenus = genus.IsNothogenus });

    private static readonly Gen<OrchidName> s_single = Gen.Select(
        s_base, s_latin, Gen.Bool, Gen.Enum<NameQualifier>(), Gen.Select(s_author, s_taxon.Array[0, 2]), s_epithet, Gen.Select(Gen.Bool, s_epithet, Gen.Int[0, 2]))
        .Select((name, species, notho, qualifier, below, grex, clone) =>
        {
            var (author, taxa) = below;
            var full = name.Sort switch
            {
                NameSort.Species => name with { Species = species, Qualifier = qualifier, IsNothospecies = notho && qualifier == NameQualifier.None, SpeciesAuthor = author, Below = [.. taxa] },
                NameSort.Grex => name with { Grex = grex },
                _ => name,
            };
            return clone.Item1 ? full with { Cultivar = clone.Item2, Awards = [.. new[] { "AM/AOS", "FCC/RHS" }.Take(clone.Item3)] } : full;
        });

    private static readonly Gen<OrchidName> s_formula = Gen.Select(s_single, s_single).Select((seed, pollen) => Cross(seed, pollen));

    private static readonly Gen<OrchidName> s_name = Gen.OneOf(
        s_single,
        s_formula,
        Gen.Select(s_formula, s_single).Select((earlier, pollen) => Cross(earlier, pollen)),
        Gen.Select(s_single, s_formula, Gen.Bool).Select((seed, earlier, clone) => Cross(seed, clone ? earlier with { Cultivar = "Red Dawn" } : earlier)),
        Gen.Select(s_single, s_formula).Where((name, _) => name.Sort is NameSort.Grex or NameSort.Species).Select((name, formula) => name with { Parents = formula.Parents }));

    [Fact]
    public void A_name_written_and_read_is_the_same_name() => s_name.Sample(name =>
    {
        var text = name.ToText();
        NameReader.Read(text).Name.ShouldBe(name, text);
    }, iter: 3000);

    [Fact]
    public void The_parts_of_a_name_put_together_are_its_text() => s_name.Sample(name => string.Concat(name.ToParts().Select(part => part.Text)).ShouldBe(name.ToText()), iter: 500);

    [Fact]
    public void No_text_whatever_breaks_the_reader() => Gen.OneOf(Gen.String[0, 40], OneOf("×", "x", "X", "(", ")", "'", "\"", "=", "[", "]", "cv.", "f.", "var.", "aff.", "Phal.", "equestris", "Alpha", "AM/AOS", "gx", "sp.", "1")
        .Array[0, 12].Select(words => string.Join(' ', words))).Sample(typed =>
    {
        var reading = NameReader.Read(typed);
        if (reading.Name is null)
        {
            reading.HasErrors.ShouldBeTrue(typed);
        }
        else if (reading.Findings.All(finding => finding.Fault == NameFault.AbbreviationExpanded))
        {
            // What was understood without a doubt is understood again.
            NameReader.Read(reading.Name.ToText()).Name.ShouldBe(reading.Name, typed);
        }
    }, iter: 5000);

    private static Gen<T> OneOf<T>(params T[] of) => Gen.Int[0, of.Length - 1].Select(i => of[i]);

    private static OrchidName Cross(OrchidName seed, OrchidName pollen) => new() { Sort = NameSort.Formula, Parents = ImmutableArray.Create(seed, pollen) };
}
