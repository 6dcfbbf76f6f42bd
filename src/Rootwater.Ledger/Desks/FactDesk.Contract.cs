using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>
/// The one door for what a grower enters about plants, rounds and readings, for pages, phone, terminal and API alike: facts come in with
/// their own ids, are checked field by field, and are written all or none.
/// </summary>
public interface IFactDesk
{
    /// <summary>Writes facts in order. One that stands there already under its id counts as written.</summary>
    /// <param name="facts">In the order they happened.</param>
    /// <param name="who">Person or device; "grower" when null.</param>
    /// <param name="device">On what it was entered; this program's when null.</param>
    /// <param name="cancel">Cancels before anything is written.</param>
    /// <exception cref="EntryException">Names every field that cannot be; nothing was saved.</exception>
    Task<WriteReceipt> WriteAsync(IReadOnlyList<NewFact> facts, string? who = null, string? device = null, CancellationToken cancel = default);

    /// <summary>Takes back a fact of the last hour; older ones are corrected by a new fact.</summary>
    /// <param name="factId">What is taken back.</param>
    /// <param name="undoId">Id of the fact that takes it back: the idempotency key.</param>
    /// <param name="why">In the grower's words.</param>
    /// <param name="cancel">Cancels before anything is written.</param>
    Task UndoAsync(Guid factId, Guid undoId, string? why = null, CancellationToken cancel = default);

    /// <summary>What was entered lately, newest first.</summary>
    Task<IReadOnlyList<FactLine>> RecentAsync(TimeSpan within, int most = 50, CancellationToken cancel = default);

    /// <summary>All that was entered about a plant, newest first; what was taken back or put right too, marked so.</summary>
    async Task<IReadOnlyList<FactLine>> OfPlantAsync(Guid plantId, int most = 500, CancellationToken cancel = default) =>
        [.. (await RecentAsync(TimeSpan.FromDays(36_525), int.MaxValue, cancel)).Where(line => line.SubjectId == plantId).Take(most)];
}

/// <summary>What became of facts handed in.</summary>
/// <param name="Written">New ones.</param>
/// <param name="AlreadyThere">Sent before under the same id.</param>
public sealed record WriteReceipt(int Written, int AlreadyThere);

/// <summary>A fact in a line.</summary>
public sealed record FactLine
{
    public required Guid Id { get; init; }
    public required string Kind { get; init; }
    public required Guid SubjectId { get; init; }

    /// <summary>"leaf 3 of bulb 4: yellowing, tip".</summary>
    public required string Words { get; init; }
    public required FactWhen When { get; init; }
    public required DateTimeOffset RecordedAt { get; init; }
    public required string Who { get; init; }
    public required bool TakenBack { get; init; }

    /// <summary>The fact that put this one right, if any.</summary>
    public Guid? CorrectedBy { get; init; }
    public required bool CanBeUndone { get; init; }
    public required FactPayload Payload { get; init; }
}
