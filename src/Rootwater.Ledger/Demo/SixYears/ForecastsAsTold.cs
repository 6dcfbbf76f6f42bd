using Rootwater.Growing.Bench;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Demo.SixYears;

/// <summary>What recorded forecasts were off by while the years are told: as <see cref="RecordedForecasts"/> reads them from a ledger, but as each fact comes, so that no forecast knows of a later reading.</summary>
internal sealed class ForecastsAsTold
{
    private readonly Dictionary<Guid, Pot> _pots = [];
    private readonly Dictionary<Guid, List<Open>> _open = [];

    public ForecastErrors Errors { get; } = new();

    /// <summary>In order.</summary>
    public void Tell(NewFact fact, DateTime at)
    {
        switch (fact.Payload)
        {
            case PlantPotted potted:
                _pots[potted.Pot.Id] = potted.Pot;
                break;
            case RootForecastBelieved { Moments.Count: > 1 } forecast:
                Of(forecast.PlantId).Add(new Open(forecast, at));
                break;
            case PlantGiven given:
                foreach (var open in Of(given.PlantId).Where(open => open.Until is null && DateOnly.FromDateTime(open.Fed) < DateOnly.FromDateTime(at)))
                {
                    open.Until = DateOnly.FromDateTime(at);
                }

                break;
            case ReadingTaken { PlantId: { } plant, PotId: { } pot } reading:
                if (fact.Corrects is { } slip)
                {
                    Errors.Remove(slip);
                }

                Of(plant).RemoveAll(open => (at - open.Fed).TotalDays > open.Forecast.Moments[^1].Day);
                var met = new ReadingMeeting(fact.Id, reading.Of, at, reading.EcMicrosiemensPerCm, reading.PH, reading.LevelShare);
                foreach (var one in Of(plant).Where(open => open.Forecast.PotId == pot && (open.Until is null || DateOnly.FromDateTime(at) <= open.Until))
                    .SelectMany(open => MetForecast.Of(open.Forecast, _pots[pot].Medium, _pots[pot].Culture, open.Fed, met)))
                {
                    Errors.Add(one);
                }

                break;
        }
    }

    private List<Open> Of(Guid plant)
    {
        if (!_open.TryGetValue(plant, out var list))
        {
            _open[plant] = list = [];
        }

        return list;
    }

    private sealed class Open(RootForecastBelieved forecast, DateTime fed)
    {
        public RootForecastBelieved Forecast => forecast;
        public DateTime Fed => fed;

        /// <summary>The day something else was poured.</summary>
        public DateOnly? Until { get; set; }
    }
}
