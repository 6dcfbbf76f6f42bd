using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Rounds;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>The walk over the ledger.</summary>
public sealed class RoundDesk(BenchDatabase database, TimeProvider clock) : IRoundDesk, IDisposable
{
    private const int MostCans = 8, LongestAbsenceDays = 120;

    // A walk broken off in the evening goes on in the morning; an older one is over, whatever was said of it.
    private const int ResumesDays = 1;
    private readonly LivesInHand _lives = new();
    private readonly AnswersInHand<RoundSheet> _sheets = new();

    public Task<RoundSheet> TodayAsync(DateOnly? asOf = null, CancellationToken cancel = default) => database.ReadAsync(async db =>
    {
        var bench = await BenchReader.BenchAsync(db, cancel);
        var day = asOf ?? BenchClock.DayAt(clock.GetUtcNow(), bench.Zone);
        return await _sheets.OfAsync(db, day, () => SheetAsync(db, bench, day, cancel), cancel);
    }, cancel);

    private async Task<RoundSheet> SheetAsync(LedgerContext db, BenchRow bench, DateOnly day, CancellationToken cancel)
    {
        var walk = await RoundReader.PlanAsync(db, day, null, cancel);
        var cards = (await PlantCards.ReadAsync(db, new BenchQuery { AsOf = day }, day, cancel, walk)).ToDictionary(card => card.Id);
        var lives = await _lives.OfAsync(db, cancel);
        var round = (await db.Rounds.OrderByDescending(row => row.Position).Take(1).ToListAsync(cancel)).Find(row => row.EndedFactId is null && row.AsOf <= day && row.AsOf.AddDays(ResumesDays) >= day);
        var done = await DoneAsync(db, round?.Id, day, cancel);
        var cans = await CansAsync(db, day, cards.Values, cancel);
        var canOf = Share(cans, walk.Stops.Where(stop => stop.Duty.Act == RoundAct.Feed && !done.ContainsKey(stop.Plant.PlantId) && cards.ContainsKey(stop.Plant.PlantId)), cards);
        var water = await SoftestAsync(db, cancel);
        var air = await AirInHand.OfWeekAsync(db, day, cancel);
        var south = await BenchLatitude.OfAsync(db, cancel) < 0;
        return new RoundSheet
        {
            RoundId = round?.Id,
            AsOf = day,
            BenchName = bench.Name,
            Zone = bench.Zone,
            AirTemperatureCelsius = air.Values.Where(place => place.LastAt is not null).MaxBy(place => place.LastAt, StringComparer.Ordinal)?.LastCelsius,
            Stops = [.. walk.Stops.Where(stop => cards.ContainsKey(stop.Plant.PlantId)).Select(stop => Stop(stop, cards[stop.Plant.PlantId], lives.GetValueOrDefault(stop.Plant.PlantId), done.GetValueOrDefault(stop.Plant.PlantId), canOf, water, day))],
            Cans = [.. cans.Select(can => can.ToRoundCan())],
            Proposals = [.. walk.Stops.Where(stop => cards.ContainsKey(stop.Plant.PlantId)).SelectMany(stop => Proposals(stop.Plant, cards[stop.Plant.PlantId], lives.GetValueOrDefault(stop.Plant.PlantId), air, day, south))],
            Notes = walk.Notes,
        };
    }

    public Task<IReadOnlyList<ComingWalk>> ComingAsync(int days, CancellationToken cancel = default) => database.ReadAsync<IReadOnlyList<ComingWalk>>(async db =>
    {
        if (days is < 1 or > LongestAbsenceDays)
        {
            throw new EntryException("days", FactWords.Say($"{days}"), FactWords.Say($"1 to {LongestAbsenceDays}"));
        }

        if (await db.Benches.FirstOrDefaultAsync(cancel) is not { } bench)
        {
            return [];
        }

        var today = BenchClock.DayAt(clock.GetUtcNow(), bench.Zone);
        var plants = await RoundReader.PlantsAsync(db, await BenchReader.StandingAsync(db, cancel), today, null, cancel);
        var cards = (await PlantCards.ReadAsync(db, new BenchQuery { AsOf = today }, today, cancel, RoundPlanner.Plan(plants, today))).ToDictionary(card => card.Id);
        return
        [
            .. RoundAhead.Walks(plants.Where(plant => cards.ContainsKey(plant.PlantId)), today, days)
                .Select(walk => new ComingWalk(walk.On, [.. walk.Stops.Select(stop => new ComingStop(cards[stop.Plant.PlantId], RoundReader.ToPouring(stop.Duty.Act)))])),
        ];
    }, cancel);

