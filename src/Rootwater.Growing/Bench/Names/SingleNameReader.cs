using System.Collections.Immutable;
using System.Text.RegularExpressions;

namespace Rootwater.Growing.Bench.Names;

/// <summary>Reads one name: genus, then species with ranks below, or grex, then clone and awards, then parents in parentheses.</summary>
internal static partial class SingleNameReader
{
    private static readonly HashSet<string> s_speciesWords = new(StringComparer.OrdinalIgnoreCase) { "sp.", "sp", "spec.", "species", "spp." };
    private static readonly HashSet<string> s_hybridWords = new(StringComparer.OrdinalIgnoreCase) { "hybrid", "hybrids", "hyb.", "hybr.", "hybride" };
    private static readonly HashSet<string> s_unknownWords = new(StringComparer.OrdinalIgnoreCase) { "unknown", "unnamed", "noid", "no-id", "no-name", "?", "unbekannt" };
    private static readonly HashSet<string> s_remarkWords = new(StringComparer.OrdinalIgnoreCase)
        { "seedling", "seedlings", "division", "div.", "keiki", "mericlone", "meristem", "clone", "nbs", "bs", "fs", "nfs", "near", "blooming", "flowering", "size", "flask", "plant", "tbc" };

    private static readonly HashSet<string> s_authorParticles = ["ex", "et", "&", "de", "van", "von", "der", "den", "du", "da", "la", "le", "in", "bis", "fil."];

    // Read: aboutorchids.com, "Orchid awards", 2011; honoluluorchidsociety.org; aos.org through rv-orchidworks.com.
    private static readonly HashSet<string> s_awards = ["FCC", "AM", "HCC", "CCM", "CCE", "CBR", "CHM", "AQ", "AD", "JC", "GM", "SM", "BM", "CR", "CDC"];

    public static OrchidName Read(NameCursor cursor, string? contextGenus, OrchidName? firstParent, Func<string?, OrchidName> readCross)
    {
        Remarks(cursor);
        var name = Genus(cursor, contextGenus, firstParent);
        name = AfterGenus(cursor, name);
        name = CloneOf(cursor, name);
        if (cursor.Now.Sort == TokenSort.Open && cursor.OpensCross())
        {
            cursor.Next();
            name = name with { Parents = readCross(name.Genus).Parents };
            NameReader.CloseParenthesis(cursor);
            name = CloneOf(cursor, name);
        }

        return name;
    }

    /// <summary>Cultivar, awards and remarks after a name.</summary>
    public static OrchidName CloneOf(NameCursor cursor, OrchidName name)
    {
        var awards = name.Awards.ToBuilder();
        while (true)
        {
            var token = cursor.Now;
            if (token.Sort is TokenSort.Quoted or TokenSort.DoubleQuoted)
            {
                cursor.Next();
                name = WithCultivar(cursor, name, token);
            }
            else if (token.Sort == TokenSort.Word && token.Text is "cv." or "cv" or "cultivar" or "clone")
            {
                cursor.Next();
                cursor.Say(NameFault.CvWritten, Severity.Warning, token.Text, "\"cv.\" is no longer written: single quotes alone mark a cultivar.");
                if (cursor.Now.IsCapitalWord)
                {
                    name = WithCultivar(cursor, name, new NameToken(TokenSort.Quoted, Words(cursor)));
                }
            }
            else if (token.Sort == TokenSort.Word && (SlashedAward().IsMatch(token.Text) || (name.Cultivar is not null && s_awards.Contains(token.Text))))
            {
                cursor.Next();
                awards.Add(token.Text);
            }
            else if (token.Sort == TokenSort.Bracketed || token.Sort == TokenSort.Word || (token.Sort == TokenSort.Open && !cursor.OpensCross()))
            {
                Remark(cursor);
            }
            else
            {
                return name with { Awards = awards.ToImmutable() };
            }
        }
    }

