using Rootwater.Growing.Evidence.Verdicts;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>What else moved around a day, read from the ledger: nobody is asked. A year to either side is compared, as far as it was watched.</summary>
internal static class Confounders
{
    private const int NearDays = (int)SurvivalVerdict.Nearby;

    /// <summary>So many days to either side are compared, as far as they were watched.</summary>
    public const int ComparedDays = 365;

    public static IReadOnlyList<Confounder> Around(DateOnly since, DateOnly today, IReadOnlyList<EvidencePlant> plants, FeedHistory history, AirHistory air)
    {
        var found = new List<Confounder>();
        Seasons(found, since, today, plants);
        Happened(found, "repotted", "were repotted", since, plants, plant => plant.Repotted);
        Happened(found, "moved", "were moved", since, plants, plant => plant.Places.Skip(1).Select(place => place.From));
        Happened(found, "want", "were given another want", since, plants, plant => plant.WantChosen);
        Happened(found, "kept apart", "were kept apart", since, plants, plant => plant.KeptApart);
        Happened(found, "pests", "had pests", since, plants, plant => plant.PestsFound.Select(span => span.Middle));
        var (from, to) = (since.AddDays(-ComparedDays), since.AddDays(ComparedDays) < today ? since.AddDays(ComparedDays) : today.AddDays(1));
        Poured(found, since, from, to, plants, history);
        Air(found, since, from, to, plants, air);
        return found;
    }

    /// <summary>As the verdict takes them: one entry per kind of thing that moved near the day.</summary>
    public static IReadOnlyList<OtherChange> Near(IReadOnlyList<Confounder> all, DateOnly since) => [.. all.Where(each => each.Near).Select(each => new OtherChange(each.What, since.DayNumber))];

    private static void Seasons(List<Confounder> found, DateOnly since, DateOnly today, IReadOnlyList<EvidencePlant> plants)
    {
        var before = (since.DayNumber - plants.Min(plant => plant.Arrived.Earliest).DayNumber) / 365.25;
        var after = (today.DayNumber - since.DayNumber) / 365.25;
        if (Math.Min(before, after) < 0.95)
        {
            found.Add(new Confounder("season", FactWords.Say($"Watched {before:0.0} years before and {after:0.0} since: one side lacks some of the seasons, and leaves fall by season."), true));
        }
        else if (Part(before) || Part(after))
        {
            found.Add(new Confounder("season", FactWords.Say($"Watched {before:0.0} years before and {after:0.0} since: not whole years, so some seasons weigh more on one side."), false));
        }

        static bool Part(double years) => years < 4 && Math.Abs(years - Math.Round(years)) > 0.15;
    }

    private static void Happened(List<Confounder> found, string what, string were, DateOnly since, IReadOnlyList<EvidencePlant> plants, Func<EvidencePlant, IEnumerable<DateOnly>> days)
    {
        var near = plants.Where(plant => days(plant).Any(day => Math.Abs(day.DayNumber - since.DayNumber) <= NearDays)).ToList();
        if (near.Count == 0)
        {
            return;
        }

        var numbers = string.Join(", ", near.Take(12).Select(plant => FactWords.Say($"{plant.Number}"))) + (near.Count > 12 ? " …" : "");
        found.Add(new Confounder(what, FactWords.Say($"{near.Count} of {plants.Count} plants {were} within {NearDays} days of it (no. {numbers})."), near.Count * 10 >= plants.Count));
    }

