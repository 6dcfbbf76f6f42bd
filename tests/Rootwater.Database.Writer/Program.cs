using Rootwater.Ledger;
using Rootwater.Ledger.Facts;

// Writes facts about one plant from several connections at once until somebody kills it. Every id that the ledger has acknowledged goes to
// standard output, one a line and at once: what the killer reads there must be in the file.
var (file, plant, place, writers) = (args[0], Guid.Parse(args[1]), Guid.Parse(args[2]), int.Parse(args[3], System.Globalization.CultureInfo.InvariantCulture));
using var output = Console.OpenStandardOutput();
var speaking = new Lock();
var databases = await Task.WhenAll(Enumerable.Range(0, writers).Select(_ => BenchDatabase.OpenAsync(new LedgerOptions { Location = file, CreateIfMissing = false, LockWait = TimeSpan.FromMinutes(10) })));
// One write each beforehand, so that the killer's clock starts when the code is compiled and under way.
await Task.WhenAll(databases.Select((database, writer) => WriteAsync(new FactLog(database, TimeProvider.System, device: $"writer {writer}"))));
Say("ready\n");
await Task.WhenAll(databases.Select((database, writer) => Task.Run(async () =>
{
    var log = new FactLog(database, TimeProvider.System, device: $"writer {writer}");
    while (true)
    {
        Say(await WriteAsync(log));
    }
})));
// One write each beforehand, so that the killer's clock starts when the code is compiled and under way.
await Task.WhenAll(databases.Select((database, writer) => WriteAsync(new FactLog(database, TimeProvider.System, device: $"writer {writer}"))));
Say("ready\n");
await Task.WhenAll(databases.Select((database, writer) => Task.Run(async () =>
{
    var log = new FactLog(database, TimeProvider.System, device: $"writer {writer}");
    while (true)
    {
        // A movement and a note of states together: both or neither.
        var ids = (Guid.CreateVersion7(), Guid.CreateVersion7());
        await log.AppendAsync(
        [
            new NewFact { Id = ids.Item1, SubjectId = plant, Payload = new PlantMoved(plant, place) },
            new NewFact { Id = ids.Item2, SubjectId = plant, Payload = new PlantStatesSeen(plant, []) },
        ]);
        Say($"{ids.Item1} {ids.Item2}\n");
    }
})));

// A movement and a note of states together: both or neither.
async Task<string> WriteAsync(FactLog log)
{
    var ids = (Guid.CreateVersion7(), Guid.CreateVersion7());
    await log.AppendAsync(
    [
        new NewFact { Id = ids.Item1, SubjectId = plant, Payload = new PlantMoved(plant, place) },
        new NewFact { Id = ids.Item2, SubjectId = plant, Payload = new PlantStatesSeen(plant, []) },
    ]);
    return $"{ids.Item1} {ids.Item2}\n";
}

void Say(string line)
{
    lock (speaking)
    {
        output.Write(System.Text.Encoding.ASCII.GetBytes(line));
        output.Flush();
    }
}
