using System.Globalization;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Web.Numbers;
using Rootwater.Web.Texts;

namespace Rootwater.Web.Pages.Plant.Entries;

/// <summary>Sheets for readings of a pot and of a place.</summary>
public static class ReadingForms
{
    /// <summary>A reading of the pot a plant stands in, or one that is to be put right.</summary>
    public static EntryForm OfPot(EntryContext context, PlantWords say, ReadingTaken? taken = null)
    {
        var form = new EntryForm(EntryKind.Reading, PotFields(say, context.Bench.Units), (form, life, read) => [Pot(form, read, life.Life.Card.Id, taken?.PotId ?? life.Life.Card.Pot?.Id)]) { About = $"{context.Life.Card.Number}" };
        if (taken is null)
            return form;
        form.Keep(0, taken.ReadingId);
        form["of"].Value = taken.Of.ToString();
        form[Measured.EcField].Value = Text(taken.EcMicrosiemensPerCm, ec => context.Bench.Units.Ec.FromMicrosiemens(ec));
        form[Measured.PHField].Value = Text(taken.PH);
        form[Measured.TemperatureField].Value = Text(taken.TemperatureCelsius, celsius => context.Bench.Units.Temperature.FromCelsius(celsius));
        form[Measured.LevelField].Value = Text(taken.LevelShare * 100);
        form["note"].Value = taken.Note ?? "";
        return form;
    }

    /// <summary>A pot by the number of its plant.</summary>
    public static EntryForm ByNumber(PlantWords say, ReadersUnits units, string number) => new(
        EntryKind.Reading, [new FormField("plant", FieldShape.Number) { Value = number, Hint = "HintPlant" }, .. PotFields(say, units)], (_, _, _) => []);

    /// <summary>A reading of a place as it stands, to be put right.</summary>
    public static EntryForm PutRight(IReadOnlyList<Place> places, BenchSettings bench, ReadingView taken)
    {
        var form = OfPlace(places, bench.Units).Keep(0, taken.Id);
        (form.Corrects, form.When) = (taken.FactId, WhenEntry.From(FactWhen.AtMinute(taken.At, bench.Zone)));
        form["place"].Value = taken.PlaceId?.ToString() ?? "";
        form[Measured.TemperatureField].Value = Text(taken.TemperatureCelsius, celsius => bench.Units.Temperature.FromCelsius(celsius));
        form[Measured.HumidityField].Value = Text(taken.RelativeHumidity * 100);
        form[Measured.PpfdField].Value = Text(taken.PpfdMicromolesPerSquareMetrePerSecond);
        form[Measured.LuxField].Value = Text(taken.Lux);
        form["note"].Value = taken.Note ?? "";
        return form;
    }

    /// <summary>Air and light at a place.</summary>
    public static EntryForm OfPlace(IReadOnlyList<Place> places, ReadersUnits units) => new(
        EntryKind.Reading,
        [
            new FormField("place", FieldShape.Choice) { Options = [.. places.Select(place => new FieldOption(place.Id.ToString(), place.Name))], Value = places.Count > 0 ? places[0].Id.ToString() : "" },
            new FormField(Measured.TemperatureField, FieldShape.Number) { Unit = units.Temperature == TemperatureUnit.Fahrenheit ? "°F" : "°C" },
            new FormField(Measured.HumidityField, FieldShape.Number) { Unit = "%" },
            new FormField(Measured.PpfdField, FieldShape.Number) { Unit = "µmol m⁻² s⁻¹", Under = "UnderLight" },
            new FormField(Measured.LuxField, FieldShape.Number) { Unit = "lx", Hint = "HintLux" },
            new FormField("note", FieldShape.Words),
        ],
        (_, _, _) => []);

    /// <summary>The reading a filled pot sheet stands for.</summary>
    public static Draft Pot(EntryForm form, Measured read, Guid plant, Guid? pot)
    {
        var taken = new ReadingTaken
        {
            ReadingId = form.Fresh(0),
            Of = form.Choice<ReadingOf>("of") ?? ReadingOf.Reservoir,
            PlantId = plant,
            PotId = pot,
            EcMicrosiemensPerCm = read.Ec(form.Text(Measured.EcField)),
            PH = read.PH(form.Text(Measured.PHField)),
            TemperatureCelsius = read.Celsius(form.Text(Measured.TemperatureField)),
            LevelShare = read.Level(form.Text(Measured.LevelField)),
            Note = form.Text("note"),
        };
        read.Check();
        return taken is { EcMicrosiemensPerCm: null, PH: null, TemperatureCelsius: null, LevelShare: null }
            ? throw new EntryException(Measured.EcField, null, "type what at least one pen reads.")
            : new Draft(taken, plant);
    }

    /// <summary>The reading a filled place sheet stands for.</summary>
    public static Draft Place(EntryForm form, Measured read)
    {
        if (!Guid.TryParse(form.Text("place"), out var place))
            throw new EntryException("place", null, "choose where it was read.");
        var (ppfd, lux) = (read.Ppfd(form.Text(Measured.PpfdField)), read.Lux(form.Text(Measured.LuxField)));
        var (celsius, humidity) = (read.Celsius(form.Text(Measured.TemperatureField)), read.Humidity(form.Text(Measured.HumidityField)));
        read.Check();
        return ppfd is null && lux is null && celsius is null && humidity is null
            ? throw new EntryException(Measured.TemperatureField, null, "type at least one value.")
            : new Draft(
                new ReadingTaken
                {
                    ReadingId = form.Fresh(0),
                    Of = celsius is null && humidity is null ? ReadingOf.Light : ReadingOf.Air,
                    PlaceId = place,
                    TemperatureCelsius = celsius,
                    RelativeHumidity = humidity,
                    PpfdMicromolesPerSquareMetrePerSecond = ppfd,
                    Lux = lux,
                    Note = form.Text("note"),
                },
                place);
    }

    private static IReadOnlyList<FormField> PotFields(PlantWords say, ReadersUnits units) =>
    [
        new FormField("of", FieldShape.Choice) { Options = [.. new[] { ReadingOf.Reservoir, ReadingOf.Runoff, ReadingOf.Soak }.Select(of => new FieldOption(of.ToString(), say.Of(of)))], Value = nameof(ReadingOf.Reservoir), Hint = "HintSyringe" },
        new FormField(Measured.EcField, FieldShape.Number) { Unit = units.Ec switch { EcScale.Ppm500 => "ppm, 0.5 scale", EcScale.Ppm640 => "ppm, 0.64 scale", EcScale.Ppm700 => "ppm, 0.7 scale", _ => "mS/cm" } },
        new FormField(Measured.PHField, FieldShape.Number),
        new FormField(Measured.TemperatureField, FieldShape.Number) { Unit = units.Temperature == TemperatureUnit.Fahrenheit ? "°F" : "°C" },
        new FormField(Measured.LevelField, FieldShape.Number) { Unit = "%", Hint = "HintLevel" },
        new FormField("note", FieldShape.Words),
    ];

    private static string Text(double? kept, Func<double, double>? shown = null) => kept is { } value ? (shown is null ? value : shown(value)).ToString("0.###", CultureInfo.InvariantCulture) : "";
}
