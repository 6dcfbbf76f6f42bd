using System.Text.Json;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;

namespace Rootwater.Cli.Solving;

/// <summary>One line of <c>rootwater solve</c>, read straight from its bytes. One instance is used over and over.</summary>
internal sealed class SolveRequest
{
    private const int MostRemembered = 4096;

    private readonly Dictionary<string, Formula> _formulas = [];
    private readonly Dictionary<string, Formula>.AlternateLookup<ReadOnlySpan<char>> _formulasBySpan;
    private readonly List<(string Field, Formula Formula, double Amount)> _reagents = [];
    private readonly char[] _name = new char[256];
    private double[] _mol = new double[ComponentAmounts.Count];

    public SolveRequest() => _formulasBySpan = _formulas.GetAlternateLookup<ReadOnlySpan<char>>();

    public string? Id { get; private set; }

    public SolveConditions Conditions { get; private set; } = SolveConditions.Default;

    public ComponentAmounts MolPerKgWater { get; private set; } = ComponentAmounts.Zero;

    /// <summary>Reads a line.</summary>
    /// <exception cref="SolveProblem">A field is unknown or holds what is not accepted.</exception>
    /// <exception cref="JsonException">The line is no JSON object.</exception>
    public void Read(ReadOnlySpan<byte> line)
    {
        Id = null;
        _reagents.Clear();
        var temperature = Temperature.Reference;
        var perLitre = false;
        var milligrams = false;
        var air = Air.Closed;
        var hasReagents = false;
        SolveProblem? first = null;

        var reader = new Utf8JsonReader(line);
        if (!reader.Read() || reader.TokenType != JsonTokenType.StartObject)
        {
            throw new JsonException("The line is not a JSON object.");
        }

        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            try
            {
                if (reader.ValueTextEquals("id"u8))
                {
                    reader.Read();
                    Id = reader.TokenType == JsonTokenType.String ? reader.GetString() : throw new SolveProblem("id", "The id must be a string.");
                }
                else if (reader.ValueTextEquals("temperatureC"u8))
                {
                    temperature = ReadTemperature(ref reader);
                }
                else if (reader.ValueTextEquals("per"u8))
                {
                    perLitre = ReadChoice(ref reader, "per", "kgw"u8, "litre"u8);
                }
                else if (reader.ValueTextEquals("unit"u8))
                {
                    milligrams = ReadChoice(ref reader, "unit", "mmol"u8, "mg"u8);
                }
                else if (reader.ValueTextEquals("air"u8))
                {
                    air = ReadAir(ref reader);
                }
                else if (reader.ValueTextEquals("reagents"u8))
                {
                    hasReagents = true;
                    ReadReagents(ref reader);
                }
                else
                {
                    var name = reader.GetString()!;
                    throw new SolveProblem(name, $"'{name}' is not a field: id, temperatureC, per, unit, reagents and air are.");
                }
            }
            catch (SolveProblem problem)
            {
                // Keep reading, so that the id and broken JSON further on are still found.
                first ??= problem;
                reader = AfterProperty(line, reader);
            }
        }

        if (reader.TokenType != JsonTokenType.EndObject || reader.Read())
        {
            throw new JsonException("The line holds more than one JSON object.");
        }

        if (first is not null)
        {
            throw first;
        }

        if (!hasReagents)
        {
            throw new SolveProblem("reagents", "There are no reagents: an object of formula and amount is expected, {} for pure water.");
        }

