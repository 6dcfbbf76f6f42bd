using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Exchange.Csv;

/// <summary>Brings a file in: mapped, checked by the same gate as everything a grower enters, shown before it is written, and written whole or not at all.</summary>
internal sealed class CsvImport(BenchDatabase database, FactLog log, IPlantDesk plants, TimeProvider clock)
{
    private const int MostProblems = 50;
    private const int MostShown = 500;

    private readonly FactGate _gate = new(clock);

    public static IReadOnlyList<string> TableNames => ["plants", .. FactSheet.All().Select(sheet => sheet.Kind)];

    public async Task<CsvReport> RunAsync(Stream csv, CsvMapping mapping, bool write, CancellationToken cancel)
    {
        var table = TableOf(mapping.Table);
        var file = await CsvFile.ReadAsync(csv, mapping.Separator, cancel);
        var columns = mapping.Resolve(file.Headings, table.Fields.ToList());
        var (bench, problems) = (await BenchAsync(cancel), new List<CsvProblem>());
        var facts = new List<(int Row, NewFact Fact)>();
        foreach (var row in file.Rows)
        {
            var before = problems.Count;
            var told = table.Facts(new RowFacts(row, columns, mapping, bench, problems)).ToList();
            if (problems.Count == before)
            {
                facts.AddRange(told.Select(fact => (row.Number, fact)));
            }

            if (problems.Count >= MostProblems)
            {
                break;
            }
        }

        var known = await KnownAsync(facts.ConvertAll(pair => pair.Fact.Id), cancel);
        var fresh = facts.Where(pair => !known.Contains(pair.Fact.Id)).ToList();
        await CheckAsync(fresh, problems, cancel);
        if (write && problems.Count == 0 && fresh.Count > 0)
        {
            await log.AppendAsync(fresh.ConvertAll(pair => pair.Fact), GateAsync, null, "file", cancel);
        }

        var rows = fresh.Select(pair => pair.Row).Concat(problems.Select(problem => problem.Row)).ToHashSet();
        return new CsvReport
        {
            Table = table.Name,
            Rows = file.Rows.Count,
            Unchanged = file.Rows.Count(row => !rows.Contains(row.Number)),
            Mapped = columns.ToDictionary(pair => pair.Key, pair => file.Headings[pair.Value]),
            LeftOut = [.. file.Headings.Where((_, at) => !columns.Values.Contains(at))],
            Changes = [.. fresh.Take(MostShown).Select(pair => Change(pair.Row, pair.Fact))],
            Facts = fresh.Count,
            Problems = problems,
            Written = write && problems.Count == 0,
        };
    }

    private static ICsvTable TableOf(string name) => name == "plants" ? new PlantTable()
        : FactSheet.Of(name) is { } sheet ? new FactTable(sheet)
        : throw new EntryException("table", name, $"one of {string.Join(", ", TableNames)}");

    // Tried in the order of the file, in a transaction that is taken back; what the gate refuses is named, left out, and the rest tried again.
    private async Task CheckAsync(List<(int Row, NewFact Fact)> fresh, List<CsvProblem> problems, CancellationToken cancel)
    {
        var trying = fresh.ToList();
        while (trying.Count > 0 && problems.Count < MostProblems)
        {
            try
            {
                await log.TryAsync(trying.ConvertAll(pair => pair.Fact), GateAsync, cancel);
                return;
            }
            catch (EntryException refused)
            {
                var bad = refused.Problems[0].FactId is { } id ? trying.FirstOrDefault(pair => pair.Fact.Id == id) : default;
                problems.AddRange(refused.Problems.Select(problem => new CsvProblem(bad.Row, problem.Field, problem.Value, problem.Accepted)));
                if (bad.Fact is null)
                {
                    return;
                }

                trying.RemoveAll(pair => pair.Row == bad.Row);
            }
        }
    }

    // What has a desk of its own cannot be entered as a fact, but it can come back from the table it went out in.
    private Task GateAsync(LedgerContext db, NewFact fact, FactWhen when, CancellationToken cancel) =>
        FactSubjects.Of(fact.Payload) is null && TableFacts.SubjectOf(fact.Payload) is not null ? TableFacts.CheckAsync(db, fact, cancel) : _gate.CheckAsync(db, fact, when, cancel);

    private async Task<HashSet<Guid>> KnownAsync(List<Guid> ids, CancellationToken cancel)
    {
        var known = new HashSet<Guid>();
        foreach (var chunk in ids.Chunk(500))
        {
            known.UnionWith(await database.ReadAsync(db => db.Facts.Where(fact => chunk.Contains(fact.Id)).Select(fact => fact.Id).ToListAsync(cancel), cancel));
        }

        return known;
    }

    private async Task<CsvBench> BenchAsync(CancellationToken cancel)
    {
        var cards = await plants.ListAsync(new BenchQuery { WithLost = true }, cancel);
        return await database.ReadAsync(async db => new CsvBench
        {
            Zone = (await BenchReader.BenchAsync(db, cancel)).Zone,
            Plants = cards.ToDictionary(card => card.Number),
            Places = Named(await db.Places.Select(place => new { place.Name, place.Id }).ToListAsync(cancel), row => row.Name, row => row.Id),
            Wants = Named(await db.Wants.Select(want => new { want.Name, want.Id }).ToListAsync(cancel), row => row.Name, row => row.Id),
            Products = Named(await db.Products.Select(product => new { product.Name, product.Id }).ToListAsync(cancel), row => row.Name, row => row.Id),
            Waters = Named(await db.Waters.Select(water => new { water.Name, water.Id }).ToListAsync(cancel), row => row.Name, row => row.Id),
        }, cancel);
    }

    private static Dictionary<string, Guid> Named<T>(IEnumerable<T> rows, Func<T, string> name, Func<T, Guid> id) =>
        rows.GroupBy(name, StringComparer.OrdinalIgnoreCase).ToDictionary(group => group.Key, group => id(group.First()), StringComparer.OrdinalIgnoreCase);

    private static CsvChange Change(int row, NewFact fact)
    {
        var (kind, _, json) = FactKinds.Write(fact.Payload);
        return new CsvChange(row, kind, fact.When?.ToText() ?? "now", json.Length > 400 ? json[..400] + " …" : json);
    }
}
