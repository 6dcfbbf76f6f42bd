using Microsoft.EntityFrameworkCore;

namespace Rootwater.Ledger.Desks;

/// <summary>Rows that come in the order of plants, plant by plant: of a large bench all rows at once are three times what is kept of them.</summary>
internal static class PlantByPlant
{
    /// <param name="ordered">Rows, those of a plant one after the other.</param>
    /// <param name="plantOf">Whose a row is.</param>
    /// <param name="wanted">Whose rows are kept.</param>
    /// <param name="keep">Told of each plant's rows; the list is used again for the next plant.</param>
    /// <param name="cancel">Stops reading.</param>
    public static async Task EachAsync<T>(IQueryable<T> ordered, Func<T, Guid> plantOf, HashSet<Guid> wanted, Action<Guid, List<T>> keep, CancellationToken cancel)
    {
        List<T> rows = [];
        await foreach (var row in ordered.AsAsyncEnumerable().WithCancellation(cancel))
        {
            if (rows.Count > 0 && plantOf(rows[0]) != plantOf(row))
            {
                Keep();
            }

            rows.Add(row);
        }

        Keep();

        void Keep()
        {
            if (rows.Count > 0 && wanted.Contains(plantOf(rows[0])))
            {
                keep(plantOf(rows[0]), rows);
            }

            rows.Clear();
        }
    }
}