    public Task<AbsenceSheet> AbsenceAsync(DateOnly from, DateOnly to, CancellationToken cancel = default) => database.ReadAsync(async db =>
    {
        if (to < from || to.DayNumber - from.DayNumber >= LongestAbsenceDays)
        {
            throw new EntryException("to", FormattableString.Invariant($"{to:yyyy-MM-dd}"), FormattableString.Invariant($"a day from {from:yyyy-MM-dd} on, at most {LongestAbsenceDays} days away"));
        }

        var today = BenchClock.DayAt(clock.GetUtcNow(), (await BenchReader.BenchAsync(db, cancel)).Zone);
        var walk = await RoundReader.PlanAsync(db, today, null, cancel);
        var cards = (await PlantCards.ReadAsync(db, new BenchQuery { AsOf = today }, today, cancel, walk)).ToDictionary(card => card.Id);
        var plan = AbsencePlanner.Plan(walk.Stops.Select(stop => stop.Plant).Where(plant => cards.ContainsKey(plant.PlantId)), from, to);
        return new AbsenceSheet(from, to, [.. plan.Pots.Select(pot => new AbsenceLine(cards[pot.Plant.PlantId], pot.LastsDays, pot.DryOn, pot.WaterOn, pot.Todo))], plan.Visits);
    }, cancel);

    public void Dispose() => _lives.Dispose();

    private static RoundStop Stop(WalkStop stop, PlantCard card, LivesInHand.Signs? life, Done? done, Dictionary<Guid, CanInHand> canOf, (Guid Id, string Name)? water, DateOnly day)
    {
        var duty = stop.Duty;
        var what = done?.What ?? RoundReader.ToPouring(duty.Act);
        var can = what == Pouring.Feed && done is null ? canOf.GetValueOrDefault(card.Id) : null;
        return new RoundStop
        {
            Plant = card,
            // What was done on this walk was due on it.
            Due = duty.IsDue || done is not null,
            What = what,
            CanId = can?.Id ?? done?.CanId,
            CanLetter = can?.Letter ?? done?.CanLetter,
            WaterId = what == Pouring.Feed ? null : water?.Id,
            WaterName = what == Pouring.Feed ? null : water?.Name,
            Millilitres = done?.Millilitres ?? (duty.IsDue ? duty.Millilitres : card.Pot!.FeedMillilitres),
            Why = duty.Why,
            Sign = duty.Sign,
            Level = duty.Now?.Level,
            Growths = life?.Living ?? [],
            DoneFactId = done?.FactId,
            DoneWhat = done?.What,
            Skipped = done?.Skipped,
            Quarantine = stop.Plant.Quarantine is not null,
            QuarantineWords = stop.Plant.Quarantine is { } open ? RoundPlanner.QuarantineWords(open, day) : null,
        };
    }

    private static IEnumerable<StateProposal> Proposals(PlantOnRound plant, PlantCard card, LivesInHand.Signs? life, Dictionary<Guid, Air> air, DateOnly day, bool south) => life is null ? [] : StateProposer.For(new PlantSigns
    {
        PlantId = card.Id,
        Number = card.Number,
        Kind = card.Kind,
        States = card.States,
        StatesOn = life.StatesOn,
        Growths = life.Growths,
        NewRootsOn = life.NewRootsOn,
        PottedOn = plant.PottedOn,
        LowestCelsius = card.Place is { } place ? air.GetValueOrDefault(place.Id)?.LowestCelsius : null,
    }, day, south).Select(proposed => new StateProposal(proposed.PlantId, proposed.Number, card.Name, proposed.State, proposed.Begins, proposed.Why));

    /// <summary>What was given or passed by on this walk, or outside any walk on its day; the last of several counts.</summary>
    private static async Task<Dictionary<Guid, Done>> DoneAsync(LedgerContext db, Guid? roundId, DateOnly day, CancellationToken cancel)
    {
        var given = await db.Feedings.Where(feeding => (roundId != null && feeding.RoundId == roundId) || feeding.Day == day)
            .Select(feeding => new { feeding.PlantId, Done = new Done(feeding.FactId, feeding.What, null, feeding.Millilitres, feeding.CanId, db.CanContents.Where(can => can.CanId == feeding.CanId).Select(can => can.Letter).FirstOrDefault()) }).ToListAsync(cancel);
        var skipped = await db.Skips.Where(skip => ((roundId != null && skip.RoundId == roundId) || skip.Day == day) && skip.Reason != SkipReason.NotReached)
            .Select(skip => new { skip.PlantId, Done = new Done(skip.FactId, null, skip.Reason, null, null, null) }).ToListAsync(cancel);
        // Ids are made in order of time.
        return given.Concat(skipped).GroupBy(pair => pair.PlantId).ToDictionary(group => group.Key, group => group.MaxBy(pair => pair.Done.FactId)!.Done);
    }