    private static void Poured(List<Confounder> found, DateOnly since, DateOnly from, DateOnly to, IReadOnlyList<EvidencePlant> plants, FeedHistory history)
    {
        var pours = plants.SelectMany(plant => history.Of(plant.Id)).Where(pour => pour.Day >= from && pour.Day < to).ToLookup(pour => pour.Day >= since);
        var readings = plants.SelectMany(plant => history.ReadingsOf(plant.Id)).Where(reading => reading.Day >= from && reading.Day < to).ToLookup(reading => reading.Day >= since);
        Ratio(found, "root-zone EC", "EC in the reservoirs", readings[false].Select(reading => reading.Ec).OfType<double>().ToList(), readings[true].Select(reading => reading.Ec).OfType<double>().ToList(), "mS/cm", 1000, "0.00");
        var pH = (Before: readings[false].Select(reading => reading.PH).OfType<double>().ToList(), Since: readings[true].Select(reading => reading.PH).OfType<double>().ToList());
        if (pH.Before.Count > 2 && pH.Since.Count > 2 && pH.Since.Average() - pH.Before.Average() is var shift && Math.Abs(shift) >= 0.3)
        {
            found.Add(new Confounder("root-zone pH", FactWords.Say($"pH in the reservoirs: {pH.Before.Average():0.0} the year before, {pH.Since.Average():0.0} since."), true));
        }

        Ratio(found, "strength of the feed", "EC of the feed", pours[false].Select(pour => pour.EcMicrosiemensPerCm).OfType<double>().ToList(), pours[true].Select(pour => pour.EcMicrosiemensPerCm).OfType<double>().ToList(), "mS/cm", 1000, "0.00");
        double Years(bool after) => Math.Max(0.05, (after ? to.DayNumber - since.DayNumber : since.DayNumber - from.DayNumber) / 365.25) * plants.Count;
        double Rate(bool after, Func<Pour, bool> which) => pours[after].Count(which) / Years(after);
        Often(found, "leaching", "leaches", Rate(false, pour => pour.What == Pouring.Leach), Rate(true, pour => pour.What == Pouring.Leach), 1);
        Often(found, "how often fed", "feeds", Rate(false, pour => pour.What == Pouring.Feed), Rate(true, pour => pour.What == Pouring.Feed), 5);
        Often(found, "plain water", "plain waterings", Rate(false, pour => pour.What == Pouring.PlainWater), Rate(true, pour => pour.What == Pouring.PlainWater), 5);
    }

    private static void Air(List<Confounder> found, DateOnly since, DateOnly from, DateOnly to, IReadOnlyList<EvidencePlant> plants, AirHistory air)
    {
        var places = plants.Select(plant => plant.PlaceOn(since)).OfType<Guid>().ToHashSet();
        // The same months of the year on both sides, or a summer would pass for a warmer house.
        var days = Math.Min(ComparedDays, to.DayNumber - since.DayNumber);
        var (before, after) = days >= 350 ? (air.Between(places, from, since), air.Between(places, since, to)) : (air.Between(places, since.AddYears(-1), since.AddYears(-1).AddDays(days)), air.Between(places, since, to));
        if (before.Celsius is { } cool && after.Celsius is { } warm)
        {
            found.Add(new Confounder("warmth", FactWords.Say($"Air where they stand: {cool:0.0} °C in the same months before, {warm:0.0} °C since."), Math.Abs(warm - cool) >= 1.5));
        }
        else
        {
            found.Add(new Confounder("warmth", "The air was not logged on both sides of that day: a warmer or cooler house would go unseen.", false));
        }

        if (before.Light is { } dim && after.Light is { } bright && dim > 0)
        {
            found.Add(new Confounder("light", FactWords.Say($"Light where they stand: {dim:0} µmol/(m² s) on average in the same months before, {bright:0} since."), bright / dim is > 1.25 or < 0.8));
        }
    }

    private static void Ratio(List<Confounder> found, string what, string name, List<double> before, List<double> since, string unit, double per, string format)
    {
        if (before.Count > 2 && since.Count > 2 && before.Average() > 0 && since.Average() / before.Average() is var ratio && ratio is > 1.2 or < 0.83)
        {
            var (a, b) = ((before.Average() / per).ToString(format, System.Globalization.CultureInfo.InvariantCulture), (since.Average() / per).ToString(format, System.Globalization.CultureInfo.InvariantCulture));
            found.Add(new Confounder(what, $"{name}: {a} {unit} the year before, {b} {unit} since.", true));
        }
    }

    private static void Often(List<Confounder> found, string what, string name, double before, double since, double least)
    {
        if (Math.Abs(since - before) >= least && (before == 0 || since / before is > 1.4 or < 0.7))
        {
            found.Add(new Confounder(what, FactWords.Say($"{before:0.#} {name} per plant and year before, {since:0.#} since."), true));
        }
    }
}
