using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Climate;
using Rootwater.Growing.Evidence.Causes;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>What the ledger knows of an ailing plant, read for its cause sheet.</summary>
internal sealed class CauseReader(LedgerContext db, IReadOnlyDictionary<Guid, PlantDates> dates, IReadOnlyList<NutrientWeek> weeks, DateOnly today)
{
    /// <summary>Over so many weeks the supply is summed.</summary>
    public const int SupplyWeeks = 12;

    private const int FewestSisters = 2;
    private readonly List<string> _read = [];

    /// <summary>The first day of <see cref="SupplyWeeks"/>.</summary>
    public static DateOnly SupplyFrom(DateOnly today) => today.AddDays(-7 * SupplyWeeks);

    /// <summary>Reads it; null where there is no such plant.</summary>
    /// <param name="plantId">The plant.</param>
    /// <param name="leafId">The leaf; null for the one that is marked, or the whole plant; empty for the whole plant.</param>
    /// <param name="book">What was found on neighbours is part of it.</param>
    /// <param name="cancel">Stops reading.</param>
    public async Task<CauseReading?> ReadAsync(Guid plantId, Guid? leafId, IEnumerable<CauseCase> book, CancellationToken cancel)
    {
        if (await db.PlantLives.AsNoTracking().FirstOrDefaultAsync(row => row.PlantId == plantId, cancel) is not { } life || await db.Plants.AsNoTracking().FirstOrDefaultAsync(row => row.Id == plantId, cancel) is not { } plant)
        {
            return null;
        }

        var story = FactJson.Read<PlantStory>(life.Life);
        var leaf = leafId == Guid.Empty ? null : leafId is { } asked
            ? story.Growths.SelectMany(growth => growth.Leaves).FirstOrDefault(each => each.Id == asked) ?? throw new EntryException("leaf", asked.ToString(), "a leaf of this plant")
            : OnlyMarked(story);
        var place = plant.PlaceId is { } at ? await db.Places.AsNoTracking().FirstOrDefaultAsync(row => row.Id == at, cancel) : null;
        var kind = Kinds.Find(plant.Kind) ?? Kinds.Find(plant.CurrentName);
        var records = Leaves(story, plant, leaf, new CauseRecords { ShedsForRest = kind is null ? null : kind.Leaves != LeafHabit.Evergreen, Phase = Phase(story) });
        if (kind is not null)
        {
            _read.Add($"{kind.Name}: {(kind.Leaves == LeafHabit.Evergreen ? "keeps its leaves" : "sheds leaves for its rest")}{(kind.Rest is null ? ", no rest" : "")}.");
        }

        records = await SupplyAsync(plant, story, records, cancel);
        records = await RootAsync(plant, records, cancel);
        records = await ClimateAsync(plant, kind, records, cancel);
        records = await HealthAsync(plant, story, records, book, cancel);
        return new CauseReading(story, plant, place, leaf, records, _read, await db.Photos.CountAsync(photo => photo.PlantId == plantId, cancel));
    }

    private static Leaf? OnlyMarked(PlantStory story)
    {
        var marked = story.Growths.Where(growth => growth.Ended is null).SelectMany(growth => growth.Leaves).Where(leaf => leaf.Lost is null && leaf.Marks.Count > 0).Take(2).ToList();
        return marked.Count == 1 ? marked[0] : null;
    }

