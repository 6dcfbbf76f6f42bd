using System.Text.RegularExpressions;

namespace Rootwater.Growing.Bench.Names;

/// <summary>What a name as typed is cut into.</summary>
internal enum TokenSort
{
    Word,

    /// <summary>In single quotes.</summary>
    Quoted,

    /// <summary>In double quotes.</summary>
    DoubleQuoted,
    Times,
    Open,
    Close,
    EqualSign,

    /// <summary>In square brackets: a registrar's or seller's remark.</summary>
    Bracketed,
    End,
}

/// <param name="Sort">What it is.</param>
/// <param name="Text">Without quotes.</param>
/// <param name="IsClosed">False for a quote that never ends.</param>
internal readonly record struct NameToken(TokenSort Sort, string Text, bool IsClosed = true)
{
    public bool IsLowerWord => Sort == TokenSort.Word && char.IsLower(Text[0]);
    public bool IsCapitalWord => Sort == TokenSort.Word && char.IsUpper(Text[0]);
}

/// <summary>Cuts a name as typed into words, quotes and signs.</summary>
internal static partial class NameTokens
{
    public static List<NameToken> Cut(string typed)
    {
        var text = Normal(typed);
        var tokens = new List<NameToken>();
        for (var at = 0; at < text.Length;)
        {
            var c = text[at];
            if (char.IsWhiteSpace(c) || c is ',' or ';')
            {
                at++;
            }
            else if (Sign(c) is { } sign)
            {
                tokens.Add(new NameToken(sign, c.ToString()));
                at++;
            }
            else if (c == '\'')
            {
                at = Quote(text, at, ClosingOf(text, at), TokenSort.Quoted, tokens);
            }
            else if (c == '"')
            {
                at = Quote(text, at, text.IndexOf('"', at + 1), TokenSort.DoubleQuoted, tokens);
            }
            else if (c == '[')
            {
                at = Quote(text, at, text.IndexOf(']', at + 1), TokenSort.Bracketed, tokens);
            }
            else
            {
                var end = at;
                while (end < text.Length && !char.IsWhiteSpace(text[end]) && text[end] is not '"' and not '[' && Sign(text[end]) is null)
                {
                    end++;
                }

                AddWord(tokens, text[at..end]);
                at = end;
            }
        }

        return MarkTimes(tokens);
    }

    // The letter x in front of a hybrid genus, without a space.
    private static void AddWord(List<NameToken> tokens, string word)
    {
        if (word.Length > 3 && word[0] == 'x' && char.IsUpper(word[1]) && char.IsLower(word[2]))
        {
            tokens.Add(new NameToken(TokenSort.Times, "x"));
            word = word[1..];
        }

        tokens.Add(new NameToken(TokenSort.Word, word));
    }

    // A lone x is the sign; a lone X only between two names, for there are greges like "Generation X".
    private static List<NameToken> MarkTimes(List<NameToken> tokens)
    {
        for (var i = 0; i < tokens.Count; i++)
        {
            var between = i > 0 && i + 1 < tokens.Count && tokens[i + 1].Sort is TokenSort.Word or TokenSort.Open;
            if (tokens[i].Sort == TokenSort.Word && (tokens[i].Text == "x" || (tokens[i].Text == "X" && between)))
            {
                tokens[i] = new NameToken(TokenSort.Times, tokens[i].Text);
            }
        }

        return tokens;
    }

    private static TokenSort? Sign(char c) => c switch
    {
        '×' or '*' or '✕' or '⨯' => TokenSort.Times,
        '(' => TokenSort.Open,
        ')' => TokenSort.Close,
        '=' => TokenSort.EqualSign,
        _ => null,
    };

    private static int Quote(string text, int at, int end, TokenSort sort, List<NameToken> tokens)
    {
        var closed = end > at;
        var inside = text[(at + 1)..(closed ? end : text.Length)].Trim().TrimEnd(',').Trim();
        tokens.Add(new NameToken(sort, inside, closed));
        return closed ? end + 1 : text.Length;
    }

    /// <summary>The quote that ends a cultivar: an apostrophe inside a word does not, and one after a word ("Growers' Choice") only where no later one does.</summary>
    private static int ClosingOf(string text, int open)
    {
        var closing = -1;
        for (var at = open + 1; at < text.Length; at++)
        {
            if (text[at] == '\'' && (at + 1 == text.Length || !char.IsLetterOrDigit(text[at + 1])))
            {
                closing = at;
            }
            else if (closing > 0 && (Sign(text[at]) is not null || (text[at] == '\'' && char.IsWhiteSpace(text[at - 1])) || text[at] is '"' or '['))
            {
                break;
            }
        }

        return closing;
    }

    private static string Normal(string typed) => Spaces().Replace(typed.Replace('‘', '\'').Replace('’', '\'').Replace('‚', '\'').Replace('`', '\'').Replace('´', '\'')
        .Replace('“', '"').Replace('”', '"').Replace('„', '"').Replace('\u00a0', ' '), " ").Trim();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();
}
