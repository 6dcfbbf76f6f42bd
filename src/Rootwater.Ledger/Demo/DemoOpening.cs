using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Demo;

/// <summary>What is told first of every bench that is made up: its name, its tools and vessels, whom it feeds, its waters and its cupboard.</summary>
internal static class DemoOpening
{
    /// <summary>Lazily: ids are taken as facts are handed out, so that a seed tells the same bench each time.</summary>
    public static IEnumerable<(Guid Subject, FactPayload Payload, FactWhen? When)> Facts(Func<Guid> newId, string zone, DateOnly day, DemoBand bands, DemoWaters waters, DemoCupboard cupboard)
    {
        yield return (newId(), new BenchOpened("the lean-to", zone), null);
        yield return (newId(), new ToolsSet(DemoRecipes.Tools), null);
        foreach (var vessel in DemoRecipes.Vessels)
        {
            var id = newId();
            yield return (id, new VesselSet(id, vessel), null);
        }

        foreach (var (id, want) in bands.Wants.Values)
        {
            yield return (id, new WantSet(id, want), null);
        }

        foreach (var fact in waters.Facts(day).Concat(cupboard.Facts(day)))
        {
            yield return fact;
        }
    }
}
