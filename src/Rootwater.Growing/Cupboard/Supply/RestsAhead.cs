namespace Rootwater.Growing.Cupboard.Supply;

/// <summary>When a plant will take no feed because it rests.</summary>
/// <remarks>
/// A rest is a gap between two feeds of a plant whose kind may rest, of at least six weeks and three times the plant's middle gap in such a pot. In each coming year it rests as in one of its own
/// past years, on the same days of the year or not at all; without a whole year on record, as one of its kind here did, or else in the months of its kind. One that rests now wakes on
/// the day of the year on which a rest of its past, or of its kind's, was over.
/// </remarks>
internal sealed class RestsAhead
{
    private const int LeastDays = 42, TimesTheMiddle = 3, LeastGaps = 4;
    private const double YearDays = 365.25;

    private readonly FedPlant _plant;
    private readonly DateOnly _today;
    private readonly int _years;
    private readonly List<FeedlessDays> _rests = [];
    private List<RestsAhead> _teachers = [];
    private readonly bool _resting;

    private RestsAhead(FedPlant plant, DateOnly today)
    {
        (_plant, _today) = (plant, today);
        _years = plant.Gaps.Count > 0 ? (int)((today.DayNumber - plant.Gaps.Min(gap => gap.From).DayNumber) / YearDays) : 0;
        var waking = new List<PastGap>();
        var longest = double.PositiveInfinity;
        foreach (var pots in plant.Gaps.GroupBy(gap => gap.In))
        {
            var days = pots.Select(gap => gap.Days).Order().ToArray();
            var middle = days[days.Length / 2];
            var rest = days.Length < LeastGaps || !plant.MayRest ? double.PositiveInfinity : Math.Max(LeastDays, TimesTheMiddle * middle);
            longest = pots.Key == plant.Culture ? rest : longest;
            waking.AddRange(pots.Where(gap => gap.Days < rest));
            // It began some time between the last feed and the one that was left out.
            _rests.AddRange(pots.Where(gap => gap.Days >= rest).Select(gap => new FeedlessDays(gap.From.DayNumber + middle / 2.0, gap.From.DayNumber + gap.Days)));
        }

        Waking = waking;
        _resting = plant.IsResting || plant.LastFedOn is { } last && today.DayNumber - last.DayNumber >= longest;
    }

    /// <summary>Its gaps that were no rests.</summary>
    public IReadOnlyList<PastGap> Waking { get; }

    /// <summary>Of each plant.</summary>
    public static Dictionary<Guid, RestsAhead> Of(IReadOnlyCollection<FedPlant> plants, DateOnly today)
    {
        var all = plants.ToDictionary(plant => plant.PlantId, plant => new RestsAhead(plant, today));
        var kinds = all.Values.Where(rests => rests._years > 0 && rests._plant.Kind.Length > 0).ToLookup(rests => rests._plant.Kind);
        foreach (var rests in all.Values)
        {
            rests._teachers = rests._years > 0 ? [rests] : [.. kinds[rests._plant.Kind]];
        }

        foreach (var rests in all.Values.Where(rests => rests._resting).ToList())
        {
            rests.RememberRunning();
        }

        return all;
    }

    /// <summary>One future.</summary>
    public DrawnRests Draw(DateOnly end, Random random)
    {
        var spans = new List<FeedlessDays>();
        if (_resting && Running() is { Count: > 0 } running)
        {
            spans.Add(new FeedlessDays(_today.DayNumber, running[random.Next(running.Count)]));
        }

        for (var year = 0; _today.DayNumber + year * YearDays < end.DayNumber; year++)
        {
            spans.AddRange(InYear(year, random));
        }

        return new DrawnRests(spans);
    }

    // The rest that runs is one of this year, for years to come: taken to end as in the middle of others.
    private void RememberRunning()
    {
        if (_plant.LastFedOn is { } last && Running().Order().ToList() is { Count: > 0 } ends)
        {
            _rests.Add(new FeedlessDays(last.DayNumber, ends[ends.Count / 2]));
        }
    }

    // Days on which a rest that runs today was over in other years.
    private List<double> Running() => [.. _teachers.SelectMany(teacher => teacher._rests).Concat(_teachers.Count == 0 ? OfKind() : [])
        .Select(rest => rest.Later(Math.Floor((_today.DayNumber - rest.From) / YearDays) * YearDays)).Where(rest => rest.To > _today.DayNumber).Select(rest => rest.To)];

    private IEnumerable<FeedlessDays> InYear(int year, Random random)
    {
        if (_teachers.Count == 0)
        {
            return OfKind().Select(rest => rest.Later(year * YearDays));
        }

        var teacher = _teachers[random.Next(_teachers.Count)];
        var ago = (random.Next(teacher._years) + 1) * YearDays;
        var from = _today.DayNumber - ago;
        // One that ran on this day of that year begins later in this one, unless it was half over: then it is taken to have come and gone.
        return teacher._rests.Where(rest => rest.From < from + YearDays && (rest.From >= from || year == 0 && !_resting && (rest.From + rest.To) / 2 > from)).Select(rest => rest.Later(ago + year * YearDays));
    }

    // The one that begins within the year from today.
    private IEnumerable<FeedlessDays> OfKind()
    {
        if (_plant.KindRests is not { } months)
        {
            yield break;
        }

        var from = new DateOnly(_today.Year, months.From, 1);
        from = from < _today ? from.AddYears(1) : from;
        var to = new DateOnly(from.Year, months.To, 1).AddMonths(1);
        yield return new FeedlessDays(from.DayNumber, (to > from ? to : to.AddYears(1)).DayNumber);
    }
}

/// <summary>Days, by number, from the first without feed to the first with it again.</summary>
internal readonly record struct FeedlessDays(double From, double To)
{
    public FeedlessDays Later(double days) => new(From + days, To + days);
}

/// <summary>The rests of a plant in one future.</summary>
internal readonly struct DrawnRests(List<FeedlessDays> spans)
{
    /// <summary>The day itself, or that on which the rest is over in which it falls.</summary>
    public double After(double day)
    {
        foreach (var span in spans)
        {
            day = day >= span.From && day < span.To ? span.To : day;
        }

        return day;
    }
}
