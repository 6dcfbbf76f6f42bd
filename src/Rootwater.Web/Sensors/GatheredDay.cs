using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Web.Sensors;

/// <summary>A day of a place's air as it gathers: means of each quarter of an hour, on top of what the ledger holds of that day already.</summary>
internal sealed class GatheredDay
{
    private readonly SortedDictionary<int, (double Sum, int Count)[]> _minutes = [];

    /// <param name="standing">What the ledger tells of the day; each of its samples weighs as one, however many made it.</param>
    public GatheredDay(AirDayOnRecord? standing)
    {
        FactId = standing?.FactId;
        foreach (var sample in standing?.Samples ?? [])
            Add(sample.Minute, sample.TemperatureCelsius, sample.RelativeHumidity, sample.PpfdMicromolesPerSquareMetrePerSecond, sample.Lux);
    }

    /// <summary>The fact that tells this day so far; what is written next corrects it.</summary>
    public Guid? FactId { get; set; }
    public bool Changed { get; set; }

    public void Add(AirNote note)
    {
        Add(note.Minute, note.Celsius, note.Humidity, note.Ppfd, note.Lux);
        Changed = true;
    }

    public IReadOnlyList<AirSample> Samples() => [.. _minutes.Select(pair => new AirSample(pair.Key, Mean(pair.Value[0]), Mean(pair.Value[1]), Mean(pair.Value[2]), Mean(pair.Value[3])))];

    private void Add(int minute, params ReadOnlySpan<double?> values)
    {
        if (!_minutes.TryGetValue(minute, out var sums))
            _minutes[minute] = sums = new (double, int)[values.Length];
        for (var i = 0; i < values.Length; i++)
        {
            if (values[i] is { } value)
                sums[i] = (sums[i].Sum + value, sums[i].Count + 1);
        }
    }

    private static double? Mean((double Sum, int Count) sum) => sum.Count == 0 ? null : sum.Sum / sum.Count;
}