    private static OrchidName Genus(NameCursor cursor, string? contextGenus, OrchidName? firstParent)
    {
        var signed = cursor.Take(TokenSort.Times);
        var token = cursor.Now;
        if (token.Sort != TokenSort.Word)
        {
            cursor.Say(NameFault.NoGenus, Severity.Error, token.Text, "A name begins with its genus: write \"Phalaenopsis\", \"Phal.\" or \"unknown\".");
            if (token.Sort is TokenSort.Quoted or TokenSort.DoubleQuoted or TokenSort.Bracketed)
            {
                cursor.Next();
            }

            return new OrchidName();
        }

        if (s_unknownWords.Contains(token.Text))
        {
            cursor.Next();
            return new OrchidName();
        }

        if (s_hybridWords.Contains(token.Text))
        {
            cursor.Next();
            return new OrchidName { Sort = NameSort.UndeterminedHybrid };
        }

        if (contextGenus is not null && OmitsGenus(cursor, firstParent))
        {
            cursor.Say(NameFault.GenusOmittedInFormula, Severity.Note, token.Text,
                $"Each parent in a formula has its genus or its abbreviation (ICN H.2); {contextGenus} is taken.");
            var genusOfContext = new OrchidName { Sort = NameSort.Genus, Genus = contextGenus, IsNothogenus = OrchidGenera.ByName(contextGenus)?.IsNothogenus == true };
            return signed && token.IsLowerWord ? NothospeciesOf(cursor, genusOfContext) : genusOfContext;
        }

        cursor.Next();
        var written = token.Text;
        var genus = Expanded(cursor, written, contextGenus);
        var known = OrchidGenera.ByName(genus);
        if (!signed && known?.IsNothogenus == true)
        {
            cursor.Say(NameFault.NothogenusUnmarked, Severity.Note, written, $"{genus} is a hybrid genus: ×{genus}.");
        }

        return new OrchidName { Sort = NameSort.Genus, Genus = genus, IsNothogenus = signed || known?.IsNothogenus == true };
    }

    private static string Expanded(NameCursor cursor, string written, string? contextGenus)
    {
        if (written.EndsWith('.'))
        {
            var stem = written[..^1];
            // "Mentha aquatica × M. arvensis": the letter stands for the genus before, whatever a list says.
            if (stem.Length == 1 && contextGenus is not null && char.ToUpperInvariant(contextGenus[0]) == char.ToUpperInvariant(stem[0]))
            {
                return contextGenus;
            }

            if (OrchidGenera.ByAbbreviation(written) is { } known)
            {
                cursor.Say(NameFault.AbbreviationExpanded, Severity.Note, written, $"{written} is read as {known.Name}.");
                return known.Name;
            }

            cursor.Say(NameFault.AbbreviationUnknown, Severity.Warning, written, $"{written} is not on the list of abbreviations: write the genus out.");
            return char.ToUpperInvariant(written[0]) + written[1..];
        }

        // One letter without its stop may stand for anything.
        if (written.Length > 1 && OrchidGenera.ByAbbreviation(written + ".") is { } withoutStop && OrchidGenera.ByName(written) is null)
        {
            cursor.Say(NameFault.AbbreviationExpanded, Severity.Note, written, $"{written} is read as {withoutStop.Name}; an abbreviation takes a full stop.");
            return withoutStop.Name;
        }

        var proper = char.ToUpperInvariant(written[0]) + written[1..].ToLowerInvariant();
        if (!GenusWord().IsMatch(proper))
        {
            cursor.Say(NameFault.GenusOdd, Severity.Warning, written, $"\"{written}\" does not look like a genus: one Latin word with a capital letter.");
        }

        if (!char.IsUpper(written[0]))
        {
            cursor.Say(NameFault.GenusNotCapital, Severity.Note, written, $"A genus takes a capital letter: {proper}.");
        }

        return proper;
    }

    /// <summary>Whether a further parent in a formula starts with its epithet.</summary>
    private static bool OmitsGenus(NameCursor cursor, OrchidName? firstParent)
    {
        var (word, next) = (cursor.Now.Text, cursor.Ahead(1));
        if (OrchidGenera.ByName(word) is not null || word.EndsWith('.') || OrchidGenera.ByAbbreviation(word + ".") is not null)
        {
            return false;
        }

        if (char.IsLower(word[0]))
        {
            return true;
        }

        // In the parentheses after a grex the first parent may omit it as well; elsewhere the first never does.
        if (firstParent is null)
        {
            return next.Sort != TokenSort.Word;
        }

        // "Phal. Abed-Nego × Little Peach". A genus is Latin or made to look so, and never stands alone against a grex or species.
        return firstParent.Sort != NameSort.Genus && (next.Sort != TokenSort.Word || (next.IsCapitalWord && !LatinEnding().IsMatch(word)));
    }

