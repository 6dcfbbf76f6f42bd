using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>What can be said of a fact by itself: texts that are there, figures within what such a thing can be.</summary>
/// <remarks>The ranges keep out slips of the finger (a leaf of 3 km), not unusual plants. Common practice, no source.</remarks>
internal static class FactShape
{
    private const double LongestMillimetres = 5000;

    public static void Check(FactPayload payload, FactProblems problems)
    {
        switch (payload)
        {
            case PlantArrived said:
                problems.Range("number", said.Number, 1, 999_999, "");
                problems.Text("name as received", said.NameAsReceived, 300);
                problems.Text("kind", said.Kind, 100);
                problems.Known("habit", said.Habit);
                Provenance(said.Provenance, problems);
                break;
            case PlantDetermined said:
                problems.Text("name", said.Name, 300);
                problems.Text("evidence", said.Evidence, 500);
                break;
            case WrongArrival said:
                problems.Text("ordered", said.Ordered, 300);
                problems.Text("came", said.Came, 300);
                problems.Text("agreed", said.Agreed, required: false);
                break;
            case PlantParentage said:
                problems.Text("seed parent", said.SeedParent, 300);
                problems.Text("pollen parent", said.PollenParent, 300);
                break;
            case CrossSet said:
                problems.Text("name", said.Name, 300);
                problems.Text("seed parent", said.SeedParent, 300);
                problems.Text("pollen parent", said.PollenParent, 300);
                if (said.Name is not null && (said.Name == said.SeedParent || said.Name == said.PollenParent))
                {
                    problems.Add("parents", said.Name, "a cross cannot be a parent of itself");
                }

                break;
            case PlantStatesSeen said:
                if (said.States is null || said.States.Distinct().Count() != said.States.Count || !said.States.All(Enum.IsDefined))
                {
                    problems.Add("states", said.States is null ? null : string.Join(", ", said.States), $"each at most once of {string.Join(", ", Enum.GetNames<PlantState>())}");
                }

                break;
            case PlantPotted { Pot: null }:
                problems.Add("pot", null, "a pot");
                break;
            case PlantPotted { Pot: var pot }:
                Pot(pot, problems);
                break;
            case PlantLost said:
                problems.Text("cause", said.Cause, 300);
                problems.Text("seen", said.Seen, required: false);
                break;
            case QuarantineBegun said:
                problems.Range("days", said.Days, 1, 365, "days");
                problems.Text("why", said.Why, 500);
                break;
            case QuarantineEnded said:
                problems.Text("why", said.Why, 500, required: false);
                break;
            case PestChecked said:
                if (said.Found is null || said.Found.Any(string.IsNullOrWhiteSpace))
                {
                    problems.Add("found", null, "names of pests; an empty list where nothing was found");
                }

                problems.Text("note", said.Note, required: false);
                break;
            case VirusTested said:
                problems.Text("virus", said.Virus, 100);
                problems.Known("method", said.Method);
                problems.Known("result", said.Result);
                problems.Text("note", said.Note, required: false);
                break;
            case PlantNoted said:
                problems.Text("text", said.Text, 10_000);
                break;
            case GrowthSeen said:
                problems.Range("number", said.Number, 1, 999, "");
                problems.Known("form", said.Form);
                break;
            case GrowthEnded said:
                problems.Text("cause", said.Cause, 300);
                break;
            case LeafSeen said:
                problems.Range("position", said.Position, 1, 999, "");
                break;
            case LeafMeasured said:
                Length("length", said.LengthMillimetres, problems);
                Length("width", said.WidthMillimetres, problems);
                problems.AtLeastOne("measure", "length, width or both, in mm", said.LengthMillimetres, said.WidthMillimetres);
                break;
            case LeafMarked said:
                problems.Known("sign", said.Sign);
                problems.Known("part", said.Part);
                problems.Text("note", said.Note, required: false);
                break;
            case LeafLost said:
                problems.Known("cause", said.Cause);
                problems.Text("note", said.Note, required: false);
                break;
            case NewRootsSeen said:
                problems.Range("count", said.Count, 1, 1000, "roots");
                break;
            case SpikeSeen said:
                Length("length", said.LengthMillimetres, problems);
                break;
            case SpikeMeasured said:
                Length("length", said.LengthMillimetres, problems);
                problems.Range("buds", said.Buds, 0, 1000, "buds");
                problems.AtLeastOne("measure", "length (mm), buds or both", said.LengthMillimetres, said.Buds);
                break;
            case BloomDescribed said:
                problems.Range("flowers", said.Flowers, 1, 1000, "flowers");
                problems.Range("width", said.WidthMillimetres, 0.5, 500, "mm");
                problems.Range("height", said.HeightMillimetres, 0.5, 500, "mm");
                problems.Text("scent", said.Scent, 500, required: false);
                problems.AtLeastOne("bloom", "flowers, width, height or scent", said.Flowers, said.WidthMillimetres, said.HeightMillimetres, said.Scent);
                break;
            case SpikeEnded said:
                problems.Known("cause", said.Cause);
                problems.Text("note", said.Note, required: false);
                break;
            case LatitudeSet said:
                problems.Range("latitude", said.Degrees, -90, 90, "degrees");
                break;
            case CauseSeen said:
                CauseChecks.Check(said, problems);
                break;
            case CauseSettled said:
                CauseChecks.Check(said, problems);
                break;
            case PlantGiven said:
                problems.Known("what", said.What);
                if (!(said.Millilitres > 0 && said.Millilitres <= 20_000))
                {
                    problems.Add("millilitres", FactProblems.Say(said.Millilitres), "above 0 and up to 20,000 mL");
                }

                if (said.What == Pouring.Feed != said.CanId.HasValue)
                {
                    problems.Add("can", said.CanId?.ToString(), "the can of a feed; none for plain water or a leach");
                }

                if (said.What == Pouring.Feed && said.WaterId is not null)
                {
                    problems.Add("water", said.WaterId.ToString(), "no water for a feed: its can knows it");
                }

                break;
            case PlantSkipped said:
                problems.Known("reason", said.Reason);
                problems.Text("note", said.Note, required: false);
                break;
            case RoundEnded said:
                problems.Text("note", said.Note, required: false);
                break;
            case ReadingTaken said:
                Reading(said, problems);
                break;
            case AirDay said:
                Air(said, problems);
                break;
            case MediumSoaked said:
                Soak(said, problems);
                break;
            case PenSet said:
                PenChecks.Shape(said, problems);
                break;
            case PenCalibrated said:
                PenChecks.Shape(said, problems);
                break;
            case LotSpilt said:
                problems.Text("why", said.Why, 500, required: false);
                if (!(said.Grams > 0))
                {
                    problems.Add("grams", FactProblems.Say(said.Grams), "above 0 g, and no more than is left in the lot");
                }

                break;
            case WaterRoof said:
                problems.Range("roof area", said.RoofSquareMetres, 0.1, 10_000, "m²");
                problems.Range("barrel", said.BarrelLitres, 1, 1e6, "L");
                problems.Range("run-off share", said.RunOffShare, 0.05, 1, "(share)");
                break;
            case WaterLevelSeen said:
                problems.Range("litres", said.Litres, 0, 1e6, "L");
                break;
            case RainRecorded said:
                problems.Text("from", said.From, 200, required: false);
                if (said.Days is not { Count: > 0 and <= 4000 } days || days.Any(day => !(day.Millimetres is >= 0 and <= 500)))
                {
                    problems.Add("days", null, "1 to 4000 days, each with 0 to 500 mm");
                }

                break;
            case ProductLead said:
                problems.Range("lead days", said.Days, 0, 365, "days");
                break;
            case SupplySet said:
                problems.Range("usual lead days", said.UsualLeadDays, 0, 365, "days");
                problems.Range("buy for days", said.BuyForDays, 7, 1100, "days");
                problems.Range("room humidity", said.RoomHumidityPercent, 0, 100, "%");
                break;
            case PhotoAdded said:
                if (said.Sha256 is not { Length: 64 } || !said.Sha256.All(char.IsAsciiHexDigitLower))
                {
                    problems.Add("sha256", said.Sha256, "64 lower-case hexadecimal digits");
                }

                problems.Range("width", said.Width, 1, 100_000, "pixels");
                problems.Range("height", said.Height, 1, 100_000, "pixels");
                problems.Range("bytes", said.Bytes, 1, 1e9, "bytes");
                problems.Text("caption", said.Caption, 500, required: false);
                break;
        }
    }