    private CauseRecords Leaves(PlantStory story, PlantRow plant, Leaf? leaf, CauseRecords records)
    {
        var own = dates.TryGetValue(plant.Id, out var mine) ? mine.Falls : [];
        var sisters = Ages(own);
        var whose = "its own leaves";
        if (sisters.Count < FewestSisters)
        {
            // Too few of its own: its kind's.
            sisters = [.. sisters, .. dates.Values.Where(other => other.PlantId != plant.Id && string.Equals(other.Kind, plant.Kind, StringComparison.OrdinalIgnoreCase)).SelectMany(other => Ages(other.Falls))];
            whose = "leaves of its kind";
        }

        var yearAgo = today.AddDays(-365);
        var all = story.Growths.SelectMany(growth => growth.Leaves).ToList();
        var lost = all.Count(each => each.Lost is { Cause: not (LeafLoss.Broken or LeafLoss.CutOff) } end && end.When.Middle > yearAgo) + (leaf is { Lost: null } ? 1 : 0);
        var born = all.Count(each => !each.ThereOnArrival && each.FirstSeen.Middle > yearAgo);
        var whole = plant.ArrivedOn <= yearAgo;
        double? age = leaf is null ? null : (leaf.Lost?.When.Middle ?? today).DayNumber - leaf.FirstSeen.Middle.DayNumber;
        if (leaf is not null)
        {
            _read.Add(FactWords.Say($"{Capital(NameOf(story, leaf.Id))}: {(leaf.ThereOnArrival ? "there on arrival, at least " : "")}{age / 365.25:0.0} years old{(sisters.Count == 0 ? "" : FactWords.Say($"; {whose} fell at {sisters.Min() / 365.25:0.0} to {sisters.Max() / 365.25:0.0} years ({sisters.Count})"))}."));
        }

        if (whole)
        {
            _read.Add($"Over the year {born} new leaves and {lost} lost{(leaf is { Lost: null } ? ", this one counted" : "")}.");
        }

        double? roots = story.NewRoots.Count == 0 ? null : today.DayNumber - story.NewRoots.Max(seen => seen.When.Latest).DayNumber;
        if (roots is <= 120 and var since)
        {
            _read.Add(FactWords.Say($"New roots seen {since:0} days ago."));
        }

        return records with
        {
            LeafAgeDays = age,
            LeafAgeIsLeast = leaf?.ThereOnArrival == true,
            SisterLosses = sisters,
            LostLastYear = whole ? lost : null,
            NewLastYear = whole ? born : null,
            DaysSinceNewRoots = roots,
            Looked = LeafLooks.Of(story.Growths, leaf?.Id, today),
        };

        static List<double> Ages(IEnumerable<LeafFall> falls) => [.. falls.Select(fall => fall.AgeDays).OfType<double>().Where(days => days > 0)];
    }

    private string? Phase(PlantStory story)
    {
        var states = story.States.Count > 0 ? story.States[^1].States : [];
        var spike = story.Growths.SelectMany(growth => growth.Spikes).Any(each => each.Ended is null && each.LastFlower is null && each.FirstSeen.Latest >= today.AddDays(-365));
        var phase = states.Any(state => state is PlantState.DryRest or PlantState.CoolRest) ? "resting"
            : spike || states.Any(state => state is PlantState.InSpike or PlantState.Flowering or PlantState.Sheath) ? "spiking"
            : states.Count > 0 ? "growing" : null;
        if (phase is not null)
        {
            _read.Add($"It is {(phase == "resting" ? "at rest" : phase == "spiking" ? "in sheath, spike or flower" : "in growth")}{(states.Count > 0 ? $" ({string.Join(", ", states.Select(FactWords.Of))})" : "")}.");
        }

        return phase;
    }

    private async Task<CauseRecords> SupplyAsync(PlantRow plant, PlantStory story, CauseRecords records, CancellationToken cancel)
    {
        var pot = await db.Pots.AsNoTracking().FirstOrDefaultAsync(row => row.PlantId == plant.Id && row.LeftOn == null, cancel);
        var want = plant.WantId is { } id ? (await db.Wants.AsNoTracking().FirstOrDefaultAsync(row => row.Id == id, cancel))?.Want : null;
        var from = plant.ArrivedOn > SupplyFrom(today) ? plant.ArrivedOn : SupplyFrom(today);
        var rested = RestSpan.Of(story).Sum(rest => Math.Max(0, Math.Min((rest.To ?? today).DayNumber, today.DayNumber) - Math.Max(rest.From.DayNumber, from.DayNumber)));
        var days = Math.Max(0, today.DayNumber - from.DayNumber - rested);
        var supply = SupplyOfWant.Of(weeks, want, pot, days);
        if (supply.OfWant.Count > 0)
        {
            _read.Add(FactWords.Say($"Of its want ({want!.Name}) over {(today.DayNumber - from.DayNumber) / 7.0:0} weeks: {string.Join(", ", supply.OfWant.Where(pair => pair.Value > 0 || pair.Key is "N" or "K").Select(pair => FactWords.Say($"{pair.Key} {100 * pair.Value:0} %")))}."));
        }
        else if (days < 28 && rested > 0)
        {
            _read.Add("It rested for most of the last weeks, so what it was given says little.");
        }

        // The first pot is how it came; that it was moved into ours is a repotting too if it came lately.
        double? potted = story.Pots.Count == 0 ? null : today.DayNumber - story.Pots[^1].When.EarliestDay.DayNumber;
        if (potted is < 180 and var ago)
        {
            _read.Add(FactWords.Say($"Potted {ago:0} days ago."));
        }

        return records with { Supply = supply.OfWant, OfCeiling = supply.OfCeiling, SupplyWeeks = Math.Round((today.DayNumber - from.DayNumber) / 7.0), AmmoniumShare = supply.AmmoniumShare, DaysSinceRepot = potted, RootPHWindow = want is null ? null : (want.RootPH.Low, want.RootPH.High) };
    }

