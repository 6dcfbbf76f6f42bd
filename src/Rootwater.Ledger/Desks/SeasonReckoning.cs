using Rootwater.Growing.Bench;
using Rootwater.Growing.Evidence.Seasons;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Works out seasons, forecasts and their record of hits from dates and weather.</summary>
/// <param name="plants">Of the bench, those that left too.</param>
/// <param name="weather">Whole days by place.</param>
/// <param name="today">Today on the bench.</param>
/// <param name="south">South of the equator: usual months of rests lie half a year apart.</param>
internal sealed class SeasonReckoning(IReadOnlyList<PlantDates> plants, IReadOnlyDictionary<Guid, IReadOnlyList<TemperatureDay>> weather, DateOnly today, bool south)
{
    private const int FewestForBand = 3;

    /// <summary>A spike of which nothing was heard for so long is forgotten, not open.</summary>
    private const int LongestSpikeDays = 300;

    /// <summary>A temperature forecast is made once so many inductive days are counted.</summary>
    private const int MadeAtDays = 7;

    private static readonly SeasonMark[] s_forecast = [SeasonMark.Spike, SeasonMark.Sheath, SeasonMark.Bloom];
    private readonly Dictionary<(SeasonMark, ForecastBy), List<DatedForecast>> _made = [];

    public static Kind? KindOf(PlantDates plant) => Kinds.Find(plant.Kind) ?? Kinds.Find(plant.Name);

    /// <summary>The weather that brings on its spikes; of Dendrobium the paper is about the nobile section alone.</summary>
    public static InductionRule? RuleOf(Kind kind) => kind.Genus == "Dendrobium" && kind.WantKind != "Dendrobium nobile" ? null : InductionRule.For(kind.Genus);

    /// <summary>A day with at least half of its hours read.</summary>
    public static TemperatureDay? DayOf(ClimateDay day) => day is { Mean: { } mean, Low: { } low, High: { } high, KnownHours: >= 12 } ? new TemperatureDay(day.Day, mean, low, high, day.KnownHours) : null;

    public SeasonSheet Sheet()
    {
        // The record first: a rule that did not hold here does not lead.
        foreach (var plant in plants)
        {
            Hindcast(plant);
        }

        var forecasts = plants.Where(plant => plant.LostOn is null).SelectMany(Forecasts).OrderBy(forecast => forecast.Middle).ThenBy(forecast => forecast.Plant.Number).ToList();

        return new SeasonSheet(
            today,
            [.. plants.Where(plant => plant.LostOn is null).SelectMany(plant => Enum.GetValues<SeasonMark>().Select(mark => Line(mark, Ref(plant), plant.Kind, Firsts(plant, mark), 1)).OfType<SeasonLine>())],
            [.. plants.GroupBy(plant => plant.Kind).OrderBy(group => group.Key, StringComparer.Ordinal).SelectMany(group => Enum.GetValues<SeasonMark>().Select(mark => Line(mark, null, group.Key, [.. group.SelectMany(plant => Firsts(plant, mark))], group.Count(plant => Firsts(plant, mark).Count > 0))).OfType<SeasonLine>())],
            forecasts,
            [.. _made.OrderBy(pair => pair.Key).Select(pair => Hits(pair.Key.Item1, pair.Key.Item2, pair.Value))],
            Rests(),
            [
                "Circular mean and length of the mean vector of the first date of each season (Fisher 1993); two within 120 days are one season.",
                "Next: mean ± t × s × √(1 + 1/n) days, 90 %, from three seasons on; with fewer its kind's, each plant and year counted alike. An open spike: the same of how long earlier ones took.",
                "By temperature: days with a mean within the paper's range, counted from readings and then from the same calendar days of earlier years; a day of blocking heat takes one off (judgement).",
                TemperatureHolds ? "The rule by temperature leads where a paper gives one." : "The rule by temperature is in the record of hits only: on this bench its true share of hits is surely below half, so a plant's own seasons lead.",
                "Assumed: seasons alike and independent from year to year, culture unchanged. The record of hits is what the method would have said at the time from what was known then; it was not written down then.",
                $"n: {plants.Count} plants, {plants.Sum(plant => plant.Spikes.Count)} spikes, {weather.Values.Sum(days => days.Count)} days of temperature.",
            ]);
    }

