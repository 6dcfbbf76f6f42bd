using System.Security.Cryptography;
using Rootwater.Growing.Evidence.Comparisons;
using Rootwater.Growing.Evidence.Trials;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Trials over the ledger. It draws the arms and works out results itself, so that neither can be handed in.</summary>
public sealed partial class TrialDesk(BenchDatabase database, FactLog log, EvidenceDesk evidence, BenchTime time, TimeProvider clock) : ITrialDesk
{
    internal const double Alpha = 0.05;

    // The round and every plant's page ask for the arms.
    private readonly FactsInHand _facts = new(TrialBook.Kinds);

    public async Task<TrialList> ListAsync(CancellationToken cancel = default)
    {
        var (trials, plants, today) = await ReadAsync(cancel);
        var views = trials.Select(trial => ToView(trial, plants, today)).Reverse().ToList();
        var ended = trials.Where(trial => trial.Result is not null).ToList();
        var asked = ended.Where(trial => trial.Result!.Outcomes.FirstOrDefault()?.PAdjusted is not null).ToList();
        var adjusted = Multiplicity.Adjust([.. asked.Select(trial => trial.Result!.Outcomes[0].PAdjusted!.Value)]);
        var lines = ended.Select(trial =>
        {
            var at = asked.IndexOf(trial);
            double? p = at < 0 ? null : trial.Result!.Outcomes[0].PAdjusted;
            double? corrected = at < 0 ? null : adjusted[at];
            return new TrialAdjusted(trial.Registered.TrialId, trial.Registered.Question, p, corrected, trial.Result!.Claims, trial.Result.Claims && corrected <= Alpha);
        }).ToList();
        var words = lines.Count < 2 ? "" : FactWords.Say($"{lines.Count} trials have a result; {lines.Count(line => line.Claimed)} claim a difference taken by itself, {lines.Count(line => line.StandsCorrected)} still do when all are corrected for being several (Benjamini–Hochberg).");
        return new TrialList(views, lines, words);
    }

    public async Task<TrialView?> GetAsync(Guid trialId, CancellationToken cancel = default)
    {
        var (trials, plants, today) = await ReadAsync(cancel);
        return trials.Find(trial => trial.Registered.TrialId == trialId) is { } found ? ToView(found, plants, today) : null;
    }

    public async Task<TrialView> RegisterAsync(TrialPlan plan, Guid? trialId = null, CancellationToken cancel = default)
    {
        var id = trialId ?? Guid.CreateVersion7(clock.GetUtcNow());
        if (trialId is not null && await GetAsync(id, cancel) is { } there)
        {
            return there; // sent twice, kept once
        }

        var today = await time.TodayAsync(cancel);
        var seats = await CheckAsync(plan, today, cancel);
        var seed = plan.Seed ?? RandomNumberGenerator.GetInt32(1, 1_000_000);
        var blocks = BlocksOf(plan.WithinKinds, seats);
        var dealt = TrialDraw.Draw([.. seats.Select(plant => new TrialPlant(plant.Id.ToString(), blocks[plant.Id]))], [.. plan.Arms.Select(arm => arm.Name.Trim())], seed);
        var begins = plan.Begins ?? today;
        var registered = new TrialRegistered
        {
            TrialId = id,
            Question = plan.Question.Trim(),
            Arms = [.. plan.Arms.Select(arm => new TrialArm(arm.Name.Trim(), arm.Gets.Trim()))],
            Seats = [.. seats.Select(plant => new TrialSeat(plant.Id, blocks[plant.Id], dealt[plant.Id.ToString()]))],
            Seed = seed,
            SeedByHand = plan.Seed is not null,
            Outcomes = plan.Outcomes,
            Test = TestWords(plan.Outcomes, plan.Spending),
            Begins = begins,
            Ends = begins.AddMonths(plan.Months),
            Looks = plan.Looks,
            Spending = plan.Spending,
            Alpha = Alpha,
            Ratio = plan.Ratio,
        };
        await WriteAsync(registered, id, async (db, token) =>
        {
            // Looked at again inside the transaction: two devices cannot both seat a plant.
            var busy = (await TrialBook.ReadAsync(db, token)).Where(trial => trial.Result is null).SelectMany(trial => trial.Registered.Seats).Select(seat => seat.PlantId).ToHashSet();
            if (seats.Find(plant => busy.Contains(plant.Id)) is { } taken)
            {
                throw new EntryException("plants", FactWords.Say($"{taken.Number}"), "plants that are in no other trial that still runs: two at once could not be told apart");
            }
        }, cancel);
        return (await GetAsync(id, cancel))!;
    }

