using System.CommandLine;
using System.Globalization;

namespace Rootwater.Cli;

/// <summary><c>rootwater evidence year</c> and <c>rootwater evidence tried</c>.</summary>
internal static class SeasonCommands
{
    public static Command Year()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        var climate = new Option<bool>("--climate") { Description = "The climate watch in place of the seasons." };
        return new Command("year", "What to expect of each plant in the coming year, with its band and how good such forecasts were.") { climate, bench, json }.With((result, cancel) => Words.OnBenchAsync("evidence year", result.GetValue(bench), async desks =>
        {
            if (result.GetValue(climate))
            {
                var watch = await desks.Seasons.ClimateAsync(cancel);
                if (result.GetValue(json))
                {
                    return Words.WriteJson(watch);
                }

                Words.WriteTable(["place", "lowest air, °C", "lowest in a pot, °C", "cold days of 30", "genus", "inductive days of 120", "days above shade limit of 30"], watch.SelectMany(place => place.Genera.DefaultIfEmpty().Select(genus => (IReadOnlyList<string?>)
                [
                    place.Place, Figure(place.LowestCelsius), Figure(place.RootLowestCelsius), Figure(place.ColdDaysOf30), genus?.Genus, Figure(genus?.InductiveDays), Figure(genus?.DaysAboveShade30),
                ])));
                return 0;
            }

            var sheet = await desks.Seasons.GetAsync(cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(sheet);
            }

            Words.WriteTable(["plant", "what", "about", "between", "by"], sheet.Forecasts.Select(one => (IReadOnlyList<string?>)
            [
                string.Create(CultureInfo.InvariantCulture, $"{one.Plant.Number} {one.Plant.Name}"), Lower(one.Mark), $"{one.Middle:yyyy-MM-dd}", $"{one.Early:yyyy-MM-dd} to {one.Late:yyyy-MM-dd}", one.Why,
            ]));
            foreach (var record in sheet.Records)
            {
                Console.WriteLine($"{Lower(record.Mark)}, {Lower(record.By)}: {record.Words}");
            }

            return 0;
        }, cancel));
    }

    public static Command Tried()
    {
        var (number, bench, json) = (PlantCommand.Number(), BenchOption.Create(), Words.Json());
        return new Command("tried", "What was given to a plant, by element and product, pH at the root, and how strong the evidence is.") { number, bench, json }.With((result, cancel) => Words.OnBenchAsync("evidence tried", result.GetValue(bench), async desks =>
        {
            var sheet = (await desks.Tried.OfPlantAsync((await PlantCommand.LifeAsync(desks, result.GetValue(number), cancel)).Card.Id, cancel))!;
            if (result.GetValue(json))
            {
                return Words.WriteJson(sheet);
            }

            foreach (var sentence in sheet.Words)
            {
                Console.WriteLine(sentence);
            }

            Words.WriteTable(["product", "cans", "g/L", "from", "to"], sheet.Products.Select(product => (IReadOnlyList<string?>)
                [product.Product, Figure(product.Cans), product.GramsPerLitre.ToString("0.###", CultureInfo.InvariantCulture), $"{product.First:yyyy-MM-dd}", $"{product.Last:yyyy-MM-dd}"]));
            return 0;
        }, cancel));
    }

    private static string Figure(double? value) => value?.ToString("0.#", CultureInfo.InvariantCulture) ?? "";

    private static string Lower<T>(T value) where T : struct, Enum => string.Concat(value.ToString().Select((letter, i) => i > 0 && char.IsUpper(letter) ? " " + char.ToLowerInvariant(letter) : char.ToLowerInvariant(letter).ToString()));
}