    private static void Provenance(Provenance? provenance, FactProblems problems)
    {
        if (provenance is null)
        {
            return;
        }

        problems.Text("source", provenance.Source, 500, required: false);
        problems.Text("wild locality", provenance.WildLocality, 500, required: false);
        problems.Range("price", (double?)provenance.Price, 0, 1e6, "");
        problems.Known("raised as", provenance.RaisedAs);
        if (provenance.Price is not null != provenance.Currency is { Length: 3 } && (provenance.Price is not null || provenance.Currency is not null))
        {
            problems.Add("currency", provenance.Currency, "the three letters of ISO 4217 beside a price, for example EUR");
        }
    }

    private static void Pot(Pot pot, FactProblems problems)
    {
        problems.Text("medium", pot.Medium, 100);
        problems.Known("culture", pot.Culture);
        problems.Range("medium litres", pot.MediumLitres, 0, 200, "L");
        problems.Range("reservoir litres", pot.ReservoirLitres, 0, 200, "L");
        problems.Range("feed millilitres", pot.FeedMillilitres, 0, 20_000, "mL");
        problems.Range("feed every days", pot.FeedEveryDays, 1, 365, "days");
        if (pot.Id == Guid.Empty)
        {
            problems.Add("pot", null, "an id of its own");
        }
    }

