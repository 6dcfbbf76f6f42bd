using Rootwater.Growing;

namespace Rootwater.Ledger.Facts;

/// <summary>What of a recorded forecast a reading meets.</summary>
internal enum Foretold
{
    /// <summary>pH of what runs out of the medium.</summary>
    RootPH,

    /// <summary>Its EC, µS/cm at 25 °C.</summary>
    RootEc,

    /// <summary>Litres left in the reservoir.</summary>
    Level,
}

/// <summary>The scale on which forecasts are compared with readings, moved and widened: pH as it is, the logarithm of an EC, a share of a full reservoir.</summary>
/// <param name="HasPens">Whether the model's bands have the pens' errors in them, as those of a fit do.</param>
/// <param name="FullLitres">The reservoir as it was filled; 0 without one.</param>
internal readonly record struct ForecastScale(bool HasPens, double FullLitres)
{
    /// <summary>Nothing is known to be off at the feed itself, and by a week what was carried on wrongly is carried on. From memory; on the demo errors of open pots grow so.</summary>
    private const double GrownDays = 7;

    public static Expected Of(Foretold what, BelievedMoment moment) => what switch
    {
        Foretold.RootPH => moment.PH,
        Foretold.RootEc => moment.EcMicrosiemensPerCm,
        _ => moment.ReservoirLitres,
    };

    /// <summary>What the model itself said of a day, straight between its moments.</summary>
    public static Expected At(RootForecastBelieved forecast, Foretold what, double days)
    {
        var after = forecast.Moments.First(moment => moment.Day >= days);
        var before = forecast.Moments.Last(moment => moment.Day <= days);
        var share = after.Day > before.Day ? (days - before.Day) / (after.Day - before.Day) : 0;
        double Between(Func<Expected, double> edge) => edge(Of(what, before)) + share * (edge(Of(what, after)) - edge(Of(what, before)));
        return new Expected(Between(each => each.Low), Between(each => each.Value), Between(each => each.High));
    }

    /// <summary>How much of a shift has come about by a day.</summary>
    public static double Grown(double days) => Math.Clamp(days / GrownDays, 0, 1);

    /// <summary>Middle and half bands of what the model said, on the scale. A pen's error is in them: bands of a fit have it, those of the data sheet get it here.</summary>
    public (double Middle, double Down, double Up) Halves(Foretold what, Expected own)
    {
        var (low, middle, high) = (On(what, own.Low), On(what, own.Value), On(what, own.High));
        // 90 % of a careful reading's error: pH 0.1, EC 3 %, a level 4 % of a full reservoir (PotReading.UsualSigma).
        var pen = HasPens ? 0 : what switch { Foretold.RootPH => 0.16, Foretold.RootEc => 0.05, _ => 0.066 };
        return (middle, Math.Sqrt((middle - low) * (middle - low) + pen * pen), Math.Sqrt((high - middle) * (high - middle) + pen * pen));
    }

    public double On(Foretold what, double value) => what switch
    {
        Foretold.RootPH => value,
        Foretold.RootEc => Math.Log(Math.Max(value, 1)),
        _ => value / FullLitres,
    };

    /// <summary>The band a reading is promised nine times in ten: what is believed, a pen's error included.</summary>
    /// <param name="what">Which value.</param>
    /// <param name="own">What the model itself says.</param>
    /// <param name="days">After the feed.</param>
    /// <param name="record">What the record has to say of the model; null where it was not asked.</param>
    public Expected Corrected(Foretold what, Expected own, double days, BandCorrections? record)
    {
        if (what == Foretold.Level && FullLitres == 0)
        {
            return own;
        }

        var by = what switch { Foretold.RootPH => record?.PH, Foretold.RootEc => record?.Ec, _ => record?.Level } ?? new BandCorrection(0, 1, 0);
        var (middle, down, up) = Halves(what, own);
        middle += by.Shift * Grown(days);
        var full = FullLitres;
        return new Expected(Back(middle - by.Factor * down), Back(middle), Back(middle + by.Factor * up));

        double Back(double on) => what switch
        {
            Foretold.RootPH => Math.Round(on, 3),
            Foretold.RootEc => Math.Round(Math.Exp(on), 1),
            // No more than was poured; a reading's error goes a little beyond either end.
            _ => Math.Round(Math.Clamp(on, 0, 1) * full, 4),
        };
    }
}