    private async Task<CauseRecords> RootAsync(PlantRow plant, CauseRecords records, CancellationToken cancel)
    {
        var since = FactWhen.ToStored(today.AddDays(-45).ToDateTime(TimeOnly.MinValue));
        var readings = await db.TakenReadings.AsNoTracking().Where(reading => reading.PlantId == plant.Id && (reading.Of == ReadingOf.Reservoir || reading.Of == ReadingOf.Runoff) && string.Compare(reading.At, since) >= 0)
            .OrderByDescending(reading => reading.At).ToListAsync(cancel);
        var feed = weeks.Where(week => week.MeanEcMicrosiemensPerCm is > 0).TakeLast(6).ToList();
        double? ratio = null;
        if (readings.Find(reading => reading.EcMicrosiemensPerCm is > 0) is { } ec && feed.Count > 0)
        {
            ratio = ec.EcMicrosiemensPerCm / (feed.Sum(week => week.MeanEcMicrosiemensPerCm!.Value * week.FeedMillilitres) / feed.Sum(week => week.FeedMillilitres));
            _read.Add(FactWords.Say($"{(ec.Of == ReadingOf.Reservoir ? "Reservoir" : "Run-off")} on {ec.AtLocal:yyyy-MM-dd}: EC {ratio:0.0} times the feed's."));
        }

        var measured = readings.Find(reading => reading.PH is not null);
        var believed = weeks.LastOrDefault(week => week.ForecastRootPH is not null && week.Monday >= today.AddDays(-45))?.ForecastRootPH;
        var ph = measured?.PH ?? believed;
        if (ph is { } value)
        {
            _read.Add(FactWords.Say($"pH at the root {value:0.0}{(measured is null ? ", forecast when it was fed, not measured" : FactWords.Say($", measured on {measured.AtLocal:yyyy-MM-dd}"))}{(records.RootPHWindow is { } window ? FactWords.Say($"; its window is {window.Low:0.0} to {window.High:0.0}") : "")}."));
        }

        // A pot that was found empty is dry until something is poured.
        double? dry = null;
        var levels = readings.Where(reading => reading.LevelShare is not null && reading.AtLocal >= today.AddDays(-31).ToDateTime(TimeOnly.MinValue)).ToList();
        if (levels.Count > 0)
        {
            var given = await db.Feedings.Where(row => row.PlantId == plant.Id && row.Day >= today.AddDays(-31)).Select(row => row.Day).ToListAsync(cancel);
            dry = levels.Where(level => level.LevelShare <= 0.02).Select(level => DateOnly.FromDateTime(level.AtLocal)).Distinct()
                .Sum(day => Math.Max(1, given.Where(pour => pour >= day).Append(today).Min().DayNumber - day.DayNumber));
        }

        return records with { ReservoirOverFeed = ratio, RootPH = ph, RootPHIsForecast = measured is null, DaysDry = dry is null ? null : Math.Min(31, dry.Value) };
    }

    private async Task<CauseRecords> ClimateAsync(PlantRow plant, Kind? kind, CauseRecords records, CancellationToken cancel)
    {
        var month = plant.PlaceId is { } place ? await ClimateInHand.OfAsync(db, place, today.AddDays(-31), today, cancel) : [];
        var since = FactWhen.ToStored(today.AddDays(-31).ToDateTime(TimeOnly.MinValue));
        var typed = await db.TakenReadings.Where(reading => (reading.PlantId == plant.Id || (plant.PlaceId != null && reading.PlaceId == plant.PlaceId)) && reading.TemperatureCelsius != null && string.Compare(reading.At, since) >= 0)
            .MinAsync(reading => reading.TemperatureCelsius, cancel);
        var lowest = month.Select(day => day.Low).Append(typed).Where(low => low is not null).Min();
        if (lowest is { } low)
        {
            _read.Add(FactWords.Say($"Lowest of the last month {low:0.0} °C."));
        }

        var limit = kind is null ? null : ShadeLimit.For(kind.Genus);
        var lit = month.Where(day => day.Day > today.AddDays(-14) && day.OneHourPpfd is not null).ToList();
        int? above = limit is null || lit.Count < 3 ? null : lit.Count(day => day.OneHourPpfd > limit.Ppfd);
        if (above is { } days)
        {
            _read.Add(FactWords.Say($"{days} of {lit.Count} days above the shade limit of {limit!.Genus} ({limit.Ppfd:0} µmol/(m² s) for an hour)."));
        }

        return records with { LowestCelsius = lowest, DaysAboveShadeLimit = above };
    }