    private static void Reading(ReadingTaken said, FactProblems problems)
    {
        problems.Known("of", said.Of);
        problems.Known("from", said.From);
        problems.Range("EC", said.EcMicrosiemensPerCm, 0, 50_000, "µS/cm");
        problems.Range("pH", said.PH, 0, 14, "");
        problems.Range("temperature", said.TemperatureCelsius, -20, 60, "°C");
        problems.Range("level", said.LevelShare, 0, 1, "(share of full)");
        problems.Range("relative humidity", said.RelativeHumidity, 0, 1, "(share)");
        problems.Range("PPFD", said.PpfdMicromolesPerSquareMetrePerSecond, 0, 3000, "µmol/(m² s)");
        problems.Range("lux", said.Lux, 0, 200_000, "lx");
        problems.Text("note", said.Note, required: false);
        problems.AtLeastOne("reading", "at least one value", said.EcMicrosiemensPerCm, said.PH, said.TemperatureCelsius, said.LevelShare, said.RelativeHumidity,
            said.PpfdMicromolesPerSquareMetrePerSecond, said.Lux);
        var ofAPot = said.Of is ReadingOf.Reservoir or ReadingOf.Runoff or ReadingOf.Soak;
        if (ofAPot ? said.PlantId is null || said.PlaceId is not null : said.PlantId is null == said.PlaceId is null)
        {
            problems.Add(ofAPot ? "plant" : "place", null, ofAPot ? "the plant whose pot was read, and no place" : "a place, or a plant that the sensor stands at");
        }
    }

    private static void Soak(MediumSoaked said, FactProblems problems)
    {
        problems.Text("medium", said.Medium, 100);
        problems.Range("medium litres", said.MediumLitres, 0.02, 20, "L");
        problems.Range("water litres", said.WaterLitres, 0.01, 1000, "L");
        problems.Range("hours", said.Hours, 1, 24 * 30, "h");
        problems.Range("temperature", said.Celsius, 5, 40, "°C");
        problems.Range("EC", said.EcMicrosiemensPerCm, 2, 20_000, "µS/cm");
        problems.Range("pH", said.PH, 2, 12, "");
        problems.Range("alkalinity", said.AlkalinityMeqPerLitre, -5, 50, "meq/L");
        problems.AtLeastOne("reading", "EC, pH or alkalinity at the end", said.EcMicrosiemensPerCm, said.PH, said.AlkalinityMeqPerLitre);
    }

    private static void Air(AirDay said, FactProblems problems)
    {
        problems.Known("from", said.From);
        if (said.Samples is not { Count: > 0 and <= 1440 })
        {
            problems.Add("samples", said.Samples?.Count.ToString(System.Globalization.CultureInfo.InvariantCulture), "1 to 1,440 samples of one day");
            return;
        }

        var before = -1;
        foreach (var sample in said.Samples)
        {
            if (sample.Minute <= before || sample.Minute > 1439)
            {
                problems.Add("minute", FactProblems.Say(sample.Minute), "minutes of the day, 0 to 1,439, rising");
                return;
            }

            before = sample.Minute;
            problems.Range("temperature", sample.TemperatureCelsius, -20, 60, "°C");
            problems.Range("relative humidity", sample.RelativeHumidity, 0, 1, "(share)");
            problems.Range("PPFD", sample.PpfdMicromolesPerSquareMetrePerSecond, 0, 3000, "µmol/(m² s)");
            problems.Range("lux", sample.Lux, 0, 200_000, "lx");
            if (problems.All.Count > 10)
            {
                return;
            }
        }
    }

    private static void Length(string field, double? millimetres, FactProblems problems) => problems.Range(field, millimetres, 0.5, LongestMillimetres, "mm");
}
