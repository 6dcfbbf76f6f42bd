using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Web.Sensors;

/// <summary>
/// Makes facts of what probes send, and not too many: of a pot at most one reading of a kind in an hour, of a place one day-fact with a
/// sample a quarter of an hour, written every six hours and when the program stops. What comes between is averaged (air) or left (pots).
/// A day that stands already is corrected; air that is not in the ledger yet waits in the notebook, so that a crash costs none of it.
/// </summary>
public sealed class SensorInbox(IPlantDesk plants, IFactDesk facts, IReadingDesk readings, ISettingsDesk settings, AirNotebook notebook, TimeProvider clock)
{
    public const int SampleMinutes = 15;
    public static readonly TimeSpan PotEvery = TimeSpan.FromHours(1), WriteEvery = TimeSpan.FromHours(6);

    private readonly SemaphoreSlim _one = new(1, 1);
    private readonly Dictionary<(int Number, ReadingOf Of), DateTimeOffset> _lastOfPot = [];
    private readonly Dictionary<(Guid Place, DateOnly Day), GatheredDay> _days = [];
    private DateTimeOffset _written = clock.GetUtcNow();
    private bool _readNotebook;

    /// <summary>Takes a message in. Null when it was taken or rightly left; otherwise why it cannot be.</summary>
    public async Task<string?> TakeAsync(SensorMessage message, bool retained, CancellationToken cancel)
    {
        // A broker hands out what it retained on every connection: without a time of its own nobody knows how old it is.
        if (retained && message.At is null)
            return null;
        await _one.WaitAsync(cancel);
        try
        {
            await ReadNotebookAsync(cancel);
            var bench = await settings.GetAsync(cancel);
            var now = clock.GetUtcNow();
            var at = message.At ?? now;
            if (at > now.AddMinutes(5))
                return "its time lies ahead: the probe's clock is wrong.";
            var local = TimeZoneInfo.ConvertTime(at, TimeZoneInfo.FindSystemTimeZoneById(bench.Zone)).DateTime;
            return message.PlantNumber is { } number
                ? await PotAsync(number, message, at, FactWhen.AtMinute(local, bench.Zone), cancel)
                : await AirAsync(message, local, bench, cancel);
        }
        finally
        {
            _one.Release();
        }
    }

    /// <summary>Writes what has gathered.</summary>
    public async Task FlushAsync(CancellationToken cancel)
    {
        await _one.WaitAsync(cancel);
        try
        {
            await ReadNotebookAsync(cancel);
            await WriteDaysAsync((await settings.GetAsync(cancel)).Zone, cancel);
        }
        finally
        {
            _one.Release();
        }
    }

    private async Task<string?> PotAsync(int number, SensorMessage message, DateTimeOffset at, FactWhen when, CancellationToken cancel)
    {
        if (_lastOfPot.TryGetValue((number, message.Of), out var last) && at - last < PotEvery)
            return null;
        if (await plants.GetByNumberAsync(number, cancel) is not { } life)
            return $"there is no plant no. {number}.";
        var id = Guid.CreateVersion7(clock.GetUtcNow());
        await facts.WriteAsync(
            [
                new NewFact
                {
                    Id = id,
                    SubjectId = life.Card.Id,
                    When = when,
                    Payload = new ReadingTaken
                    {
                        ReadingId = id,
                        Of = message.Of,
                        From = ReadingFrom.Probe,
                        PlantId = life.Card.Id,
                        PotId = life.Card.Pot?.Id,
                        EcMicrosiemensPerCm = message["ec_us_cm"],
                        PH = message["ph"],
                        TemperatureCelsius = message["celsius"],
                        LevelShare = message["level_percent"] / 100,
                    },
                },
            ],
            who: "probe", device: "mqtt", cancel: cancel);
        _lastOfPot[(number, message.Of)] = at;
        return null;
    }

    private async Task<string?> AirAsync(SensorMessage message, DateTime local, BenchSettings bench, CancellationToken cancel)
    {
        if ((await plants.PlacesAsync(cancel)).FirstOrDefault(place => SensorMessage.TopicName(place.Name) == message.Place) is not { } place)
            return $"there is no place called {message.Place}.";
        var noted = new AirNote(place.Id, DateOnly.FromDateTime(local), (int)local.TimeOfDay.TotalMinutes / SampleMinutes * SampleMinutes, message["celsius"], message["humidity_percent"] / 100, message["ppfd"], message["lux"]);
        // First on paper: what is then acknowledged to the broker is not sent again.
        notebook.Add(noted);
        (await DayAsync(noted.PlaceId, noted.Day, cancel)).Add(noted);
        if (clock.GetUtcNow() - _written >= WriteEvery)
            await WriteDaysAsync(bench.Zone, cancel);
        return null;
    }

    // What a program before this one took in and had no time to write down.
    private async Task ReadNotebookAsync(CancellationToken cancel)
    {
        if (_readNotebook)
            return;
        foreach (var note in notebook.Read())
            (await DayAsync(note.PlaceId, note.Day, cancel)).Add(note);
        _readNotebook = true;
    }

    private async Task<GatheredDay> DayAsync(Guid place, DateOnly on, CancellationToken cancel)
    {
        if (!_days.TryGetValue((place, on), out var day))
            _days[(place, on)] = day = new GatheredDay(await readings.AirDayAsync(place, on, ReadingFrom.Probe, cancel));
        return day;
    }

    private async Task WriteDaysAsync(string zone, CancellationToken cancel)
    {
        foreach (var ((place, on), day) in _days.ToList())
        {
            if (!day.Changed)
                continue;
            var id = Guid.CreateVersion7(clock.GetUtcNow());
            await facts.WriteAsync(
                [new NewFact { Id = id, SubjectId = place, When = FactWhen.OnDay(on, zone), Payload = new AirDay(place, on, ReadingFrom.Probe, day.Samples()), Corrects = day.FactId }],
                who: "probe", device: "mqtt", cancel: cancel);
            (day.FactId, day.Changed) = (id, false);
            if (on < DateOnly.FromDateTime(clock.GetUtcNow().UtcDateTime).AddDays(-2))
                _days.Remove((place, on));
        }

        notebook.Clear();
        _written = clock.GetUtcNow();
    }
}
