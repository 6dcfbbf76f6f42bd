using System.Globalization;

namespace Rootwater.Growing.Evidence.Fitting;

/// <summary>A curve written as text, with its exact derivatives: numbers, names, + - * / ^, parentheses, exp, log (natural), log10, sqrt, sin, cos, tan, atan, abs, pi.</summary>
public sealed class CurveFormula
{
    private static readonly string[] s_functions = ["exp", "log", "ln", "log10", "sqrt", "sin", "cos", "tan", "atan", "arctan", "abs"];
    private readonly List<(Op Op, double Number, int Name)> _program = [];
    private readonly List<string> _names = [];
    private readonly string _text;
    private int _at;

    private CurveFormula(string text) => _text = text;

    private enum Op
    {
        Number, Name, Add, Subtract, Multiply, Divide, Power, Negate, Exp, Log, Log10, Sqrt, Sin, Cos, Tan, Atan, Abs,
    }

    /// <summary>The names in it, in order of first appearance.</summary>
    public IReadOnlyList<string> Names => _names;

    /// <exception cref="EvidenceInputException">Where it cannot be read, and what was expected there.</exception>
    public static CurveFormula Parse(string text)
    {
        var formula = new CurveFormula(text);
        formula.Sum();
        if (formula.Peek() != '\0')
        {
            throw formula.Wrong("an operator or the end");
        }

        return formula;
    }

    /// <summary>The value, with its derivative by each of the first <paramref name="gradient"/>.Length names.</summary>
    public double Evaluate(ReadOnlySpan<double> values, Span<double> gradient)
    {
        var p = gradient.Length;
        var stack = new double[16 + _program.Count];
        var slope = new double[(16 + _program.Count) * Math.Max(1, p)];
        var top = -1;
        foreach (var (op, number, name) in _program)
        {
            if (op is Op.Number or Op.Name)
            {
                top++;
                stack[top] = op is Op.Number ? number : values[name];
                for (var j = 0; j < p; j++)
                {
                    slope[top * p + j] = op is Op.Name && name == j ? 1 : 0;
                }

                continue;
            }

            if (op is Op.Add or Op.Subtract or Op.Multiply or Op.Divide or Op.Power)
            {
                top--;
                var (a, b) = (stack[top], stack[top + 1]);
                var (value, byA, byB) = op switch
                {
                    Op.Add => (a + b, 1.0, 1.0),
                    Op.Subtract => (a - b, 1, -1),
                    Op.Multiply => (a * b, b, a),
                    Op.Divide => (a / b, 1 / b, -a / (b * b)),
                    _ => (Math.Pow(a, b), b == 0 ? 0 : b * Math.Pow(a, b - 1), a > 0 ? Math.Pow(a, b) * Math.Log(a) : 0),
                };
                stack[top] = value;
                for (var j = 0; j < p; j++)
                {
                    slope[top * p + j] = byA * slope[top * p + j] + byB * slope[(top + 1) * p + j];
                }

                continue;
            }

            var x = stack[top];
            var (result, by) = op switch
            {
                Op.Negate => (-x, -1.0),
                Op.Exp => (Math.Exp(x), Math.Exp(x)),
                Op.Log => (Math.Log(x), 1 / x),
                Op.Log10 => (Math.Log10(x), 1 / (x * Math.Log(10))),
                Op.Sqrt => (Math.Sqrt(x), 0.5 / Math.Sqrt(x)),
                Op.Sin => (Math.Sin(x), Math.Cos(x)),
                Op.Cos => (Math.Cos(x), -Math.Sin(x)),
                Op.Tan => (Math.Tan(x), 1 / (Math.Cos(x) * Math.Cos(x))),
                Op.Atan => (Math.Atan(x), 1 / (1 + x * x)),
                _ => (Math.Abs(x), Math.Sign(x)),
            };
            stack[top] = result;
            for (var j = 0; j < p; j++)
            {
                slope[top * p + j] *= by;
            }
        }

        for (var j = 0; j < p; j++)
        {
            gradient[j] = slope[j];
        }

        return stack[0];
    }