    private static OrchidName AfterGenus(NameCursor cursor, OrchidName name)
    {
        if (name.Sort != NameSort.Genus)
        {
            return name.Species is null ? name : Below(cursor, name);
        }

        Remarks(cursor);
        var token = cursor.Now;
        if (token.Sort == TokenSort.Times && cursor.Ahead(1) is { IsLowerWord: true } epithet && !s_hybridWords.Contains(epithet.Text) && !s_unknownWords.Contains(epithet.Text))
        {
            cursor.Next();
            return Below(cursor, NothospeciesOf(cursor, name));
        }

        if (token.Sort != TokenSort.Word)
        {
            return name;
        }

        if (token.Text.TrimEnd('.') is "aff" or "cf" && cursor.Ahead(1).IsLowerWord)
        {
            cursor.Next();
            return Below(cursor, SpeciesOf(cursor, name with { Qualifier = token.Text.StartsWith('a') ? NameQualifier.Near : NameQualifier.Compare }));
        }

        if (s_speciesWords.Contains(token.Text))
        {
            cursor.Next();
            return name with { Sort = NameSort.UndeterminedSpecies };
        }

        if (s_hybridWords.Contains(token.Text))
        {
            cursor.Next();
            return name with { Sort = NameSort.UndeterminedHybrid };
        }

        if (s_unknownWords.Contains(token.Text))
        {
            cursor.Next();
            return name with { Sort = NameSort.Unknown };
        }

        if (Epithet().IsMatch(token.Text) && !s_remarkWords.Contains(token.Text) && token.Text is not ("gx" or "grex" or "cv" or "cultivar"))
        {
            return Below(cursor, SpeciesOf(cursor, name));
        }

        if (token.IsCapitalWord && token.Text.EndsWith('.') && cursor.Ahead(1).Sort is TokenSort.Times or TokenSort.Close or TokenSort.EqualSign or TokenSort.End)
        {
            return name with { GenusAuthor = cursor.Next().Text };
        }

        if (token.Text is "gx" or "grex")
        {
            cursor.Next();
        }

        return (cursor.Now.IsCapitalWord || char.IsDigit(cursor.Now.Text.FirstOrDefault())) && !SlashedAward().IsMatch(cursor.Now.Text) ? GrexOf(cursor, name) : name;
    }

    private static OrchidName GrexOf(NameCursor cursor, OrchidName name)
    {
        var grex = Words(cursor);
        if (cursor.Now is { Sort: TokenSort.Word, Text: "gx" or "grex" })
        {
            cursor.Next();
        }

        cursor.Say(EpithetRules.Check(grex, name.Genus));
        return name with { Sort = NameSort.Grex, Grex = grex };
    }

    /// <summary>Words of an epithet, up to a sign, a quote, an award, or a remark at its end.</summary>
    private static string Words(NameCursor cursor)
    {
        var words = new List<string>();
        while (cursor.Now is { Sort: TokenSort.Word } token && token.Text is not ("gx" or "grex" or "cv." or "cv") && !SlashedAward().IsMatch(token.Text)
            && !(words.Count > 0 && char.IsLower(token.Text[0]) && s_remarkWords.Contains(token.Text)))
        {
            words.Add(cursor.Next().Text);
        }

        return string.Join(' ', words).TrimEnd(',', ';');
    }

    private static OrchidName NothospeciesOf(NameCursor cursor, OrchidName name) => SpeciesOf(cursor, name with { IsNothospecies = true });

    private static OrchidName SpeciesOf(NameCursor cursor, OrchidName name)
    {
        var epithet = cursor.Next().Text;
        if (!Epithet().IsMatch(epithet))
        {
            cursor.Say(NameFault.SpeciesOdd, Severity.Warning, epithet, $"A species is one lower-case Latin word; \"{epithet}\" is not.");
        }

        return name with { Sort = NameSort.Species, Species = epithet };
    }

    /// <summary>Author of the species, then ranks below it.</summary>
    private static OrchidName Below(NameCursor cursor, OrchidName name)
    {
        name = name with { SpeciesAuthor = Author(cursor) };
        var below = ImmutableArray.CreateBuilder<InfraspecificTaxon>();
        while (cursor.Now is { Sort: TokenSort.Word } token)
        {
            if (Rank(token.Text) is { } rank)
            {
                cursor.Next();
                if (cursor.Now.IsLowerWord)
                {
                    var epithet = cursor.Next().Text;
                    below.Add(new InfraspecificTaxon(rank.Rank, epithet, rank.Notho, Author(cursor)));
                    continue;
                }

                if (cursor.Now.IsCapitalWord || cursor.Now.Sort == TokenSort.Quoted)
                {
                    var cultivar = cursor.Now.Sort == TokenSort.Quoted ? cursor.Next().Text : Words(cursor);
                    cursor.Say(NameFault.VarietyLooksLikeCultivar, Severity.Warning, $"{token.Text} {cultivar}",
                        $"A variety or form is one lower-case Latin word; \"{cultivar}\" is read as the clone '{cultivar}'.");
                    name = WithCultivar(cursor, name, new NameToken(TokenSort.Quoted, cultivar));
                }

                break;
            }

            if (below.Count > 0 || !Epithet().IsMatch(token.Text) || s_remarkWords.Contains(token.Text) || token.Text is "cv" or "cultivar")
            {
                break;
            }

            cursor.Next();
            cursor.Say(NameFault.RankMissing, Severity.Warning, token.Text, $"Say what \"{token.Text}\" is: subsp., var. or f. stands before a third word (ICN Art. 24.1).");
            below.Add(new InfraspecificTaxon(InfraspecificRank.Unstated, token.Text, false, Author(cursor)));
        }

        return name with { Below = below.ToImmutable() };
    }

