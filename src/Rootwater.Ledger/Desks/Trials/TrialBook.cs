using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>One trial as its facts tell it.</summary>
internal sealed record TrialRecord(TrialRegistered Registered, DateTimeOffset RegisteredAt)
{
    public List<TrialLooked> Looked { get; } = [];
    public List<TrialDeparted> Departures { get; } = [];
    public TrialEnded? Ended { get; set; }
    public TrialStopped? Stopped { get; set; }
    public TrialResult? Result => Ended?.Result ?? Stopped?.Result;

    public TrialState StateOn(DateOnly today) => Ended is not null ? TrialState.Ended : Stopped is not null ? TrialState.Stopped
        : today < Registered.Begins ? TrialState.ToCome : today >= Registered.Ends ? TrialState.ToEnd : TrialState.Running;

    /// <summary>Of its length that is over on a day, 0 to 1.</summary>
    public double Share(DateOnly today) => Math.Clamp((today.DayNumber - Registered.Begins.DayNumber) / (double)Math.Max(1, Registered.Ends.DayNumber - Registered.Begins.DayNumber), 0, 1);
}

/// <summary>Reads trials from their facts: few, folded in memory. None of these facts can be taken back.</summary>
internal static class TrialBook
{
    public static readonly string[] Kinds = [FactKinds.NameOf<TrialRegistered>(), FactKinds.NameOf<TrialLooked>(), FactKinds.NameOf<TrialEnded>(), FactKinds.NameOf<TrialStopped>(), FactKinds.NameOf<TrialDeparted>()];

    /// <summary>In the order in which they were registered.</summary>
    public static async Task<List<TrialRecord>> ReadAsync(LedgerContext db, CancellationToken cancel) =>
        Of(await db.Facts.AsNoTracking().Where(fact => Kinds.Contains(fact.Kind)).OrderBy(fact => fact.Position).ToListAsync(cancel));

    /// <summary>From their facts in order.</summary>
    public static List<TrialRecord> Of(IReadOnlyList<Fact> facts)
    {
        var trials = new List<TrialRecord>();
        foreach (var fact in facts)
        {
            var payload = FactKinds.Read(fact.Kind, fact.Version, fact.Payload);
            if (payload is TrialRegistered registered)
            {
                trials.Add(new TrialRecord(registered, fact.RecordedAt));
                continue;
            }

            if (trials.Find(trial => trial.Registered.TrialId == fact.SubjectId) is not { } trial)
            {
                continue;
            }

            switch (payload)
            {
                case TrialLooked looked:
                    trial.Looked.Add(looked);
                    break;
                case TrialDeparted departed:
                    trial.Departures.Add(departed);
                    break;
                case TrialEnded ended:
                    trial.Ended ??= ended;
                    break;
                case TrialStopped stopped:
                    trial.Stopped ??= stopped;
                    break;
            }
        }

        return trials;
    }
}