    /// <summary>Renumbers the names: these first, in this order; the others after.</summary>
    internal CurveFormula With(IReadOnlyList<string> first)
    {
        var ordered = new CurveFormula(_text);
        ordered._names.AddRange(first);
        ordered._names.AddRange(_names.Where(name => !first.Contains(name)));
        ordered._program.AddRange(_program.Select(step => step.Op is Op.Name ? (step.Op, step.Number, ordered._names.IndexOf(_names[step.Name])) : step));
        return ordered;
    }

    private void Sum()
    {
        Product();
        while (Peek() is '+' or '-')
        {
            var op = Take() == '+' ? Op.Add : Op.Subtract;
            Product();
            _program.Add((op, 0, 0));
        }
    }

    private void Product()
    {
        Signed();
        while (Peek() is '*' or '/')
        {
            var op = Take() == '*' ? Op.Multiply : Op.Divide;
            Signed();
            _program.Add((op, 0, 0));
        }
    }

    // -x^2 is -(x^2); 2^-1 is allowed.
    private void Signed()
    {
        if (Peek() == '-')
        {
            Take();
            Signed();
            _program.Add((Op.Negate, 0, 0));
            return;
        }

        if (Peek() == '+')
        {
            Take();
        }

        Atom();
        if (Peek() == '^' || Peek() == '*' && _at + 1 < _text.Length && _text[_at + 1] == '*')
        {
            if (Take() == '*')
            {
                Take();
            }

            Signed();
            _program.Add((Op.Power, 0, 0));
        }
    }

    private void Atom()
    {
        var c = Peek();
        if (c is '(' or '[')
        {
            Take();
            Sum();
            if (Peek() is not (')' or ']'))
            {
                throw Wrong("a closing parenthesis");
            }

            Take();
        }
        else if (char.IsAsciiDigit(c) || c == '.')
        {
            var from = _at;
            while (_at < _text.Length && (char.IsAsciiDigit(_text[_at]) || _text[_at] == '.' || _text[_at] is 'e' or 'E' || _text[_at] is '+' or '-' && _text[_at - 1] is 'e' or 'E'))
            {
                _at++;
            }

            if (!double.TryParse(_text.AsSpan(from, _at - from), NumberStyles.Float, CultureInfo.InvariantCulture, out var number))
            {
                _at = from;
                throw Wrong("a number");
            }

            _program.Add((Op.Number, number, 0));
        }
        else if (char.IsLetter(c) || c == '_')
        {
            Word();
        }
        else
        {
            throw Wrong("a number, a name or a parenthesis");
        }
    }

    private void Word()
    {
        var from = _at;
        while (_at < _text.Length && (char.IsLetterOrDigit(_text[_at]) || _text[_at] is '_' or '.'))
        {
            _at++;
        }

        var word = _text[from.._at];
        if (Peek() is '(' or '[' && s_functions.Contains(word))
        {
            Atom();
            _program.Add((word switch
            {
                "exp" => Op.Exp,
                "log" or "ln" => Op.Log,
                "log10" => Op.Log10,
                "sqrt" => Op.Sqrt,
                "sin" => Op.Sin,
                "cos" => Op.Cos,
                "tan" => Op.Tan,
                "abs" => Op.Abs,
                _ => Op.Atan,
            }, 0, 0));
            return;
        }

        if (Peek() is '(' or '[')
        {
            throw new EvidenceInputException("formula", word, "one of the functions " + string.Join(", ", s_functions));
        }

        if (word == "pi")
        {
            _program.Add((Op.Number, Math.PI, 0));
            return;
        }

        if (!_names.Contains(word))
        {
            _names.Add(word);
        }

        _program.Add((Op.Name, 0, _names.IndexOf(word)));
    }

    private char Peek()
    {
        while (_at < _text.Length && char.IsWhiteSpace(_text[_at]))
        {
            _at++;
        }

        return _at < _text.Length ? _text[_at] : '\0';
    }

    private char Take()
    {
        var c = Peek();
        _at++;
        return c;
    }

    private EvidenceInputException Wrong(string expected) =>
        new("formula", $"\"{_text}\" at place {_at + 1}", expected);
}