    private static string? Author(NameCursor cursor)
    {
        var author = new List<string>();
        while (true)
        {
            var token = cursor.Now;
            if (token.Sort == TokenSort.Open && !cursor.OpensCross() && cursor.Ahead(1).IsCapitalWord)
            {
                author.Add(Parenthesis(cursor));
            }
            else if (token.IsCapitalWord && !SlashedAward().IsMatch(token.Text))
            {
                author.Add(cursor.Next().Text);
            }
            else if (token.Sort == TokenSort.Word && s_authorParticles.Contains(token.Text) && (cursor.Ahead(1).IsCapitalWord || cursor.Ahead(1).Sort == TokenSort.Open || token.Text == "fil."
                || s_authorParticles.Contains(cursor.Ahead(1).Text)))
            {
                author.Add(cursor.Next().Text);
            }
            else if (token is { Sort: TokenSort.Word, Text: "f." } && author.Count > 0 && !cursor.Ahead(1).IsLowerWord)
            {
                author.Add(cursor.Next().Text); // filius: a forma would have its epithet next
            }
            else
            {
                break;
            }
        }

        if (author.Count == 0)
        {
            return null;
        }

        var text = string.Join(' ', author);
        if (text.IndexOfAny(['.', '&', '(']) < 0)
        {
            cursor.Say(NameFault.ReadAsAuthor, Severity.Note, text, $"\"{text}\" is read as the author of the name; a clone takes single quotes: '{text}'.");
        }

        return text;
    }

    private static string Parenthesis(NameCursor cursor)
    {
        cursor.Next();
        var words = new List<string>();
        while (cursor.Now.Sort is not (TokenSort.Close or TokenSort.End))
        {
            words.Add(cursor.Next().Text);
        }

        NameReader.CloseParenthesis(cursor);
        return $"({string.Join(' ', words)})";
    }

    private static OrchidName WithCultivar(NameCursor cursor, OrchidName name, NameToken token)
    {
        if (token.Sort == TokenSort.DoubleQuoted)
        {
            cursor.Say(NameFault.DoubleQuotes, Severity.Warning, token.Text, $"A cultivar stands in single quotes: '{token.Text}'.");
        }

        if (!token.IsClosed)
        {
            cursor.Say(NameFault.QuoteUnclosed, Severity.Warning, token.Text, "The closing quote is missing.");
        }

        if (name.Cultivar is not null || token.Text.Length == 0)
        {
            cursor.Say(NameFault.Remark, Severity.Note, token.Text, $"A second epithet in quotes was left out: '{token.Text}'.");
            return name;
        }

        cursor.Say(EpithetRules.Check(token.Text, name.Genus));
        return name with { Cultivar = token.Text };
    }

    private static void Remarks(NameCursor cursor)
    {
        while (cursor.Now.Sort == TokenSort.Bracketed)
        {
            Remark(cursor);
        }
    }

    private static void Remark(NameCursor cursor)
    {
        var text = cursor.Now.Sort == TokenSort.Open ? Parenthesis(cursor) : cursor.Next().Text;
        cursor.Say(NameFault.Remark, Severity.Note, text, $"\"{text}\" is no part of a name and was left out.");
    }

    private static (InfraspecificRank Rank, bool Notho)? Rank(string term)
    {
        var plain = term.TrimEnd('.');
        var notho = plain.StartsWith("notho", StringComparison.Ordinal) || (plain.StartsWith('n') && term.EndsWith('.'));
        plain = notho ? plain[(plain.StartsWith("notho", StringComparison.Ordinal) ? 5 : 1)..] : plain;
        InfraspecificRank? rank = plain switch
        {
            "subsp" or "ssp" or "subspecies" => InfraspecificRank.Subspecies,
            "var" or "varietas" or "variety" => InfraspecificRank.Variety,
            "v" when term.EndsWith('.') => InfraspecificRank.Variety,
            "subvar" => InfraspecificRank.Subvariety,
            "forma" or "form" or "fma" => InfraspecificRank.Form,
            "f" or "fo" when term.EndsWith('.') => InfraspecificRank.Form,
            "subf" or "subforma" => InfraspecificRank.Subform,
            _ => null,
        };
        return rank is { } found ? (found, notho) : null;
    }

    [GeneratedRegex(@"^\p{Ll}[\p{Ll}-]+$")]
    private static partial Regex Epithet();

    [GeneratedRegex(@"^\p{Lu}\p{Ll}[\p{Ll}-]+$")]
    private static partial Regex GenusWord();

    [GeneratedRegex("^[A-Z]{1,4}/[A-Z0-9]{2,8}$")]
    private static partial Regex SlashedAward();

    [GeneratedRegex("(a|um|us|is|as|es|os|on|ax|yx|ys|ne)$")]
    private static partial Regex LatinEnding();
}
