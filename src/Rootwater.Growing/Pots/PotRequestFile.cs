using System.Text.Json;
using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Pots;

/// <summary>A pot forecast asked for in JSON; the format is in docs/pot-forecast.md.</summary>
public static class PotRequestFile
{
    /// <summary>Reads a request.</summary>
    /// <exception cref="PotInputException">It cannot be used; the exception names the field, what it held and what would do.</exception>
    public static PotForecastRequest Read(string json)
    {
        JsonDocument document;
        try
        {
            document = JsonDocument.Parse(json, new JsonDocumentOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
        }
        catch (JsonException problem)
        {
            throw new PotInputException("request", $"text that is not JSON (line {problem.LineNumber + 1})", "one JSON object as in docs/pot-forecast.md");
        }

        using (document)
        {
            var request = FromRoot(new JsonFields(document.RootElement, ""));
            request.Check();
            return request;
        }
    }

    private static PotForecastRequest FromRoot(JsonFields root)
    {
        var setup = Pot(root.Object("pot"));
        var climate = Climate(root.OptionalObject("climate"));
        var solutions = root.Object("solutions");
        var poured = solutions.Names().ToDictionary(name => name, name => Solution(solutions.Object(name), climate), StringComparer.Ordinal);
        var days = root.Number("days", 7);
        var defaults = new PotForecastRequest { Setup = setup, Climate = climate, Start = PotState.FilledWith(setup, ComponentAmounts.Zero), RootPH = default };
        var request = defaults with
        {
            Start = Start(root.Object("start"), setup, poured),
            Events = [.. root.OptionalArray("events").Select(one => Event(one, poured))],
            Days = days,
            RootPH = Window(root.Object("window")),
            LeachAtEcMicrosiemensPerCm = root.Number("ecLimitMicrosiemensPerCm", defaults.LeachAtEcMicrosiemensPerCm),
            PointEveryHours = root.OptionalNumber("pointEveryHours"),
        };
        root.RequireAllRead();
        return request;
    }

    private static PotSetup Pot(JsonFields pot)
    {
        var medium = MediumOf(pot.Text("medium", Media.Default.Id), pot.OptionalObject("mediumValues"));
        var setup = new PotSetup
        {
            Id = Guid.Empty,
            Medium = medium,
            MediumLitres = pot.Number("mediumLitres"),
            ReservoirLitres = pot.Number("reservoirLitres", 0),
            Culture = pot.Choice<Culture>("culture", "wicking"),
            LeafAreaSquareMetres = pot.Number("leafAreaSquareCentimetres") / 1e4,
        };
        pot.RequireAllRead();
        return setup;
    }

    /// <summary>A medium of the list, with what a soak of one's own has shown put in its place.</summary>
    private static Medium MediumOf(string id, JsonFields? values)
    {
        var medium = Media.ById(id);
        if (values is null)
        {
            return medium;
        }

        var own = medium with
        {
            WaterHeldLitresPerLitre = values.NumberWithin("waterHeldLitresPerLitre", medium.WaterHeldLitresPerLitre, 0.01, 0.95),
            BaseMeqPerLitre = values.NumberWithin("baseMeqPerLitre", medium.BaseMeqPerLitre, 0, 500),
            AcidMeqPerLitre = values.NumberWithin("acidMeqPerLitre", medium.AcidMeqPerLitre, 0, 500),
            RestingPH = values.NumberWithin("restingPH", medium.RestingPH, 3, 10.5),
            ExchangePerDay = values.NumberWithin("exchangePerDay", medium.ExchangePerDay, 0, 20),
            SaltMeqPerLitre = values.NumberWithin("saltMeqPerLitre", medium.SaltMeqPerLitre, 0, 500),
            Source = "given in the request; the rest: " + medium.Source,
        };
        values.RequireAllRead();
        return own;
    }

    private static PotClimate Climate(JsonFields? climate)
    {
        var defaults = new PotClimate();
        if (climate is null)
        {
            return defaults;
        }

        var read = new PotClimate
        {
            AirTemperatureCelsius = climate.Number("airTemperatureC", defaults.AirTemperatureCelsius),
            RelativeHumidityPercent = climate.Number("relativeHumidityPercent", defaults.RelativeHumidityPercent),
            LightHoursPerDay = climate.Number("lightHoursPerDay", defaults.LightHoursPerDay),
            Log10PotPCO2Atmospheres = climate.Number("log10PotPCO2", defaults.Log10PotPCO2Atmospheres),
        };
        climate.RequireAllRead();
        read.Check();
        return read;
    }

    private static ComponentAmounts Solution(JsonFields solution, PotClimate climate)
    {
        var unit = solution.Text("unit", "mmol");
        if (unit is not ("mmol" or "mg"))
        {
            throw new PotInputException(solution.PathOf("unit"), unit, "\"mmol\" or \"mg\", of reagent per litre");
        }

        var reagents = solution.Object("reagents");
        var totals = ComponentAmounts.Zero;
        foreach (var name in reagents.Names())
        {
            if (!Formula.TryParse(name, out var formula, out var reason))
            {
                throw new PotInputException(reagents.PathOf(name), name, $"a chemical formula such as Ca(NO3)2·4H2O ({reason})");
            }

            var amount = reagents.NumberWithin(name, null, 0, 1e6);
            totals = totals.PlusScaled(formula!.ComponentsPerMole, unit == "mg" ? amount / 1000 / formula.GramsPerMole : amount / 1000);
        }

        var ph = solution.OptionalNumber("pH");
        solution.RequireAllRead();
        if (ph is not { } target)
        {
            return totals;
        }

        PotInputException.RequireWithin(solution.PathOf("pH"), target, 3, 10, "(pH)");
        return PotInverse.AtPH(totals, target, celsius: climate.AirTemperatureCelsius).Poured;
    }

    private static PotState Start(JsonFields start, PotSetup setup, Dictionary<string, ComponentAmounts> solutions)
    {
        setup.Check();
        var filled = PotState.FilledWith(setup, Named(start, "filledWith", solutions));
        var state = filled with
        {
            BaseHeldMeq = start.Number("baseHeldMeq", filled.BaseHeldMeq),
            SaltLeftMeq = start.Number("saltLeftMeq", filled.SaltLeftMeq),
        };
        start.RequireAllRead();
        return state;
    }

    private static PotEvent Event(JsonFields one, Dictionary<string, ComponentAmounts> solutions)
    {
        var what = new PotEvent(one.Choice<PotEventKind>("kind", null), one.Number("day") * 24, one.Number("litres"), Named(one, "solution", solutions));
        one.RequireAllRead();
        return what;
    }

    private static Band Window(JsonFields window)
    {
        var (low, high) = (window.Number("low"), window.Number("high"));
        var band = new Band(low, window.Number("ideal", (low + high) / 2), high);
        window.RequireAllRead();
        return band;
    }

    private static ComponentAmounts Named(JsonFields fields, string field, Dictionary<string, ComponentAmounts> solutions)
    {
        var name = fields.Text(field, null);
        return solutions.TryGetValue(name, out var solution) ? solution : throw new PotInputException(fields.PathOf(field), name, "one of the solutions: " + string.Join(", ", solutions.Keys));
    }
}
