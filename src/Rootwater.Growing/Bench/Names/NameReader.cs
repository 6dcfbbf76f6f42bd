namespace Rootwater.Growing.Bench.Names;

/// <summary>Reads a name as growers, sellers and codes write it.</summary>
/// <remarks>
/// Nothing is looked up but abbreviations and hybrid genera (<see cref="OrchidGenera"/>): whether a name exists is another question. What is not part of a name is
/// left out and said. The text as received is kept elsewhere, word for word.
/// </remarks>
public static class NameReader
{
    public static NameReading Read(string? typed)
    {
        var tokens = NameTokens.Cut(typed ?? "");
        if (tokens.Count == 0)
        {
            return new NameReading(null, [new NameFinding(NameFault.Empty, Severity.Error, typed ?? "", "A name is needed; write \"unknown\" where none is known.")]);
        }

        var cursor = new NameCursor(tokens);
        var name = Expression(cursor, null);
        if (cursor.Take(TokenSort.EqualSign))
        {
            name = Joined(cursor, name, Expression(cursor, name.Genus));
        }

        while (cursor.Now.Sort != TokenSort.End)
        {
            cursor.Say(NameFault.ParenthesisUnmatched, Severity.Warning, cursor.Now.Text, $"What follows from \"{cursor.Now.Text}\" on was not read.");
            cursor.ToEnd();
        }

        return new NameReading(cursor.Has(Severity.Error) ? null : name, cursor.Findings);
    }

    /// <summary>A name for a program that needs one: as read, or unknown.</summary>
    public static OrchidName ReadOrUnknown(string? typed) => Read(typed).Name ?? new OrchidName();

    // "Pleione Fujiyama = P. El Pico × P. Shantung", either way round.
    private static OrchidName Joined(NameCursor cursor, OrchidName left, OrchidName right)
    {
        if (right.Sort == NameSort.Formula && left.Sort != NameSort.Formula)
        {
            return left with { Parents = right.Parents };
        }

        if (left.Sort == NameSort.Formula && right.Sort != NameSort.Formula)
        {
            return right with { Parents = left.Parents };
        }

        cursor.Say(NameFault.Remark, Severity.Note, "= " + right.ToText(), "A second name after = was left out; it can be entered as another determination.");
        return left;
    }

    /// <summary>One name, or several with the sign between.</summary>
    private static OrchidName Expression(NameCursor cursor, string? contextGenus)
    {
        var names = new List<OrchidName> { Term(cursor, contextGenus, null) };
        while (cursor.Take(TokenSort.Times))
        {
            names.Add(Term(cursor, contextGenus ?? names[0].Genus ?? names[0].Parents.FirstOrDefault()?.Genus, names[0]));
        }

        if (names.Count == 1)
        {
            return names[0];
        }

        if (names.Count > 2)
        {
            cursor.Say(NameFault.ParentsUnordered, Severity.Note, string.Join(" × ", names.Select(name => name.ToText())), "Three or more parents in a row: put the earlier cross in parentheses to say which bore seed.");
        }

        return new OrchidName { Sort = NameSort.Formula, Parents = [.. names] };
    }

    private static OrchidName Term(NameCursor cursor, string? contextGenus, OrchidName? firstParent)
    {
        if (!cursor.Take(TokenSort.Open))
        {
            return SingleNameReader.Read(cursor, contextGenus, firstParent, inner => Expression(cursor, inner));
        }

        var inside = Expression(cursor, contextGenus);
        CloseParenthesis(cursor);
        return SingleNameReader.CloneOf(cursor, inside);
    }

    internal static void CloseParenthesis(NameCursor cursor)
    {
        if (!cursor.Take(TokenSort.Close))
        {
            cursor.Say(NameFault.ParenthesisUnmatched, Severity.Warning, "(", "A parenthesis is opened and never closed.");
        }
    }
}

/// <summary>Where the reader stands, and what it found so far.</summary>
internal sealed class NameCursor(List<NameToken> tokens)
{
    private static readonly NameToken s_end = new(TokenSort.End, "");
    private readonly List<NameFinding> _findings = [];
    private int _at;

    public IReadOnlyList<NameFinding> Findings => _findings;
    public NameToken Now => Ahead(0);

    public NameToken Ahead(int by) => _at + by < tokens.Count ? tokens[_at + by] : s_end;

    public NameToken Next()
    {
        var token = Now;
        _at++;
        return token;
    }

    public bool Take(TokenSort sort)
    {
        if (Now.Sort != sort)
        {
            return false;
        }

        _at++;
        return true;
    }

    public void ToEnd() => _at = tokens.Count;

    /// <summary>Whether the parenthesis that opens here holds a cross.</summary>
    public bool OpensCross()
    {
        var depth = 0;
        for (var i = 0; Ahead(i).Sort != TokenSort.End; i++)
        {
            depth += Ahead(i).Sort switch { TokenSort.Open => 1, TokenSort.Close => -1, _ => 0 };
            if (depth == 0)
            {
                return false;
            }

            if (Ahead(i).Sort == TokenSort.Times)
            {
                return true;
            }
        }

        return false;
    }

    public bool Has(Severity severity) => _findings.Any(finding => finding.Severity == severity);

    public void Say(NameFault fault, Severity severity, string value, string message) => _findings.Add(new NameFinding(fault, severity, value, message));

    public void Say(IEnumerable<NameFinding> findings) => _findings.AddRange(findings);
}
