using System.CommandLine;
using System.Globalization;
using Rootwater.Ledger;
using Rootwater.Ledger.Facts;

namespace Rootwater.Cli;

/// <summary><c>rootwater round</c>: today's walk, what was given, and an absence.</summary>
internal static class RoundCommand
{
    public static Command Create() => new("round", "The walk: who gets what today and why; what was given; an absence.") { Today(), Give(), Skip(), Absence() };

    private static Command Today()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        var all = new Option<bool>("--all") { Description = "Also plants that are not due." };
        var asOf = new Option<DateOnly?>("--as-of") { Description = "A day as 2026-03-14; today when left out." };
        return new Command("today", "Who is due, in walking order, with the reason.") { all, asOf, bench, json }.With((result, cancel) => Words.OnBenchAsync("round today", result.GetValue(bench), async desks =>
        {
            var sheet = await desks.Rounds.TodayAsync(result.GetValue(asOf), cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(sheet);
            }

            Words.WriteTable(["no.", "name", "place", "what", "mL", "why"], sheet.Stops.Where(stop => stop.Due || result.GetValue(all)).Select(stop => (IReadOnlyList<string?>)
            [
                stop.Plant.Number.ToString(CultureInfo.InvariantCulture), stop.Plant.Name, stop.Plant.Place?.Name,
                stop.What == Pouring.Feed ? $"can {stop.CanLetter ?? "to mix"}" : stop.What == Pouring.Leach ? "leach" : "water", stop.Millilitres.ToString("0", CultureInfo.InvariantCulture), stop.Why,
            ]));
            foreach (var note in sheet.Notes)
            {
                Console.WriteLine(note);
            }

            return 0;
        }, cancel));
    }

    private static Command Give()
    {
        var (number, bench, json) = (PlantCommand.Number(), BenchOption.Create(), Words.Json());
        var millilitres = new Option<double>("--ml") { Description = "How much.", Required = true };
        var can = new Option<Guid?>("--can") { Description = "Id of the can; without it, plain water." };
        var leach = new Option<bool>("--leach") { Description = "Plain water through from above until the salts are out." };
        return new Command("give", "Write down what a plant got.") { number, millilitres, can, leach, bench, json }.With((result, cancel) => Words.OnBenchAsync("round give", result.GetValue(bench), async desks =>
        {
            if (result.GetValue(leach) && result.GetValue(can) is not null)
            {
                throw new EntryException("--leach", null, "no can with it: a leach is plain water");
            }

            var plant = (await PlantCommand.LifeAsync(desks, result.GetValue(number), cancel)).Card.Id;
            var what = result.GetValue(can) is not null ? Pouring.Feed : result.GetValue(leach) ? Pouring.Leach : Pouring.PlainWater;
            var fact = new NewFact { Id = Guid.CreateVersion7(), SubjectId = plant, Payload = new PlantGiven(plant, null, what, result.GetValue(can), null, result.GetValue(millilitres)) };
            await desks.Facts.WriteAsync([fact], cancel: cancel);
            return PlantCommand.Kept(result.GetValue(json), fact.Id);
        }, cancel));
    }

    private static Command Skip()
    {
        var (number, bench, json) = (PlantCommand.Number(), BenchOption.Create(), Words.Json());
        var reason = new Option<SkipReason>("--reason") { Description = "StillFull, Resting, NotReached or Other.", DefaultValueFactory = _ => SkipReason.StillFull };
        var note = new Option<string?>("--note") { Description = "In your own words." };
        return new Command("skip", "Write down that a plant was passed by on purpose.") { number, reason, note, bench, json }.With((result, cancel) => Words.OnBenchAsync("round skip", result.GetValue(bench), async desks =>
        {
            var plant = (await PlantCommand.LifeAsync(desks, result.GetValue(number), cancel)).Card.Id;
            var fact = new NewFact { Id = Guid.CreateVersion7(), SubjectId = plant, Payload = new PlantSkipped(plant, null, result.GetValue(reason), result.GetValue(note)) };
            await desks.Facts.WriteAsync([fact], cancel: cancel);
            return PlantCommand.Kept(result.GetValue(json), fact.Id);
        }, cancel));
    }

    private static Command Absence()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        var from = new Argument<DateOnly>("FROM") { Description = "First day away, as 2026-03-14." };
        var to = new Argument<DateOnly>("TO") { Description = "Last day away." };
        return new Command("absence", "How many days each reservoir lasts, and what whoever waters meanwhile should do.") { from, to, bench, json }.With((result, cancel) => Words.OnBenchAsync("round absence", result.GetValue(bench), async desks =>
        {
            var sheet = await desks.Rounds.AbsenceAsync(result.GetValue(from), result.GetValue(to), cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(sheet);
            }

            Words.WriteTable(["no.", "name", "lasts days", "dry on", "to do"], sheet.Lines.Select(line => (IReadOnlyList<string?>)
            [
                line.Plant.Number.ToString(CultureInfo.InvariantCulture), line.Plant.Name, line.LastsDays?.Value.ToString("0.#", CultureInfo.InvariantCulture),
                line.RunsDryOn?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), line.Todo,
            ]));
            return 0;
        }, cancel));
    }
}
