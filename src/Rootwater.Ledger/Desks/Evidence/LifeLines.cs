using System.Collections;

namespace Rootwater.Ledger.Desks;

/// <summary>Lives line by line, written plant by plant as they are read: of a large bench all lines are megabytes, and a page shows the first hundred.</summary>
/// <param name="plants">By number.</param>
/// <param name="of">What lives.</param>
/// <param name="today">The bench's day.</param>
/// <param name="count">Lines there are.</param>
internal sealed class LifeLines(IReadOnlyList<EvidencePlant> plants, LivesOf of, DateOnly today, int count) : IReadOnlyList<LifeLine>
{
    public int Count => count;

    public LifeLine this[int index] => this.Skip(index).First();

    public IEnumerator<LifeLine> GetEnumerator() => plants.SelectMany(plant => CountedLife.Of(plant, of, today).OrderBy(life => life.Began.Earliest)).Select(life => life.ToLine()).GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();
}