    private static PlantRef Ref(PlantDates plant) => new(plant.PlantId, plant.Number, plant.Name);

    /// <summary>First date of each season.</summary>
    private static IReadOnlyList<DateOnly> Firsts(PlantDates plant, SeasonMark mark) => SeasonDates.FirstOfEach(mark switch
    {
        SeasonMark.Spike => plant.Spikes.Where(spike => Known(spike.FirstSeen)).Select(spike => spike.FirstSeen.Middle),
        SeasonMark.Sheath => plant.Sheaths,
        SeasonMark.Bloom => plant.Spikes.Select(spike => spike.FirstFlower).OfType<DaySpan>().Where(Known).Select(span => span.Middle),
        SeasonMark.NewRoots => plant.NewRoots.Where(Known).Select(span => span.Middle),
        _ => plant.Falls.Select(fall => fall.When).Where(Known).Select(span => span.Middle),
    });

    // A date known only to the year says nothing of the season.
    private static bool Known(DaySpan span) => span.Latest.DayNumber - span.Earliest.DayNumber <= 62;

    private SeasonLine? Line(SeasonMark mark, PlantRef? plant, string kind, IReadOnlyList<DateOnly> firsts, int of)
    {
        if (firsts.Count == 0)
        {
            return null;
        }

        var band = SeasonBand.Of(firsts, today);
        var length = Circular.Summarise([.. firsts.Select(day => 2 * Math.PI * (day.DayOfYear - 0.5) / 365.25)]).MeanLength;
        var about = band.MeanDayOfYear is { } mean ? FactWords.Say($"about {Day(mean):d MMMM}") : "spread round the year";
        var words = band.BandDays is { } reach
            ? FactWords.Say($"{(plant is null ? $"{firsts.Count} seasons of {Plants(of)}" : $"{firsts.Count} seasons")}: {about}, within {reach:0} days either way nine times in ten.")
            : FactWords.Say($"{(plant is null ? $"{firsts.Count} seasons of {Plants(of)}" : firsts.Count == 1 ? "Seen once" : $"{firsts.Count} seasons")}: {about}{(firsts.Count < FewestForBand ? "; three are the least for a band" : ", too scattered for a season")}.");
        return new SeasonLine(mark, plant, kind, firsts.Count, band.MeanDayOfYear, band.BandDays, length, words);
    }

    private static string Plants(int count) => count == 1 ? "one plant" : $"{count} plants";

    private IEnumerable<SeasonForecast> Forecasts(PlantDates plant) => s_forecast.Select(mark => Forecast(plant, mark)).OfType<SeasonForecast>();

    private SeasonForecast? Forecast(PlantDates plant, SeasonMark mark)
    {
        var open = plant.Spikes.LastOrDefault(spike => spike is { FirstFlower: null, Ended: null } && spike.FirstSeen.Latest >= today.AddDays(-LongestSpikeDays));
        if (mark == SeasonMark.Bloom && open is not null && BloomForecast.Of(Took(plant), open.FirstSeen.Middle) is { } bloom && bloom.Late >= today)
        {
            return new SeasonForecast(Ref(plant), mark, Later(bloom.Early), Later(bloom.Middle), bloom.Late, ForecastBy.OpenSpike, bloom.Words);
        }

        // While a spike stands the next one is a season off, and told by the seasons.
        if (mark == SeasonMark.Spike && open is null && TemperatureHolds && ByTemperature(plant, today) is { } spike && spike.Late >= today)
        {
            return new SeasonForecast(Ref(plant), mark, Later(spike.Early), Later(spike.Middle), spike.Late, ForecastBy.Temperature, spike.Why);
        }

        var own = Firsts(plant, mark);
        var soonest = own.Count == 0 ? today : own[^1].AddDays(SeasonDates.SeasonGapDays) is var after && after > today ? after : today;
        var band = SeasonBand.Of(own, soonest);
        var by = ForecastBy.OwnSeasons;
        if (own.Count < FewestForBand)
        {
            // A plant that never did it may be too young; its kind's seasons are lent only to one that has.
            if (own.Count == 0)
            {
                return null;
            }

            band = SeasonBand.Of([.. plants.Where(other => string.Equals(other.Kind, plant.Kind, StringComparison.OrdinalIgnoreCase)).SelectMany(other => Firsts(other, mark))], soonest);
            by = ForecastBy.KindSeasons;
        }

        return band is { Next: { } middle, NextEarly: { } early, NextLate: { } late } && early <= today.AddDays(365)
            ? new SeasonForecast(Ref(plant), mark, Later(early), Later(middle), late, by, FactWords.Say($"{(by == ForecastBy.OwnSeasons ? $"its own {own.Count} seasons" : $"{band.Years} seasons of its kind, its own {own.Count} among them")}"))
            : null;
    }