    /// <summary>Cans that are mixed, not too old and not empty, newest first.</summary>
    private static async Task<List<CanInHand>> CansAsync(LedgerContext db, DateOnly day, IEnumerable<PlantCard> cards, CancellationToken cancel)
    {
        var rows = (await db.Cans.Where(can => can.LitresLeft > 0.02 && can.StepsDone == can.Steps && can.MixedOn <= day).OrderByDescending(can => can.Position).Take(MostCans).ToListAsync(cancel))
            .Where(can => can.Card.AgeLimit is not { } limit || can.MixedOn.AddDays((int)Math.Ceiling(limit.Days)) >= day).ToList();
        var ids = rows.ConvertAll(can => can.Id);
        var contents = await db.CanContents.Where(can => ids.Contains(can.CanId)).ToDictionaryAsync(can => can.CanId, cancel);
        var wants = cards.ToDictionary(card => card.Id, card => card.WantId);
        return rows.ConvertAll(row => new CanInHand(row, contents.GetValueOrDefault(row.Id), wants));
    }

    /// <summary>What is left in the cans, shared out along the walk: to each plant the newest mixed for it, else the newest mixed for its want, as long as it lasts.</summary>
    private static Dictionary<Guid, CanInHand> Share(List<CanInHand> cans, IEnumerable<WalkStop> stops, Dictionary<Guid, PlantCard> cards)
    {
        var left = cans.ToDictionary(can => can.Id, can => can.LitresLeft);
        var of = new Dictionary<Guid, CanInHand>();
        foreach (var stop in stops)
        {
            var (plant, litres) = (stop.Plant.PlantId, stop.Duty.Millilitres / 1000);
            var want = cards[plant].WantId;
            // A can is never filled to the last drop: 5 % short is still enough.
            var can = cans.Where(can => left[can.Id] >= 0.95 * litres && (can.Plants.Contains(plant) || (want is { } wanted && can.Wants.Contains(wanted))))
                .OrderByDescending(can => can.Plants.Contains(plant)).FirstOrDefault();
            if (can is not null)
            {
                of[plant] = can;
                left[can.Id] -= litres;
            }
        }

        return of;
    }

    private static async Task<(Guid Id, string Name)?> SoftestAsync(LedgerContext db, CancellationToken cancel)
    {
        var waters = await db.Waters.ToListAsync(cancel);
        var reports = (await db.WaterReports.Select(report => new { report.WaterId, report.SampledOn, report.Position, report.EcMicrosiemensPerCm }).ToListAsync(cancel))
            .GroupBy(report => report.WaterId).ToDictionary(group => group.Key, group => group.MaxBy(report => (report.SampledOn, report.Position))!.EcMicrosiemensPerCm);
        var softest = waters.Where(water => reports.ContainsKey(water.Id)).OrderBy(water => reports[water.Id] ?? double.MaxValue).ThenBy(water => water.Name, StringComparer.Ordinal).FirstOrDefault();
        return softest is null ? null : (softest.Id, softest.Name);
    }

    private sealed record Done(Guid FactId, Pouring? What, SkipReason? Skipped, double? Millilitres, Guid? CanId, string? CanLetter);

    private sealed class CanInHand(CanRow row, CanContentRow? content, Dictionary<Guid, Guid?> wants)
    {
        public Guid Id => row.Id;
        public string Letter => row.Letter;
        public double LitresLeft => row.LitresLeft;
        public HashSet<Guid> Plants { get; } = [.. row.Card.Serves.SelectMany(served => served.Portions).Select(portion => portion.PlantId)];
        public HashSet<Guid> Wants => field ??= [.. Plants.Select(plant => wants.GetValueOrDefault(plant)).OfType<Guid>()];

        public RoundCan ToRoundCan() => new(row.Id, row.Letter, row.Vessel, row.LitresLeft, content?.EcMicrosiemensPerCm ?? row.Ec, content?.PH ?? row.PH, row.MixedOn);
    }
}