    public async Task<LookPrice> PriceOfLookAsync(Guid trialId, CancellationToken cancel = default)
    {
        var (trials, _, today) = await ReadAsync(cancel);
        return Price(Running(trials, trialId, today), today);
    }

    public async Task<TrialView> LookAsync(Guid trialId, CancellationToken cancel = default)
    {
        var (trials, plants, today) = await ReadAsync(cancel);
        var trial = Running(trials, trialId, today);
        var price = Price(trial, today);
        var looked = new TrialLooked(trialId, today, price.Share, price.Level, price.Planned, TrialReckoner.At(trial.Registered, plants, today, price.Level));
        await WriteAsync(looked, trialId, (db, token) => UnchangedAsync(db, trial, token), cancel);
        return (await GetAsync(trialId, cancel))!;
    }

    public async Task<TrialView> EndAsync(Guid trialId, CancellationToken cancel = default)
    {
        var (trials, plants, today) = await ReadAsync(cancel);
        var trial = Open(trials, trialId);
        var claimed = trial.Looked.FindLast(look => look.Result.Claims);
        if (today < trial.Registered.Ends && claimed is null)
        {
            throw new EntryException("trial", trial.Registered.Question, FactWords.Say($"a trial whose last day ({trial.Registered.Ends:yyyy-MM-dd}) has come, or one that a look has decided; this one can only be stopped, with the reason"));
        }

        var result = claimed?.Result ?? TrialReckoner.At(trial.Registered, plants, trial.Registered.Ends, LastLevel(trial));
        await WriteAsync(new TrialEnded(trialId, today, result), trialId, (db, token) => UnchangedAsync(db, trial, token), cancel);
        return (await GetAsync(trialId, cancel))!;
    }

    public async Task<TrialView> StopAsync(Guid trialId, string why, CancellationToken cancel = default)
    {
        Required("why", why, 500, "why it is stopped: it stands beside the result for good");
        var (trials, plants, today) = await ReadAsync(cancel);
        var trial = Open(trials, trialId);
        // Stopping shows the result, so it costs what a look costs.
        var share = trial.Share(today);
        var shares = Shares(trial).ToList();
        var level = share <= (shares.Count > 0 ? shares[^1] : 0) ? 0 : Levels(trial, share >= 1 ? [.. shares, 1] : [.. shares, share, 1])[shares.Count];
        var result = trial.StateOn(today) == TrialState.ToCome
            ? new TrialResult(0, false, "It was stopped before it began.", [])
            : TrialReckoner.At(trial.Registered, plants, today < trial.Registered.Ends ? today : trial.Registered.Ends, level);
        await WriteAsync(new TrialStopped(trialId, today, why.Trim(), result), trialId, (db, token) => UnchangedAsync(db, trial, token), cancel);
        return (await GetAsync(trialId, cancel))!;
    }

