using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Exchange;

/// <summary>All facts of a bench into an empty one, each with its position and its stamps: the same bench then.</summary>
internal static class WholeBench
{
    /// <param name="database">Empty, or refused.</param>
    /// <param name="facts">In the order of the ledger.</param>
    /// <param name="of">How many there are.</param>
    /// <param name="write">Whether to keep them; else all is tried and taken back.</param>
    /// <param name="progress">Told now and then.</param>
    /// <param name="cancel">Cancels; nothing is kept then.</param>
    /// <param name="ownBackup">A backup of this bench: its facts stood in the ledger and are not judged again.</param>
    public static async Task ImportAsync(BenchDatabase database, IEnumerable<Fact> facts, long of, bool write, IProgress<ExchangeProgress>? progress, CancellationToken cancel, bool ownBackup = false)
    {
        await DemandEmptyAsync(database, cancel);
        var (import, told) = (new FactImport(database) { AsItStands = ownBackup }, progress is null ? null : new Told(progress));
        await (write ? import.RunAsync(InOrder(facts), of, told, cancel) : import.TryAsync(InOrder(facts), of, told, cancel));
    }

    public static async Task DemandEmptyAsync(BenchDatabase database, CancellationToken cancel)
    {
        if (await database.ReadAsync(db => db.Facts.AnyAsync(cancel), cancel))
        {
            throw new EntryException("bench", database.Name, "an empty one: a whole bench is not mixed into another. Name a new file with --bench");
        }
    }

    private static IEnumerable<Fact> InOrder(IEnumerable<Fact> facts)
    {
        long position = 0;
        foreach (var fact in facts)
        {
            if (fact.Position != ++position)
            {
                throw new EntryException("position", fact.Position.ToString(CultureInfo.InvariantCulture), $"facts numbered from 1 without gaps: {position} is missing, or comes twice");
            }

            yield return fact;
        }
    }

    private sealed class Told(IProgress<ExchangeProgress> progress) : IProgress<ImportProgress>
    {
        public void Report(ImportProgress value) => progress.Report(new ExchangeProgress("facts", value.Done, value.Total ?? 0));
    }
}
