using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using Rootwater.Growing;
using Rootwater.Growing.Pots;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary><c>rootwater pot forecast [FILE]</c>: the water at the root from this feed to the next.</summary>
internal static class PotCommand
{
    private static readonly JsonSerializerOptions s_json = new()
    {
        WriteIndented = true,
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
        Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static Command Create()
    {
        var file = new Argument<string>("FILE")
        {
            Description = "A request in JSON; - or nothing for standard input.",
            DefaultValueFactory = _ => "-",
        };
        var json = new Option<bool>("--json") { Description = "Write JSON in place of a table." };
        var bestPour = new Option<bool>("--best-pour") { Description = "Also search the starting pH and strength that keep the root inside its window longest; the first solution the pot is filled with is the feed." };
        var forecast = new Command("forecast", "Forecast pH, EC, volume and nutrients in a pot. The format is in docs/pot-forecast.md, an example in docs/examples/pot-forecast.json.") { file, json, bestPour };
        forecast.SetAction(result => Forecast(result.GetValue(file)!, result.GetValue(json), result.GetValue(bestPour)));
        var pot = new Command("pot", "What goes on in a pot between feeds.") { forecast };
        foreach (var command in PotBenchCommands.All())
        {
            pot.Add(command);
        }

        return pot;
    }

    private static int Forecast(string file, bool json, bool bestPour)
    {
        try
        {
            var request = PotRequestFile.Read(file == "-" ? Console.In.ReadToEnd() : File.ReadAllText(file));
            var forecast = PotForecaster.Run(request);
            var advice = bestPour ? PotInverse.BestPour(PourFor(request)) : null;
            if (json)
            {
                Console.OutputEncoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
                Console.WriteLine(ToJson(request, forecast, advice));
            }
            else
            {
                ForReading(request, forecast, advice);
            }

            return 0;
        }
        catch (PotInputException problem)
        {
            if (json)
            {
                Console.WriteLine(JsonSerializer.Serialize(new { error = new { problem.Field, problem.Value, problem.Accepted, problem.Message } }, s_json));
            }
            else
            {
                Console.Error.WriteLine("pot forecast: " + problem.Message);
            }

            return 1;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            Console.Error.WriteLine($"pot forecast: '{file}' cannot be read: {problem.Message}");
            return 2;
        }
    }

    /// <summary>The same pot, searched for a better pour of what it was filled with.</summary>
    private static PourRequest PourFor(PotForecastRequest request) => new()
    {
        Setup = request.Setup,
        Climate = request.Climate,
        FeedMolPerKgWater = request.Start.Medium.InMolPerKgWater(),
        Days = request.Days,
        Later = request.Events,
        RootPH = request.RootPH,
        MostEcMicrosiemensPerCm = request.LeachAtEcMicrosiemensPerCm,
        Parameters = request.Parameters,
    };

    private static void ForReading(PotForecastRequest request, PotForecast forecast, PourAdvice? advice)
    {
        AnsiConsole.MarkupLine("[bold]At the root[/] - a forecast, fitted to no reading");
        var table = new Table().Border(TableBorder.Simple);
        foreach (var title in (string[])["day", "root pH", "EC mS/cm", "left mL", "its pH", "N", "K", "Ca"])
        {
            table.AddColumn(title, column => column.NoWrap().Padding(0, 0, 1, 0));
        }

        table.Caption("low..high in brackets; N, K, Ca in mg/L; + after something was poured");
        foreach (var point in forecast.Points.Where(point => point.AfterEvent || point.Hours % 24 == 0 || point.Hours is 6 or 12 || point == forecast.Points[^1]))
        {
            var nutrients = point.Medium.MgPerLitre;
            table.AddRow(
                Text($"{point.Hours / 24:0.##}") + (point.AfterEvent ? "+" : ""),
                Range(point.Medium.PH, 1, "0.0"),
                Range(point.Medium.EcMicrosiemensPerCm, 1000, "0.00"),
                point.Reservoir is { } reservoir ? Text($"{reservoir.Litres * 1000:0}") : "empty",
                point.Reservoir is { } water ? Text($"{water.PH.Value:0.0}") : "-",
                Text($"{nutrients.TotalNitrogen:0}"), Text($"{nutrients[Nutrient.Potassium]:0}"), Text($"{nutrients[Nutrient.Calcium]:0}"));
        }

        AnsiConsole.Write(table);
        var share = forecast.ShareInWindow;
        Console.WriteLine(Text($"In the window {request.RootPH.Low:0.0} to {request.RootPH.High:0.0} for {share.Value:0 %} of the time ({share.Low:0 %} to {share.High:0 %})."));
        Console.WriteLine(Text($"EC creep {Range(forecast.EcCreepMicrosiemensPerCmPerWeek, 1, "0")} µS/cm a week; leach due {Day(forecast.LeachDueDay)}, at the earliest {Day(forecast.LeachDueEarliestDay)}; reservoir empty {Day(forecast.ReservoirEmptyDay)}."));
        if (advice is not null)
        {
            Console.WriteLine(advice.Words);
        }

        foreach (var note in forecast.Notes)
        {
            Console.WriteLine("- " + note);
        }
    }

    private static string ToJson(PotForecastRequest request, PotForecast forecast, PourAdvice? advice) => JsonSerializer.Serialize(
        new
        {
            forecast = true,
            window = request.RootPH,
            shareInWindow = forecast.ShareInWindow,
            ecCreepMicrosiemensPerCmPerWeek = forecast.EcCreepMicrosiemensPerCmPerWeek,
            leachDueDay = forecast.LeachDueDay,
            leachDueEarliestDay = forecast.LeachDueEarliestDay,
            reservoirEmptyDay = forecast.ReservoirEmptyDay,
            evaporationLitresPerDay = forecast.WaterLoss.EvaporationLitresPerDay,
            transpirationLitresPerDay = forecast.WaterLoss.TranspirationLitresPerDay,
            mediumTemperatureC = forecast.WaterLoss.MediumCelsius,
            points = forecast.Points.Select(point => new { point.Hours, point.AfterEvent, medium = Water(point.Medium), reservoir = Water(point.Reservoir) }),
            end = new { forecast.End.BaseHeldMeq, forecast.End.SaltLeftMeq, mediumLitres = forecast.End.Medium.Litres, reservoirLitres = forecast.End.Reservoir.Litres },
            bestPour = advice is null ? null : new { pH = advice.PourPH, advice.Strength, advice.ShareInWindow, advice.AcidMmolPerLitre, advice.BaseMmolPerLitre, advice.Words },
            notes = forecast.Notes,
        }, s_json);

    private static object? Water(ForecastWater? water) => water is null ? null : new
    {
        pH = water.PH,
        ecMicrosiemensPerCm = water.EcMicrosiemensPerCm,
        water.Litres,
        mgPerLitre = Enum.GetValues<Nutrient>().Where(nutrient => water.MgPerLitre[nutrient] > 0).ToDictionary(nutrient => JsonNamingPolicy.CamelCase.ConvertName(nutrient.ToString()), nutrient => water.MgPerLitre[nutrient]),
    };

    private static string Range(Expected value, double per, string format) => string.Create(CultureInfo.InvariantCulture,
        $"{(value.Value / per).ToString(format, CultureInfo.InvariantCulture)} ({(value.Low / per).ToString(format, CultureInfo.InvariantCulture)}..{(value.High / per).ToString(format, CultureInfo.InvariantCulture)})");

    private static string Day(double? day) => day is { } known ? Text($"on day {known:0.0}") : "not in sight";

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