    /// <summary>Whether the rule by temperature may lead: not where its record shows that its true share of hits is surely below half.</summary>
    private bool TemperatureHolds => !_made.TryGetValue((SeasonMark.Spike, ForecastBy.Temperature), out var made) || ForecastRecord.Of(made, today).Share95 is not { } share || share.Upper >= 0.5;

    private DateOnly Later(DateOnly day) => day < today ? today : day;

    private static List<double> Took(PlantDates plant) =>
    [
        .. plant.Spikes.Where(spike => spike.FirstFlower is not null && Known(spike.FirstSeen) && Known(spike.FirstFlower.Value)).Select(spike => (double)(spike.FirstFlower!.Value.Middle.DayNumber - spike.FirstSeen.Middle.DayNumber)).Where(days => days is > 0 and < 400),
    ];

    private (DateOnly Early, DateOnly Middle, DateOnly Late, string Why)? ByTemperature(PlantDates plant, DateOnly made)
    {
        if (KindOf(plant) is not { } kind || RuleOf(kind) is not { } rule || plant.PlaceId is not { } place || !weather.TryGetValue(place, out var days) || days.Count == 0)
        {
            return null;
        }

        var last = plant.Spikes.Where(spike => spike.FirstSeen.Latest <= made).Select(spike => spike.LastFlower?.Middle ?? spike.Ended?.Middle ?? spike.FirstSeen.Middle).DefaultIfEmpty(made.AddDays(-120)).Max();
        var window = Math.Clamp(made.DayNumber - last.DayNumber, 0, 120);
        var forecast = SpikeForecast.Of(rule.Genus, [.. days.Where(day => day.Day <= made)], made, window);
        return forecast is { Early: { } early, Middle: { } middle, Late: { } late } ? (early, middle, late, FactWords.Say($"{forecast.DaysSoFar:0} days of {rule.MeanLow:0} to {rule.MeanHigh:0} °C so far, of {rule.DaysMiddle:0}; the weather ahead as in earlier years")) : null;
    }

    /// <summary>What the forecasts would have said in past seasons, from what was known then.</summary>
    private void Hindcast(PlantDates plant)
    {
        foreach (var mark in s_forecast)
        {
            Made(mark, ForecastBy.OwnSeasons).AddRange(SeasonDates.Hindcast(Firsts(plant, mark), plant.LostOn ?? today));
        }

        var flowered = plant.Spikes.Where(spike => Known(spike.FirstSeen)).ToList();
        for (var i = 1; i < flowered.Count; i++)
        {
            var before = flowered.Take(i).Where(spike => spike.FirstFlower is { } first && first.Latest <= flowered[i].FirstSeen.Earliest).Select(spike => (double)(spike.FirstFlower!.Value.Middle.DayNumber - spike.FirstSeen.Middle.DayNumber)).Where(days => days is > 0 and < 400).ToList();
            // A spike that was cut or blasted says nothing of when it would have flowered.
            if ((flowered[i].FirstFlower is not null || flowered[i].Ended is null) && BloomForecast.Of(before, flowered[i].FirstSeen.Middle) is { } bloom)
            {
                Made(SeasonMark.Bloom, ForecastBy.OpenSpike).Add(new DatedForecast(flowered[i].FirstSeen.Middle, bloom.Early, bloom.Middle, bloom.Late, flowered[i].FirstFlower?.Middle));
            }
        }

        HindcastTemperature(plant);
    }

