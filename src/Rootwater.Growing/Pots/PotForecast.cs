namespace Rootwater.Growing.Pots;

/// <summary>Everything a root forecast needs to know.</summary>
public sealed record PotForecastRequest
{
    public required PotSetup Setup { get; init; }
    public required PotClimate Climate { get; init; }

    /// <summary>What the pot holds at hour 0. <see cref="PotState.FilledWith"/> for a pot just filled; or an older state with a refill at hour 0 among the events.</summary>
    public required PotState Start { get; init; }
    public IReadOnlyList<PotEvent> Events { get; init; } = [];

    /// <summary>Days to the next feed (0.25 to 120).</summary>
    public double Days { get; init; } = 7;

    /// <summary>The plant's window of the pH at the root.</summary>
    public required Band RootPH { get; init; }

    /// <summary>EC at 25 °C in the medium at which a leach is due, µS/cm. 1500: common practice for orchids, no source.</summary>
    public double LeachAtEcMicrosiemensPerCm { get; init; } = 1500;
    public PotParameters Parameters { get; init; } = PotParameters.Default;

    /// <summary>What the bands are made of: the stated spreads, or those a calibration left for this pot.</summary>
    public IReadOnlyList<Uncertain> Spreads { get; init; } = Uncertain.All;

    /// <summary>What the parameters were fitted to, as the first note says it; null when to nothing.</summary>
    public string? FittedTo { get; init; }

    /// <summary>Hours between the points of the forecast; null for six up to a week and twelve beyond. The bands are solved more rarely and drawn straight in between.</summary>
    public double? PointEveryHours { get; init; }

    /// <summary>How the bands at the root are told where this model's earlier errors are known; null for as the model itself says them.</summary>
    public ToldBands? Told { get; init; }

    internal double SpacingHours => PointEveryHours ?? (Days <= 7 ? 6 : 12);

    internal void Check()
    {
        if (!(RootPH.Low < RootPH.High) || !(RootPH.Ideal >= RootPH.Low && RootPH.Ideal <= RootPH.High) || RootPH.Low < 0 || RootPH.High > 14)
        {
            throw new PotInputException("window", RootPH, "low <= ideal <= high with low below high, all between pH 0 and 14");
        }

        PotInputException.RequireWithin("ecLimitMicrosiemensPerCm", LeachAtEcMicrosiemensPerCm, 50, 20000, "µS/cm");
        PotInputException.RequireWithin("pointEveryHours", SpacingHours, 0.25, 48, "hours");
        PotInputs.Check(Parameters, Setup, Climate, Start, Events, Days * 24);
    }
}

/// <summary>What becomes of the model's own bands of the water in the medium before anything is read off them: share of time, creep, leach and notes go by what is told.</summary>
/// <param name="PH">From hours after the start and the model's own band.</param>
/// <param name="EcMicrosiemensPerCm">Likewise, at 25 °C.</param>
public sealed record ToldBands(Func<double, Expected, Expected> PH, Func<double, Expected, Expected> EcMicrosiemensPerCm);

/// <summary>One water of the pot at one moment of a forecast.</summary>
public sealed record ForecastWater
{
    /// <summary>pH at the pot's temperature.</summary>
    public required Expected PH { get; init; }

    /// <summary>EC at 25 °C, µS/cm.</summary>
    public required Expected EcMicrosiemensPerCm { get; init; }
    public required double Litres { get; init; }
    public required NutrientAmounts MgPerLitre { get; init; }
}

/// <summary>One moment of a forecast.</summary>
/// <param name="Hours">After the start.</param>
/// <param name="AfterEvent">True right after something was done to the pot; the point before it has the same hour.</param>
/// <param name="Medium">What the roots meet.</param>
/// <param name="Reservoir">Null where there is none or it is empty.</param>
public sealed record PotPoint(double Hours, bool AfterEvent, ForecastWater Medium, ForecastWater? Reservoir);

/// <summary>The root forecast from this feed to the next. It is computed from stated constants and fitted to no reading of this pot.</summary>
public sealed record PotForecast
{
    public required IReadOnlyList<PotPoint> Points { get; init; }

    /// <summary>Share of the time the pH at the root is inside the plant's window, 0 to 1.</summary>
    public required Expected ShareInWindow { get; init; }

    /// <summary>How fast EC at the root rises after the last pour, µS/cm per week.</summary>
    public required Expected EcCreepMicrosiemensPerCmPerWeek { get; init; }

    /// <summary>Day on which EC at the root reaches the limit; beyond the forecast on a straight line; null where none is in sight within 120 days.</summary>
    public required double? LeachDueDay { get; init; }

    /// <summary>The same at the upper edge of the EC band: the earliest it may be.</summary>
    public required double? LeachDueEarliestDay { get; init; }

    /// <summary>Day the reservoir is empty; beyond the forecast at the present loss; null where there is no reservoir.</summary>
    public required double? ReservoirEmptyDay { get; init; }

    /// <summary>Water lost to the air and how cool the medium is.</summary>
    public required WaterLoss WaterLoss { get; init; }

    /// <summary>What the pot holds at the end, for the forecast after this one.</summary>
    public required PotState End { get; init; }

    /// <summary>What came and went.</summary>
    public required PotBudget Budget { get; init; }

    /// <summary>What was assumed and what stands out, in words.</summary>
    public required IReadOnlyList<string> Notes { get; init; }
}
