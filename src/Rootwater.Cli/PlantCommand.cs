using System.CommandLine;
using System.Globalization;
using System.Text.Json;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Cli;

/// <summary><c>rootwater plant</c>: one plant's life; notes, photos and facts about it; forgetting it.</summary>
internal static class PlantCommand
{
    public static Command Create() => new("plant", "One plant: its life, a note, photos, any fact, or forgetting it.") { Show(), Note(), Photo(), Tell(), Forget() };

    private static Command Show()
    {
        var (number, bench, json) = (Number(), BenchOption.Create(), Words.Json());
        return new Command("show", "Everything about a plant.") { number, bench, json }.With((result, cancel) => Words.OnBenchAsync("plant show", result.GetValue(bench), async desks =>
        {
            var life = await LifeAsync(desks, result.GetValue(number), cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(life);
            }

            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"no. {life.Card.Number} {life.Card.Name} (received as {life.Card.NameAsReceived}), here since {life.Arrived.ToText()}"));
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{life.Card.Place?.Name ?? "no place"}; {life.Card.Pot?.Medium ?? "no pot"}; {life.Card.LivingLeaves} leaves; {life.Photos.Count} photos; given {life.Given.Count} times"));
            Words.WriteTable(["flowered from", "to", "flowers", "scent"], life.Growths.SelectMany(growth => growth.Spikes).Where(spike => spike.FirstFlower is not null).OrderBy(spike => spike.FirstFlower!.Value.Earliest)
                .Select(spike => (IReadOnlyList<string?>)[$"{spike.FirstFlower!.Value.Earliest:yyyy-MM-dd}", spike.LastFlower is { } over ? $"{over.Latest:yyyy-MM-dd}" : "", spike.Flowers?.ToString(CultureInfo.InvariantCulture), spike.Scent]));
            foreach (var trouble in life.Card.Trouble)
            {
                Console.WriteLine(trouble);
            }

            return 0;
        }, cancel));
    }

    private static Command Note()
    {
        var (number, bench, json) = (Number(), BenchOption.Create(), Words.Json());
        var text = new Argument<string>("TEXT") { Description = "In your own words." };
        var when = new Option<string?>("--when") { Description = "2026, 2026-03, 2026-03-14 or 2026-03-14T08:05; now when left out." };
        return new Command("note", "Write down anything seen on a plant.") { number, text, when, bench, json }.With((result, cancel) => Words.OnBenchAsync("plant note", result.GetValue(bench), async desks =>
        {
            var plant = (await LifeAsync(desks, result.GetValue(number), cancel)).Card.Id;
            var zone = await desks.Time.ZoneAsync(cancel);
            var at = result.GetValue(when) is not { } said ? null : FactWhen.TryParse(said, zone, out var known) ? known : throw new EntryException("--when", said, "2026, 2026-03, 2026-03-14 or 2026-03-14T08:05");
            var fact = new NewFact { Id = Guid.CreateVersion7(), SubjectId = plant, Payload = new PlantNoted(plant, result.GetValue(text)!), When = at };
            await desks.Facts.WriteAsync([fact], cancel: cancel);
            return Kept(result.GetValue(json), fact.Id);
        }, cancel));
    }

    private static Command Photo()
    {
        var (number, bench, json) = (Number(), BenchOption.Create(), Words.Json());
        var files = new Argument<string[]>("FILE") { Description = "JPEG, PNG or WebP.", Arity = ArgumentArity.OneOrMore };
        var caption = new Option<string?>("--caption") { Description = "In your own words." };
        return new Command("photo", "Add photos; where they were taken is removed, when is kept.") { number, files, caption, bench, json }.With((result, cancel) => Words.OnBenchAsync("plant photo", result.GetValue(bench), async desks =>
        {
            var plant = (await LifeAsync(desks, result.GetValue(number), cancel)).Card.Id;
            var kept = new List<PhotoView>();
            foreach (var file in result.GetValue(files)!)
            {
                await using var picture = Words.OpenFile(file);
                kept.Add(await desks.Photos.AddAsync(new NewPhoto { PlantId = plant, Caption = result.GetValue(caption) }, picture, cancel));
            }

            if (result.GetValue(json))
            {
                return Words.WriteJson(kept);
            }

            kept.ForEach(photo => Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{photo.Id}: {photo.Width} × {photo.Height}, taken {photo.TakenAt:yyyy-MM-dd HH:mm}")));
            return 0;
        }, cancel));
    }

    private static Command Tell()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        var file = new Argument<string>("FILE") { Description = "A JSON list of facts as POST /api/facts takes them; - or nothing for standard input.", DefaultValueFactory = _ => "-" };
        return new Command("tell", "Write facts, checked field by field, all or none; sent twice they are kept once.") { file, bench, json }.With((result, cancel) => Words.OnBenchAsync("plant tell", result.GetValue(bench), async desks =>
        {
            if (TextInput.Read("plant tell", result.GetValue(file)!) is not { } text)
            {
                return 2;
            }

            var zone = await desks.Time.ZoneAsync(cancel);
            var receipt = await desks.Facts.WriteAsync([.. Entries(text).Select(entry => entry.ToFact(zone))], cancel: cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(receipt);
            }

            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{receipt.Written} facts written, {receipt.AlreadyThere} were there already."));
            return 0;
        }, cancel));
    }

    private static Command Forget()
    {
        var (number, bench, json) = (Number(), BenchOption.Create(), Words.Json());
        var yes = new Option<bool>("--yes") { Description = "Do it; without this, only what would go is shown." };
        return new Command("forget", "Remove a plant's facts and photos for good.") { number, yes, bench, json }.With((result, cancel) => Words.OnBenchAsync("plant forget", result.GetValue(bench), async desks =>
        {
            var plant = (await LifeAsync(desks, result.GetValue(number), cancel)).Card.Id;
            var going = result.GetValue(yes) ? await desks.Plants.ForgetAsync(plant, cancel) : await desks.Plants.ForgetPreviewAsync(plant, cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(new { forgotten = result.GetValue(yes), what = going });
            }

            foreach (var line in going.Words)
            {
                Console.WriteLine(line);
            }

            Console.WriteLine(result.GetValue(yes) ? "Forgotten." : "Nothing was removed. Add --yes to do it.");
            return 0;
        }, cancel));
    }

    internal static Argument<int> Number() => new("NUMBER") { Description = "The number on the plant's tag." };

    internal static async Task<PlantLife> LifeAsync(BenchDesks desks, int number, CancellationToken cancel) =>
        await desks.Plants.GetByNumberAsync(number, cancel) ?? throw new EntryException("NUMBER", number.ToString(CultureInfo.InvariantCulture), "the number of a plant on this bench");

    internal static int Kept(bool json, Guid id)
    {
        if (json)
        {
            return Words.WriteJson(new { id });
        }

        Console.WriteLine($"Kept as {id}.");
        return 0;
    }

    private static List<FactEntry> Entries(string text)
    {
        try
        {
            return JsonSerializer.Deserialize<List<FactEntry>>(text, FactJson.Options) ?? [];
        }
        catch (JsonException wrong)
        {
            throw new EntryException("facts", null, $"a JSON list of facts, each with id, kind, subjectId and payload ({wrong.Message.Split(" Path:")[0]})");
        }
    }
}
