using Rootwater.Growing.Mixing;

namespace Rootwater.Ledger.Desks;

/// <summary>Pots and their root forecasts over the ledger.</summary>
public sealed class PotDesk(BenchDatabase database) : IPotDesk
{
    public Task<IReadOnlyList<PotView>> ListAsync(CancellationToken cancel = default) => database.ReadAsync<IReadOnlyList<PotView>>(async db =>
    [
        .. (await BenchReader.StandingAsync(db, cancel)).Select(standing => new PotView
        {
            Id = standing.Pot.Id,
            PlantId = standing.Plant.Id,
            PlantNumber = standing.Plant.Number,
            PlantName = standing.Plant.CurrentName,
            Place = standing.Place,
            Medium = standing.Pot.Medium,
            Culture = CultureWords.Of(standing.Pot.Culture),
            MediumLitres = standing.Pot.MediumLitres,
            ReservoirLitres = standing.Pot.ReservoirLitres,
            FeedEveryDays = standing.Pot.FeedEveryDays,
        }),
    ], cancel);

    public Task<RootForecastView> ForecastAsync(Guid potId, CanPlan can, int days = 7, CancellationToken cancel = default) =>
        throw new NotSupportedException("Lands with Pots.PotForecaster.");

    public Task<RootForecastView> ForecastGroupAsync(DueGroup group, CanPlan can, int days = 7, CancellationToken cancel = default) =>
        throw new NotSupportedException("Lands with Pots.PotForecaster.");
}