        Conditions = new SolveConditions { Temperature = temperature, Air = air };
        MolPerKgWater = Totals(milligrams, perLitre, temperature);
    }

    /// <summary>A reader standing behind the property that <paramref name="failed"/> stopped in.</summary>
    private static Utf8JsonReader AfterProperty(ReadOnlySpan<byte> line, Utf8JsonReader failed)
    {
        var reader = new Utf8JsonReader(line);
        var end = failed.BytesConsumed;
        while (reader.Read())
        {
            if (reader.CurrentDepth == 1 && reader.TokenType == JsonTokenType.PropertyName)
            {
                var at = reader;
                at.Read();
                at.TrySkip();
                if (at.BytesConsumed >= end)
                {
                    return at;
                }
            }
        }

        return reader;
    }

    private static Temperature ReadTemperature(ref Utf8JsonReader reader)
    {
        reader.Read();
        return reader.TokenType == JsonTokenType.Number && reader.GetDouble() is >= 0 and <= 50 and var celsius
            ? Temperature.FromCelsius(celsius)
            : throw new SolveProblem("temperatureC", "The temperature must be a number from 0 to 50 °C.");
    }

    private static bool ReadChoice(ref Utf8JsonReader reader, string field, ReadOnlySpan<byte> usual, ReadOnlySpan<byte> other)
    {
        reader.Read();
        if (reader.TokenType == JsonTokenType.String)
        {
            if (reader.ValueTextEquals(usual))
            {
                return false;
            }

            if (reader.ValueTextEquals(other))
            {
                return true;
            }
        }

        throw new SolveProblem(field, $"'{field}' must be \"{System.Text.Encoding.UTF8.GetString(usual)}\" or \"{System.Text.Encoding.UTF8.GetString(other)}\".");
    }

    private static Air ReadAir(ref Utf8JsonReader reader)
    {
        const string Accepted = "The air must be {\"closed\":true} or {\"log10pCO2\":-3.4}, a number from -8 to 0.5 (atm).";
        reader.Read();
        if (reader.TokenType != JsonTokenType.StartObject)
        {
            throw new SolveProblem("air", Accepted);
        }

        Air? air = null;
        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            if (air is not null)
            {
                throw new SolveProblem("air", Accepted);
            }

            if (reader.ValueTextEquals("closed"u8))
            {
                reader.Read();
                air = reader.TokenType == JsonTokenType.True ? Air.Closed : throw new SolveProblem("air.closed", Accepted);
            }
            else if (reader.ValueTextEquals("log10pCO2"u8))
            {
                reader.Read();
                air = reader.TokenType == JsonTokenType.Number && reader.GetDouble() is >= -8 and <= 0.5 and var pressure
                    ? Air.Open(pressure)
                    : throw new SolveProblem("air.log10pCO2", Accepted);
            }
            else
            {
                throw new SolveProblem($"air.{reader.GetString()}", Accepted);
            }
        }

        return air ?? throw new SolveProblem("air", Accepted);
    }

    private void ReadReagents(ref Utf8JsonReader reader)
    {
        reader.Read();
        if (reader.TokenType != JsonTokenType.StartObject)
        {
            throw new SolveProblem("reagents", "The reagents must be an object of formula and amount, as {\"KNO3\":5}.");
        }

        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            var formula = Remembered(ref reader);
            var field = formula.Text;
            reader.Read();
            if (reader.TokenType != JsonTokenType.Number || !reader.TryGetDouble(out var amount) || !double.IsFinite(amount))
            {
                throw new SolveProblem($"reagents.{field}", $"The amount of {field} must be a finite number.");
            }

            if (amount < 0)
            {
                throw new SolveProblem($"reagents.{field}", FormattableString.Invariant($"The amount of {field} is {amount}: it must be 0 or more."));
            }

            _reagents.Add((field, formula, amount));
        }
    }

    private Formula Remembered(ref Utf8JsonReader reader)
    {
        ReadOnlySpan<char> name;
        if (reader.ValueSpan.Length <= _name.Length)
        {
            name = _name.AsSpan(0, reader.CopyString(_name));
            if (_formulasBySpan.TryGetValue(name, out var known))
            {
                return known;
            }
        }

        var text = reader.GetString()!;
        if (!Formula.TryParse(text, out var formula, out var reason))
        {
            throw new SolveProblem($"reagents.{text}", reason!);
        }

        if (_formulas.Count >= MostRemembered)
        {
            _formulas.Clear();
        }

        _formulas[text] = formula!;
        return formula!;
    }

    private ComponentAmounts Totals(bool milligrams, bool perLitre, Temperature temperature)
    {
        Array.Clear(_mol);
        foreach (var (field, formula, amount) in _reagents)
        {
            var moles = milligrams ? amount / 1000 / formula.GramsPerMole : amount / 1000;
            const double MostMoles = 20;
            if (moles > MostMoles)
            {
                throw new SolveProblem($"reagents.{field}", FormattableString.Invariant($"{moles:0.###} mol of {field} cannot be in a kilogram of water: at most {MostMoles} mol is accepted."));
            }

            var components = formula.ComponentsPerMole.AsSpan();
            for (var c = 0; c < components.Length; c++)
            {
                _mol[c] += moles * components[c];
            }
        }

        var totals = ComponentAmounts.FromSpan(_mol);
        try
        {
            return perLitre ? SolutionVolume.MolPerKgWaterFromMolPerLitre(totals, temperature) : totals;
        }
        catch (ArgumentOutOfRangeException)
        {
            throw new SolveProblem("reagents", "There is no room for water in a litre that holds this much.");
        }
    }
}