    private async Task<CauseRecords> HealthAsync(PlantRow plant, PlantStory story, CauseRecords records, IEnumerable<CauseCase> book, CancellationToken cancel)
    {
        var kin = await PlantCards.KinAsync(db, plant.Id, cancel);
        var standing = new VirusWords(kin, today).Standing(plant.Id);
        var negative = story.VirusTests.Where(test => test.Result == VirusTestResult.Negative).Select(test => (double?)(today.DayNumber - test.When.Latest.DayNumber)).Min();
        if (standing != VirusStanding.Untested)
        {
            _read.Add($"Virus tests: {new VirusWords(kin, today).Of(plant.Id)}.");
        }

        var looked = records.Looked.ToDictionary();
        if (story.PestChecks.Count > 0 && story.PestChecks[^1] is var check && check.When.Latest >= today.AddDays(-21))
        {
            var found = check.Found.Select(PestWords.CauseOf).OfType<string>().FirstOrDefault();
            if (check.Found.Count == 0 || found is not null)
            {
                looked["pests"] = found ?? "none";
            }

            _read.Add($"Looked over for pests on {check.When.Latest:yyyy-MM-dd}: {(check.Found.Count == 0 ? "none" : string.Join(", ", check.Found))}.");
        }

        var near = OnNeighbours(plant, book);
        if (near.Count > 0)
        {
            _read.Add("Found on neighbours within two months: " + string.Join(", ", near.Select(id => CauseTables.Facts[id].Name)) + ".");
        }

        return records with { DaysSinceVirusNegative = standing is VirusStanding.NegativeOnce or VirusStanding.NegativeTwice ? negative : null, VirusPositive = standing == VirusStanding.Positive, Looked = looked, OnNeighbours = near };
    }

    private HashSet<string> OnNeighbours(PlantRow plant, IEnumerable<CauseCase> book)
    {
        if (plant.PlaceId is null)
        {
            return [];
        }

        var since = today.AddDays(-61);
        var near = dates.Values.Where(other => other.PlantId != plant.Id && other.PlaceId == plant.PlaceId && (other.LostOn is null || other.LostOn >= since)).ToDictionary(other => other.PlantId);
        return
        [
            .. near.Values.SelectMany(other => other.PestChecks).Where(check => check.When.Latest >= since).SelectMany(check => check.Found).Select(PestWords.CauseOf).OfType<string>(),
            .. near.Values.Where(other => other.Rots.Any(rot => rot >= since)).Select(_ => "bacterial-rot"),
            .. book.Where(each => near.ContainsKey(each.PlantId) && each.SettledOn >= since).Select(each => each.Cause).OfType<string>().Where(id => CauseTables.Facts[id].Contagious),
        ];
    }

    /// <summary>"bulb 4, leaf 1".</summary>
    public static string NameOf(PlantStory story, Guid leafId) =>
        (from growth in story.Growths from leaf in growth.Leaves where leaf.Id == leafId select PlantRows.NameOf(growth, leaf)).First();

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];
}

/// <summary>What was read.</summary>
internal sealed record CauseReading(PlantStory Story, PlantRow Plant, PlaceRow? Place, Leaf? Leaf, CauseRecords Records, IReadOnlyList<string> Read, int Photos);

/// <summary>Pests as growers write them.</summary>
internal static class PestWords
{
    /// <summary>The cause a word means; null where none fits.</summary>
    public static string? CauseOf(string found) => found.ToLowerInvariant() switch
    {
        var word when word.Contains("mealy", StringComparison.Ordinal) => "mealybugs",
        var word when word.Contains("scale", StringComparison.Ordinal) => "scale",
        var word when word.Contains("thrip", StringComparison.Ordinal) => "thrips",
        var word when word.Contains("mite", StringComparison.Ordinal) => "mites",
        _ => null,
    };
}
