using System.Collections.Concurrent;
using MathNet.Numerics.Distributions;
using Rootwater.Growing;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Pots whose forecasts are off alike: of one model, medium and way of growing.</summary>
internal readonly record struct PotsAlike(string Model, string Medium, Culture Culture);

/// <summary>A recorded forecast and the reading that met it.</summary>
/// <param name="Forecast">As it was written.</param>
/// <param name="Pots">Of which kind of pot.</param>
/// <param name="What">Which value.</param>
/// <param name="Days">From the feed to the reading.</param>
/// <param name="Read">What was read, in its unit.</param>
/// <param name="At">When, on the bench's clock.</param>
/// <param name="ReadingFactId">The fact that says so.</param>
internal sealed record MetForecast(RootForecastBelieved Forecast, PotsAlike Pots, Foretold What, double Days, double Read, DateTime At, Guid ReadingFactId)
{
    /// <summary>What was believed of it beforehand.</summary>
    public Expected Believed => Forecast.Scale.Corrected(What, ForecastScale.At(Forecast, What, Days), Days, Forecast.Corrected);

    /// <summary>The values of one reading that a forecast can be met by. None before the feed or beyond the forecast's end.</summary>
    public static IEnumerable<MetForecast> Of(RootForecastBelieved forecast, string medium, Culture culture, DateTime fed, ReadingMeeting reading)
    {
        var days = (reading.At - fed).TotalDays;
        if (forecast.Moments.Count < 2 || days <= 0 || days > forecast.Moments[^1].Day)
        {
            return [];
        }

        var runoff = reading.Of == ReadingOf.Runoff;
        var pots = new PotsAlike(forecast.Model, medium, culture);
        return new (Foretold What, double? Value)[]
        {
            (Foretold.RootPH, runoff ? reading.PH : null),
            (Foretold.RootEc, runoff ? reading.EcMicrosiemensPerCm : null),
            (Foretold.Level, forecast.Scale.FullLitres is > 0 and var full ? reading.LevelShare * full : null),
        }.Where(each => each.Value is not null).Select(each => new MetForecast(forecast, pots, each.What, days, each.Value!.Value, reading.At, reading.FactId));
    }
}

/// <summary>A pot's reading as far as forecasts are met by it.</summary>
internal readonly record struct ReadingMeeting(Guid FactId, ReadingOf Of, DateTime At, double? EcMicrosiemensPerCm, double? PH, double? LevelShare);

/// <summary>What recorded forecasts were off by so far, and how the next are corrected for it.</summary>
/// <remarks>
/// Split conformal prediction as time goes on (Lei and others 2018, as in <see cref="BandWidening"/>; from memory): a forecast is widened by the factor that would have put nine tenths of the earlier ones of such
/// pots inside their own bands, never below 1. Five forecasts off by the starting factor's normal errors stand in for those to come. Readings of one pot repeat its errors, so the promise is
/// not exact; calibration.md has the figures. Where the errors have a steady sign (their slope over the first week is beyond twice its standard error) the middle is moved too, and each
/// of them is then asked of the shift that the others alone would give.
/// </remarks>
internal sealed class ForecastErrors
{
    private const double Promised = 0.9;
    private const int LeastToShift = 5, StandIns = 5;

    // Forecasts that count as one more without a shift.
    private const double ShrinkTo = 2;

    /// <summary>A pot is twice as far from its data sheet as the sheet's spreads say. From memory, with the demo's seeds 36, 37 and 38 in view.</summary>
    private const double SheetFactor = 2;

    private readonly Dictionary<(PotsAlike, Foretold), List<Off>> _met = [];

    // Asked by whoever pours, several at once.
    private readonly ConcurrentDictionary<(PotsAlike, Foretold), BandCorrection> _known = [];

    /// <summary>Of whom it knows anything, in a steady order.</summary>
    public IEnumerable<PotsAlike> Pots => _met.Where(each => each.Value.Count > 0).Select(each => each.Key.Item1).Distinct().OrderBy(each => (each.Medium, each.Culture, each.Model));

    public void Add(MetForecast met)
    {
        var own = ForecastScale.At(met.Forecast, met.What, met.Days);
        var (middle, down, up) = met.Forecast.Scale.Halves(met.What, own);
        var key = (met.Pots, met.What);
        if (!_met.TryGetValue(key, out var list))
        {
            _met[key] = list = [];
        }

        list.Add(new Off(met.ReadingFactId, met.At, ForecastScale.Grown(met.Days), met.Forecast.Scale.On(met.What, met.Read) - middle, down, up));
        _known.TryRemove(key, out _);
    }

    /// <summary>A reading was corrected: what it met is unsaid.</summary>
    public void Remove(Guid readingFactId)
    {
        foreach (var (key, list) in _met)
        {
            if (list.RemoveAll(off => off.ReadingFactId == readingFactId) > 0)
            {
                _known.TryRemove(key, out _);
            }
        }
    }

    /// <summary>How the next forecast of such a pot is corrected.</summary>
    /// <param name="pots">Which kind.</param>
    /// <param name="asOf">The moment of the feed, for one that lies back: whatever was read later says nothing about it. Null for now.</param>
    public BandCorrections Of(PotsAlike pots, DateTime? asOf = null) => new(Of(pots, Foretold.RootPH, asOf), Of(pots, Foretold.RootEc, asOf), Of(pots, Foretold.Level, asOf));

    private BandCorrection Of(PotsAlike pots, Foretold what, DateTime? asOf)
    {
        var met = _met.GetValueOrDefault((pots, what)) ?? [];
        // A fit has been widened by what was held back from it.
        var start = RootForecastBelieved.IsFitted(pots.Model) ? 1 : SheetFactor;
        if (asOf is { } moment && met.Exists(off => off.At > moment))
        {
            return Of([.. met.Where(off => off.At <= moment)], start);
        }

        if (!_known.TryGetValue((pots, what), out var known))
        {
            _known[(pots, what)] = known = Of(met, start);
        }

        return known;
    }

    private static BandCorrection Of(List<Off> met, double start)
    {
        var (weight, shift) = (met.Sum(off => off.Grown * off.Grown), 0.0);
        if (met.Count >= LeastToShift && weight > 0)
        {
            var slope = met.Sum(off => off.Grown * off.Error) / weight;
            var error = Math.Sqrt(met.Sum(off => Math.Pow(off.Error - slope * off.Grown, 2)) / (met.Count - 1) / weight);
            shift = Math.Abs(slope) > 2 * error ? slope * weight / (weight + ShrinkTo) : 0;
        }

        // The shift was drawn towards each of them too.
        var without = shift == 0 ? 1 : met.Count / (met.Count - 1.0);
        var ratios = met.Select(off => (off.Error - shift * off.Grown) * without is var rest ? Math.Abs(rest) / (rest > 0 ? off.Up : off.Down) : 0)
            .Concat(Enumerable.Range(0, StandIns).Select(i => start * Normal.InvCDF(0, 1, 0.5 + (i + 0.5) / StandIns / 2) / Normal.InvCDF(0, 1, 0.95))).Order().ToList();
        var factor = Math.Max(1, ratios[Math.Min(ratios.Count, (int)Math.Ceiling((ratios.Count + 1) * Promised)) - 1]);
        return new BandCorrection(Math.Round(shift, 4), Math.Round(factor, 4), met.Count);
    }

    private readonly record struct Off(Guid ReadingFactId, DateTime At, double Grown, double Error, double Down, double Up);
}
