using Rootwater.Growing;
using Rootwater.Growing.Mixing;

namespace Rootwater.Ledger.Desks;

/// <summary>What the water at the root will be until the next feed.</summary>
public interface IPotDesk
{
    /// <summary>Pots in walking order.</summary>
    Task<IReadOnlyList<PotView>> ListAsync(CancellationToken cancel = default);

    /// <summary>The forecast for one pot fed with a planned or kept can.</summary>
    Task<RootForecastView> ForecastAsync(Guid potId, CanPlan can, int days = 7, CancellationToken cancel = default);

    /// <summary>The forecasts believed when a plant was fed, oldest first, of feeds that were not taken back.</summary>
    Task<IReadOnlyList<BelievedForecast>> BelievedAsync(Guid plantId, CancellationToken cancel = default);

    /// <summary>The forecast for the usual pot of a group that is due: the pot that most of its plants stand in.</summary>
    Task<RootForecastView> ForecastGroupAsync(DueGroup group, CanPlan can, int days = 7, CancellationToken cancel = default);
}

/// <summary>A forecast as it was believed on the day of a feed.</summary>
/// <param name="FedOn">The day.</param>
/// <param name="Forecast">As it was written then.</param>
public sealed record BelievedForecast(DateOnly FedOn, Facts.RootForecastBelieved Forecast);

/// <summary>A pot on the bench.</summary>
public sealed record PotView
{
    public required Guid Id { get; init; }
    public required Guid PlantId { get; init; }
    public required int PlantNumber { get; init; }
    public required string PlantName { get; init; }
    public required string Place { get; init; }
    public required string Medium { get; init; }

    /// <summary>Wicking, basket, mounted or open mix, in words.</summary>
    public required string Culture { get; init; }
    public required double MediumLitres { get; init; }
    public required double ReservoirLitres { get; init; }
    public required int FeedEveryDays { get; init; }
}

/// <summary>One moment of a forecast: never to be drawn so that it could be taken for a reading.</summary>
/// <param name="Hours">Since the feed.</param>
/// <param name="RootPH">pH at the root with its band.</param>
/// <param name="RootEcMicrosiemensPerCm">EC at the root at 25 °C with its band.</param>
/// <param name="ReservoirLitres">What is left in the reservoir.</param>
public sealed record RootMoment(double Hours, Expected RootPH, Expected RootEcMicrosiemensPerCm, double ReservoirLitres);

/// <summary>The root forecast from this feed to the next.</summary>
public sealed record RootForecastView
{
    public required string Pot { get; init; }
    public required double Days { get; init; }
    public required Band PHWindow { get; init; }
    public required IReadOnlyList<RootMoment> Moments { get; init; }

    /// <summary>Share of the time inside the window, 0 to 1, with its band.</summary>
    public required Expected ShareInWindow { get; init; }

    /// <summary>In words, how the bands above are corrected by what recorded forecasts of such pots were off by: as what is recorded with the feed will be. The best pour below is the model's own.</summary>
    public required string Corrected { get; init; }

    /// <summary>Days until salt calls for a leach; null where none is in sight.</summary>
    public required double? LeachDueInDays { get; init; }

    /// <summary>The pH to pour at that keeps the root longest inside the window, and the feed's strength relative to this can's.</summary>
    public required double? BestPourPH { get; init; }
    public required double? BestStrength { get; init; }

    /// <summary>What the forecast assumes, in words.</summary>
    public required IReadOnlyList<string> Assumptions { get; init; }
}
