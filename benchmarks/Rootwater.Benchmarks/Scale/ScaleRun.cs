using System.Diagnostics;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Benchmarks.Scale;

/// <summary>
/// Fills a bench of a given size and times what its pages ask, in one process per size, so that its memory is its own:
/// <c>scale PLANTS YEARS [FOLDER]</c>. Each figure is the middle and the slowest of twenty warm runs, and the processor time of one on average.
/// </summary>
internal static class ScaleRun
{
    private const int Runs = 20;

    public static async Task RunAsync(int plants, int years, string? folder)
    {
        var temporary = folder is null;
        folder ??= Directory.CreateTempSubdirectory("rootwater-scale-").FullName;
        var file = Path.Combine(folder, $"{plants}x{years}.db");
        var bench = new LargeBench(plants, years);
        var clock = new FixedClock(bench.Now);
        if (!File.Exists(file))
        {
            await ImportAsync(bench, file, clock);
        }

        await using (var desks = await BenchDesks.OpenAsync(new LedgerOptions { Location = file }, clock: clock))
        {
            Say("facts", (await desks.Database.ReadAsync(db => db.Facts.CountAsync())).ToString(CultureInfo.InvariantCulture));
            var ids = (await desks.Plants.ListAsync()).Select(card => card.Id).ToList();
            await TimeAsync("bench list", _ => desks.Plants.ListAsync());
            await TimeAsync("bench list, two words", _ => desks.Plants.ListAsync(new BenchQuery { Words = "window 1" }));
            await TimeAsync("round", _ => desks.Rounds.TodayAsync());
            await TimeAsync("plant page", i => desks.Plants.GetAsync(ids[i * 7 % ids.Count]));
            await TimeAsync("nutrient ledger, a plant", i => desks.Nutrients.OfPlantAsync(ids[i * 11 % ids.Count]));
            await TimeAsync("nutrient ledger, the bench", _ => desks.Nutrients.OfBenchAsync(), 3);
            await TimeAsync("round", _ => desks.Rounds.TodayAsync());
            await TimeAsync("the year", _ => desks.Year.GetAsync(), 5);
            await TimeAsync("who is due (mixing)", _ => desks.Mixing.GetBenchTodayAsync());
            await TimeAsync("recent entries", _ => desks.Facts.RecentAsync(TimeSpan.FromDays(7)));
            await TimeAsync("write a feed", i => WriteAsync(desks, ids[i % ids.Count], id => new PlantGiven(id, null, Pouring.PlainWater, null, null, 100)));
            await TimeAsync("a feed, then the round anew", async i =>
            {
                await WriteAsync(desks, ids[i % ids.Count], id => new PlantGiven(id, null, Pouring.PlainWater, null, null, 100));
                return await desks.Rounds.TodayAsync();
            });
            await TimeAsync("a feed, then the bench anew", async i =>
            {
                await WriteAsync(desks, ids[i % ids.Count], id => new PlantGiven(id, null, Pouring.PlainWater, null, null, 100));
                return await desks.Plants.ListAsync(new BenchQuery());
            });
            await TimeAsync("write a note", i => WriteAsync(desks, ids[i % ids.Count], id => new PlantNoted(id, "seen")));
            await TimeAsync("write a note and take it back", async i =>
            {
                var note = await WriteAsync(desks, ids[i % ids.Count], id => new PlantNoted(id, "seen"));
                await desks.Facts.UndoAsync(note, Guid.CreateVersion7());
                return note;
            });
            GC.Collect();
            Say("memory after", FormattableString.Invariant($"{Process.GetCurrentProcess().WorkingSet64 / 1048576.0:0} MiB, of it managed {GC.GetTotalMemory(true) / 1048576.0:0} MiB, at most {Peak()} MiB"));
            Say("file", FormattableString.Invariant($"{new FileInfo(file).Length / 1048576.0:0} MiB"));
        }

        if (temporary)
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task ImportAsync(LargeBench bench, string file, TimeProvider clock)
    {
        var watch = Stopwatch.StartNew();
        var worked = Process.GetCurrentProcess().TotalProcessorTime;
        // Made beforehand on disk would be fairer still; making them is part of this figure, and is said.
        var making = TimeSpan.Zero;
        await using var desks = await BenchDesks.OpenAsync(new LedgerOptions { Location = file }, clock: clock);
        var reports = 0;
        var receipt = await desks.Import.RunAsync(Timed(), progress: new Told(_ => reports++));
        Say("import", FormattableString.Invariant($"{receipt.Written} facts in {(watch.Elapsed - making).TotalSeconds:0.0} s, {(Process.GetCurrentProcess().TotalProcessorTime - worked - making).TotalSeconds:0.0} s of processor, {reports} reports of progress (making them took {making.TotalSeconds:0.0} s more), memory at most {Peak()} MiB"));

        IEnumerable<Fact> Timed()
        {
            using var facts = bench.Facts().GetEnumerator();
            while (true)
            {
                var start = Stopwatch.GetTimestamp();
                var more = facts.MoveNext();
                making += Stopwatch.GetElapsedTime(start);
                if (!more)
                {
                    yield break;
                }

                yield return facts.Current;
            }
        }
    }

    private static async Task<Guid> WriteAsync(BenchDesks desks, Guid plant, Func<Guid, FactPayload> said)
    {
        var fact = new NewFact { Id = Guid.CreateVersion7(), SubjectId = plant, Payload = said(plant) };
        await desks.Facts.WriteAsync([fact]);
        return fact.Id;
    }

    private static async Task TimeAsync<T>(string what, Func<int, Task<T>> ask, int runs = Runs)
    {
        // Forty, so that what is timed is compiled as it stays; what takes seconds once.
        for (var i = 0; i < (runs == Runs ? 40 : 1); i++)
        {
            await ask(i);
        }

        var times = new List<double>();
        var worked = Process.GetCurrentProcess().TotalProcessorTime;
        for (var i = 1; i <= runs; i++)
        {
            var start = Stopwatch.GetTimestamp();
            await ask(i);
            times.Add(Stopwatch.GetElapsedTime(start).TotalMilliseconds);
        }

        var processor = (Process.GetCurrentProcess().TotalProcessorTime - worked).TotalMilliseconds / runs;
        times.Sort();
        Say(what, FormattableString.Invariant($"{times[times.Count / 2]:0.0} ms, slowest {times[^1]:0.0} ms, processor {processor:0.0} ms, memory {Process.GetCurrentProcess().WorkingSet64 / 1048576.0:0} MiB, managed {GC.GetTotalMemory(false) / 1048576.0:0}, committed {GC.GetGCMemoryInfo().TotalCommittedBytes / 1048576.0:0}"));
    }

    private static string Peak() => File.Exists("/proc/self/status")
        ? (int.Parse(File.ReadLines("/proc/self/status").First(line => line.StartsWith("VmHWM", StringComparison.Ordinal)).Split(' ', StringSplitOptions.RemoveEmptyEntries)[^2], CultureInfo.InvariantCulture) / 1024).ToString(CultureInfo.InvariantCulture)
        : "?";

    private static void Say(string what, string figure) => Console.WriteLine($"{what,-32} {figure}");

    private sealed class Told(Action<ImportProgress> tell) : IProgress<ImportProgress>
    {
        public void Report(ImportProgress value) => tell(value);
    }
}
