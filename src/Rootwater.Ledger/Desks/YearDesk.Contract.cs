namespace Rootwater.Ledger.Desks;

/// <summary>The year: spikes, blooms, scents, repotting, rests by season.</summary>
public interface IYearDesk
{
    Task<YearSheet> GetAsync(int? year = null, CancellationToken cancel = default);
}

/// <summary>Spans of the year per plant, all years on record.</summary>
public sealed record YearSheet(IReadOnlyList<int> Years, IReadOnlyList<YearLine> Lines);

/// <summary>What one plant did when.</summary>
public sealed record YearLine(PlantCard Plant, IReadOnlyList<YearSpan> Spans);

/// <summary>What a span of the year is.</summary>
public enum YearMark
{
    Spike,
    Bloom,
    NewRoots,
    Repotted,
    Rest,
}

/// <summary>From one day to another; open at the end while it lasts.</summary>
public sealed record YearSpan(YearMark Mark, DateOnly From, DateOnly? To, string? Words);