    public async Task<TrialView> NoteDepartureAsync(Guid trialId, string what, int? plant = null, CancellationToken cancel = default)
    {
        Required("what", what, 500, "what went otherwise than registered");
        var (trials, plants, today) = await ReadAsync(cancel);
        var trial = trials.Find(each => each.Registered.TrialId == trialId) ?? throw None(trialId);
        Guid? id = plant is null ? null : trial.Registered.Seats.FirstOrDefault(seat => plants.TryGetValue(seat.PlantId, out var known) && known.Number == plant)?.PlantId
            ?? throw new EntryException("plant", FactWords.Say($"{plant}"), "a plant of this trial");
        await WriteAsync(new TrialDeparted(trialId, today, id, what.Trim()), trialId, (_, _) => Task.CompletedTask, cancel);
        return (await GetAsync(trialId, cancel))!;
    }

    public async Task<IReadOnlyDictionary<Guid, PlantArm>> ArmsAsync(CancellationToken cancel = default)
    {
        var trials = TrialBook.Of(await database.ReadAsync(db => _facts.OfAsync(db, cancel), cancel));
        return trials.Where(trial => trial.Result is null).SelectMany(trial => trial.Registered.Seats.Select(seat => (seat, trial.Registered)))
            .GroupBy(each => each.seat.PlantId).ToDictionary(each => each.Key, each =>
            {
                var (seat, trial) = each.First();
                return new PlantArm(trial.TrialId, trial.Question, seat.Arm, trial.Arms.First(arm => arm.Name == seat.Arm).Gets);
            });
    }

    private async Task<(List<TrialRecord> Trials, IReadOnlyDictionary<Guid, EvidencePlant> Plants, DateOnly Today)> ReadAsync(CancellationToken cancel)
    {
        var trials = TrialBook.Of(await database.ReadAsync(db => _facts.OfAsync(db, cancel), cancel));
        var plants = trials.Count == 0 ? [] : await evidence.PlantsAsync(cancel);
        return (trials, plants.ToDictionary(plant => plant.Id), await time.TodayAsync(cancel));
    }

    private Task WriteAsync(FactPayload payload, Guid trialId, Func<LedgerContext, CancellationToken, Task> check, CancellationToken cancel) =>
        log.AppendAsync([new NewFact { Id = Guid.CreateVersion7(clock.GetUtcNow()), SubjectId = trialId, Payload = payload }], (db, _, _, token) => check(db, token), null, null, cancel);

    // Nothing was looked at, ended or stopped meanwhile on another device.
    private static async Task UnchangedAsync(LedgerContext db, TrialRecord known, CancellationToken cancel)
    {
        var now = (await TrialBook.ReadAsync(db, cancel)).Find(trial => trial.Registered.TrialId == known.Registered.TrialId);
        if (now is null || now.Result is not null || now.Looked.Count != known.Looked.Count)
        {
            throw new EntryException("trial", known.Registered.Question, "a trial that nobody looked at or ended meanwhile; open it again");
        }
    }

    private static TrialRecord Open(List<TrialRecord> trials, Guid id)
    {
        var trial = trials.Find(each => each.Registered.TrialId == id) ?? throw None(id);
        return trial.Result is null ? trial : throw new EntryException("trial", trial.Registered.Question, "a trial that still runs: this one has its result, and it stands");
    }

    private static TrialRecord Running(List<TrialRecord> trials, Guid id, DateOnly today)
    {
        var trial = Open(trials, id);
        return trial.StateOn(today) switch
        {
            TrialState.ToCome => throw new EntryException("trial", trial.Registered.Question, FactWords.Say($"a trial that has begun; this one begins on {trial.Registered.Begins:yyyy-MM-dd}")),
            TrialState.ToEnd => throw new EntryException("trial", trial.Registered.Question, "a trial that is not over; end this one, and its result is written"),
            _ => trial,
        };
    }

    private static EntryException None(Guid id) => new("trial", id.ToString(), "a trial of this bench");

    private static void Required(string field, string? text, int most, string accepted)
    {
        if (string.IsNullOrWhiteSpace(text) || text.Length > most)
        {
            throw new EntryException(field, text, FactWords.Say($"{accepted}, at most {most} letters"));
        }
    }
}