    private void HindcastTemperature(PlantDates plant)
    {
        if (KindOf(plant) is not { } kind || RuleOf(kind) is not { } rule || plant.PlaceId is not { } place || !weather.TryGetValue(place, out var days))
        {
            return;
        }

        // Season by season: once the first inductive days after the last flowers are counted, the forecast is made; then what comes within half a year is what came.
        var spikes = Firsts(plant, SeasonMark.Spike);
        var count = 0;
        var asleep = days.Count > 0 ? days[0].Day.AddDays(365) : today; // a year of weather first
        foreach (var day in days)
        {
            if (day.Day < asleep || plant.ArrivedOn > day.Day || plant.LostOn < day.Day)
            {
                continue;
            }

            count = rule.Induces(day) ? count + 1 : rule.Blocks(day) ? Math.Max(0, count - 1) : count;
            var standing = plant.Spikes.Any(spike => spike.FirstSeen.Earliest <= day.Day && (spike.LastFlower ?? spike.Ended)?.Latest is not { } over ? spike.FirstSeen.Earliest <= day.Day && spike.FirstSeen.Earliest >= day.Day.AddDays(-LongestSpikeDays) : spike.FirstSeen.Earliest <= day.Day && (spike.LastFlower ?? spike.Ended)!.Value.Latest >= day.Day);
            if (standing)
            {
                count = 0;
                continue;
            }

            if (count >= MadeAtDays && ByTemperature(plant, day.Day) is { } forecast)
            {
                var came = spikes.Where(spike => spike > day.Day && spike <= forecast.Middle.AddDays(SeasonDates.SkippedDays)).Select(spike => (DateOnly?)spike).FirstOrDefault();
                Made(SeasonMark.Spike, ForecastBy.Temperature).Add(new DatedForecast(day.Day, forecast.Early, forecast.Middle, forecast.Late, came));
                asleep = (came ?? forecast.Late).AddDays(SeasonDates.SeasonGapDays);
                count = 0;
            }
        }
    }

    private List<DatedForecast> Made(SeasonMark mark, ForecastBy by) => _made.TryGetValue((mark, by), out var made) ? made : _made[(mark, by)] = [];

    private ForecastHits Hits(SeasonMark mark, ForecastBy by, List<DatedForecast> made)
    {
        var record = ForecastRecord.Of(made, today);
        return new ForecastHits(mark, by, record.Judged, record.Hits, record.Share95?.Lower, record.Share95?.Upper, record.MeanErrorDays, record.Words);
    }

    private IReadOnlyList<RestLine> Rests() =>
    [
        .. plants.Where(plant => plant.LostOn is null).GroupBy(plant => plant.Kind).OrderBy(group => group.Key, StringComparer.Ordinal).Select(group =>
        {
            var kind = KindOf(group.First());
            var told = group.SelectMany(plant => plant.Rests).ToList();
            return new RestLine(
                group.Key, group.Count(), Usual(kind), told.Count, Mean(told.Select(rest => rest.From)), Mean(told.Select(rest => rest.To).OfType<DateOnly>()),
                group.Count(plant => plant.Rests.Any(rest => rest.To is null)), kind?.Source ?? "not in the table of kinds");
        }),
    ];

    private string Usual(Kind? kind)
    {
        if (kind is null)
        {
            return "not known";
        }

        if (kind.Rest is not { } rest)
        {
            return "grows on";
        }

        int Month(int month) => south ? (month + 5) % 12 + 1 : month;
        return FactWords.Say($"{(rest.State == PlantState.DryRest ? "dry rest" : "cool rest")}, {new DateOnly(2024, Month(rest.FromMonth), 1):MMMM} to {new DateOnly(2024, Month(rest.ToMonth), 1):MMMM}");
    }

    private static double? Mean(IEnumerable<DateOnly> days)
    {
        var angles = days.Select(day => 2 * Math.PI * (day.DayOfYear - 0.5) / 365.25).ToList();
        return angles.Count > 0 && Circular.Summarise(angles).MeanRadians is { } mean ? mean / (2 * Math.PI) * 365.25 + 1 : null;
    }

    private static DateOnly Day(double dayOfYear) => new DateOnly(2023, 1, 1).AddDays((int)Math.Floor(Math.Min(364, dayOfYear)));
}
