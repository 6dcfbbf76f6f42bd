using System.CommandLine;
using System.Globalization;
using Rootwater.Growing;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Cli;

/// <summary><c>rootwater reading</c>: readings of pots, in and out.</summary>
internal static class ReadingCommand
{
    public static Command Create() => new("reading", "Readings of a plant's reservoir or runoff.") { List(), Add() };

    private static Command List()
    {
        var (number, bench, json) = (PlantCommand.Number(), BenchOption.Create(), Words.Json());
        var reader = UnitsOption.Create();
        return new Command("list", "A plant's readings, oldest first.") { number, reader, bench, json }.With((result, cancel) => Words.OnBenchAsync("reading list", result.GetValue(bench), async desks =>
        {
            var plant = (await PlantCommand.LifeAsync(desks, result.GetValue(number), cancel)).Card.Id;
            var readings = await desks.Readings.ListAsync(new ReadingQuery { PlantId = plant }, cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(readings);
            }

            var units = await UnitsOption.OfAsync(desks, result.GetValue(reader), cancel);
            Words.WriteTable(["at", "of", units.EcUnit(), "pH", units.CelsiusUnit(), "note"], readings.Select(reading => (IReadOnlyList<string?>)
            [
                reading.At.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture), reading.Of.ToString().ToLowerInvariant(), units.Ec(reading.EcMicrosiemensPerCm),
                reading.PH?.ToString("0.0#", CultureInfo.InvariantCulture), units.Celsius(reading.TemperatureCelsius), reading.Note,
            ]));
            return 0;
        }, cancel));
    }

    private static Command Add()
    {
        var (number, bench, json) = (PlantCommand.Number(), BenchOption.Create(), Words.Json());
        var of = new Option<ReadingOf>("--of") { Description = "Reservoir or Runoff.", DefaultValueFactory = _ => ReadingOf.Reservoir };
        var ec = new Option<double?>("--ec") { Description = "mS/cm at 25 °C, 0 to 50; with --reader in the scale set on the bench." };
        var pH = new Option<double?>("--ph") { Description = "0 to 14." };
        var temperature = new Option<double?>("--temperature") { Description = "°C; with --reader in the unit set on the bench." };
        var note = new Option<string?>("--note") { Description = "In your own words." };
        var reader = UnitsOption.Create();
        return new Command("add", "Keep what the pens read.") { number, of, ec, pH, temperature, note, reader, bench, json }.With((result, cancel) => Words.OnBenchAsync("reading add", result.GetValue(bench), async desks =>
        {
            var plant = (await PlantCommand.LifeAsync(desks, result.GetValue(number), cancel)).Card;
            var units = await UnitsOption.OfAsync(desks, result.GetValue(reader), cancel);
            var fact = new NewFact
            {
                Id = Guid.CreateVersion7(),
                SubjectId = plant.Id,
                Payload = new ReadingTaken
                {
                    ReadingId = Guid.CreateVersion7(),
                    Of = result.GetValue(of),
                    PlantId = plant.Id,
                    PotId = plant.Pot?.Id,
                    EcMicrosiemensPerCm = result.GetValue(ec) is { } shown ? units.Ec.ToMicrosiemens(shown) : null,
                    PH = result.GetValue(pH),
                    TemperatureCelsius = result.GetValue(temperature) is { } warm ? units.Temperature.ToCelsius(warm) : null,
                    Note = result.GetValue(note),
                },
            };
            await desks.Facts.WriteAsync([fact], cancel: cancel);
            return PlantCommand.Kept(result.GetValue(json), fact.Id);
        }, cancel));
    }
}
