using Rootwater.Growing.Bench;

namespace Rootwater.Ledger.Desks;

/// <summary>What of every plant's life the walk needs, kept in hand.</summary>
internal sealed class LivesInHand : IDisposable
{
    private readonly KeptLives<Signs> _kept = new(story => story.Lost is not null ? null : new Signs
    {
        StatesOn = story.States.Count > 0 ? story.States[^1].When.EarliestDay : null,
        Growths = TightGrowth.Of(story.Growths.Select(Slim)),
        NewRootsOn = story.NewRoots.Count > 0 ? story.NewRoots.Max(seen => seen.When.Latest) : null,
    });

    /// <summary>Of the plants that stand here; one of which nothing is told is left out.</summary>
    public Task<IReadOnlyDictionary<Guid, Signs>> OfAsync(LedgerContext db, CancellationToken cancel) => _kept.OfAsync(db, cancel);

    // Sizes over the years are most of a life and decide nothing on a walk.
    private static Growth Slim(Growth growth) => growth with
    {
        Leaves = [.. growth.Leaves.Select(leaf => leaf with { Measures = [] })],
        Spikes = [.. growth.Spikes.Select(spike => spike with { Measures = [.. spike.Measures.Where(measure => measure.LengthMillimetres is not null).TakeLast(1).Union(spike.Measures.TakeLast(1))] })],
    };

    public void Dispose() => _kept.Dispose();

    internal sealed record Signs
    {
        public required DateOnly? StatesOn { get; init; }
        public required IReadOnlyList<Growth> Growths { get; init; }
        public required DateOnly? NewRootsOn { get; init; }

        /// <summary>What lives: growths with the leaves and spikes that are still on them.</summary>
        public IReadOnlyList<Growth> Living { get => field ??= [.. Growths.Where(growth => growth.Ended is null).Select(Alive)]; }

        private static Growth Alive(Growth growth) => growth with
        {
            Leaves = [.. growth.Leaves.Where(leaf => leaf.Lost is null)],
            Spikes = [.. growth.Spikes.Where(spike => spike.Ended is null)],
        };
    }
}
