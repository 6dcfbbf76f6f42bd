using System.Globalization;

namespace Rootwater.Chemistry.Formulas;

/// <summary>
/// Reads the text of a formula. Grammar: formula = part { separator part }; part = [number] unit { unit };
/// unit = (group | word | element | bracketed) [count]; a separator (· . * • : ⋅) stands between whole parts, so that the dots of
/// "CaSO4.0.5H2O" are a separator and a decimal point.
/// </summary>
internal sealed class FormulaReader
{
    private const string Separators = "·.*•:⋅∙";
    private const string Subscripts = "₀₁₂₃₄₅₆₇₈₉";
    private const double MostAtoms = 1000;

    private readonly string _text;
    private int _at;

    public FormulaReader(string text) => _text = Normalise(text);

    public FormulaContents Read()
    {
        if (_text.Length == 0)
        {
            throw new FormatException("The formula is empty: write one such as KNO3 or MgSO4·7H2O.");
        }

        var all = new FormulaContents();
        while (true)
        {
            var times = Coefficient();
            all.Add(Units(closing: null), times);
            if (_at == _text.Length)
            {
                break;
            }

            _at++;
            if (_at == _text.Length)
            {
                throw Problem("ends with a separator");
            }
        }

        if (all.Atoms.Values.Any(count => count > MostAtoms))
        {
            throw Problem($"has more than {MostAtoms} atoms of one element");
        }

        return all;
    }

    private static string Normalise(string text)
    {
        var trimmed = text.Trim().ToCharArray();
        for (var i = 0; i < trimmed.Length; i++)
        {
            var subscript = Subscripts.IndexOf(trimmed[i], StringComparison.Ordinal);
            if (subscript >= 0)
            {
                trimmed[i] = (char)('0' + subscript);
            }
        }

        return new string(trimmed).Replace(" ", "", StringComparison.Ordinal).Replace("½", "0.5", StringComparison.Ordinal);
    }

    private FormulaContents Units(char? closing)
    {
        var contents = new FormulaContents();
        var started = _at;
        while (_at < _text.Length && _text[_at] != closing && !Separators.Contains(_text[_at]))
        {
            var unit = Group() ?? Bracketed() ?? Element();
            contents.Add(unit, Count());
        }

        if (_at == started)
        {
            throw Problem(_at < _text.Length ? $"has nothing before '{_text[_at]}'" : "stops too early");
        }

        return contents;
    }

    private FormulaContents? Group()
    {
        foreach (var group in FormulaGroups.All)
        {
            var comparison = group.IsWord ? StringComparison.OrdinalIgnoreCase : StringComparison.Ordinal;
            if (string.Compare(_text, _at, group.Written, 0, group.Written.Length, comparison) != 0 || CutsNumber(_at + group.Written.Length, group))
            {
                continue;
            }

            _at += group.Written.Length;
            var contents = new FormulaContents { HasWords = group.IsWord };
            foreach (var (element, count) in group.Atoms)
            {
                contents.AddAtoms(element, count);
            }

            (group.NeedsIron ? contents.IronChelators : contents.Groups)[group.Component] = 1;
            return contents;
        }

        return null;
    }

    /// <summary>"C6H5O7" must not be found in "C6H5O70", nor "NO3" in "NO35"; nor "NH3" where the 3 belongs to a longer number.</summary>
    private bool CutsNumber(int end, FormulaGroups.Group group) => !group.IsWord && end < _text.Length && char.IsAsciiDigit(_text[end]) && char.IsAsciiDigit(_text[end - 1]);

    private FormulaContents? Bracketed()
    {
        var close = _text[_at] switch { '(' => ')', '[' => ']', '{' => '}', _ => '\0' };
        if (close == '\0')
        {
            return null;
        }

        var opened = _at++;
        var inside = Units(close);
        if (_at == _text.Length || _text[_at] != close)
        {
            _at = opened;
            throw Problem("has a bracket that is never closed");
        }

        _at++;
        return inside;
    }

    private FormulaContents Element()
    {
        if (!char.IsAsciiLetterUpper(_text[_at]))
        {
            throw Problem($"has '{_text[_at]}' where an element, a group or a bracket should start");
        }

        foreach (var length in (ReadOnlySpan<int>)[2, 1])
        {
            if (_at + length <= _text.Length && (length == 1 || char.IsAsciiLetterLower(_text[_at + 1])) && AtomicWeights.Knows(_text.Substring(_at, length)))
            {
                var contents = new FormulaContents();
                contents.AddAtoms(_text.Substring(_at, length), 1);
                _at += length;
                return contents;
            }
        }

        throw Problem($"has '{_text[_at..Math.Min(_at + 2, _text.Length)]}', which is no element of the table");
    }

    private double Coefficient()
    {
        var start = _at;
        while (_at < _text.Length && char.IsAsciiDigit(_text[_at]))
        {
            _at++;
        }

        if (_at > start && _at + 1 < _text.Length && _text[_at] == '.' && char.IsAsciiDigit(_text[_at + 1]))
        {
            _at++;
            while (_at < _text.Length && char.IsAsciiDigit(_text[_at]))
            {
                _at++;
            }
        }

        return Number(start) ?? 1;
    }

    private double Count()
    {
        var start = _at;
        while (_at < _text.Length && char.IsAsciiDigit(_text[_at]))
        {
            _at++;
        }

        return Number(start) ?? 1;
    }

    private double? Number(int start)
    {
        if (_at == start)
        {
            return null;
        }

        var value = double.Parse(_text.AsSpan(start, _at - start), CultureInfo.InvariantCulture);
        return value is > 0 and <= MostAtoms ? value : throw Problem($"has the number {_text[start.._at]}: above 0 and at most {MostAtoms} is accepted");
    }

    private FormatException Problem(string what) => new($"The formula '{_text}' {what} (character {Math.Min(_at, _text.Length) + 1}).");
}
