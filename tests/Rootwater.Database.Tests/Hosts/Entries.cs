using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;

namespace Rootwater.Database.Tests.Hosts;

/// <summary>Short ways to say what a grower enters.</summary>
public static class Entries
{
    public static FactWhen On(string day) => FactWhen.TryParse(day, "UTC", out var when) ? when : throw new ArgumentException(day);

    public static NewFact Told(Guid subject, FactPayload payload, string? when = null, Guid? corrects = null) => new()
    {
        Id = Guid.CreateVersion7(),
        SubjectId = subject,
        Payload = payload,
        When = when is null ? null : On(when),
        Corrects = corrects,
    };

    public static NewFact Growth(Guid plant, out Guid growth, int number = 1, GrowthForm form = GrowthForm.Stem, string? when = null, bool thereOnArrival = false) =>
        Told(plant, new GrowthSeen(plant, growth = Guid.CreateVersion7(), number, form, thereOnArrival), when);

    public static NewFact Leaf(Guid plant, Guid growth, out Guid leaf, int position = 1, string? when = null, bool thereOnArrival = false) =>
        Told(plant, new LeafSeen(plant, growth, leaf = Guid.CreateVersion7(), position, thereOnArrival), when);

    public static NewFact Spike(Guid plant, Guid growth, out Guid spike, double? millimetres = null, string? when = null) =>
        Told(plant, new SpikeSeen(plant, growth, spike = Guid.CreateVersion7(), millimetres), when);
}
