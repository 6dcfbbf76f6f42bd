using Rootwater.Growing.Mixing;
using Rootwater.Ledger.Desks;
using Rootwater.Web.Components.Mixing;

namespace Rootwater.Web.Pages.Mixing;

/// <summary>Choose who is due, which water and which cans; plan, with progress and a way to stop; keep the cans to be mixed.</summary>
public sealed partial class MixingPage
{
    // Often enough to see that it moves, seldom enough for a phone.
    private static readonly TimeSpan s_betweenReports = TimeSpan.FromMilliseconds(150);

    private BenchToday? _bench;
    private IReadOnlyList<CanSummary> _open = [];
    private MixingChoice _choice = new();
    private PlanOutcome? _outcome;
    private PlanProgress? _progress;
    private CancellationTokenSource? _stop;
    private bool _planning;
    private bool _cancelled;
    private bool _weighing;
    private IReadOnlyList<TradeOffPoint>? _tradeOff;
    private bool _planned;

    private string Heading => _outcome?.Plan is { } plan && !_planning
        ? plan.Cans.Count == 1 ? T["PlanHeadingOne"] : T["PlanHeading", plan.Cans.Count]
        : _outcome is not null && !_planning ? T["PlanHeadingNone"]
        : _planning || _bench is null || _bench.Due.Count == 0 ? T["Heading"] : T["HeadingDue", Counted.Plants(_bench.Due.Sum(due => due.Plants.Count))];

    private int PlantsChosen => _bench?.Due.Where(due => _choice.Groups.Contains(due.Group.Name))
        .Sum(due => due.Plants.Count(plant => !_choice.LeftOut.Contains(plant.PlantId))) ?? 0;

    protected override Task OnInitializedAsync() => Open();

    private Task Open() => AttemptAsync(async () =>
    {
        _bench = await Desk.GetBenchTodayAsync(cancel: Leaving);
        _open = [.. (await Desk.ListCansAsync(cancel: Leaving)).Where(can => can.State is CanState.Mixing or CanState.Mixed)];
        _choice = MixingChoice.AllOf(_bench, U.Units);
    });

    private async Task Plan()
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Leaving);
        (_stop, _planning, _planned, _cancelled, _outcome, _progress, _tradeOff) = (stop, true, false, false, null, null, null);
        var done = await AttemptAsync(async () =>
        {
            var choices = _choice.ToPlanChoices(_bench!.AsOf);
            StateHasChanged();
            _outcome = await Desk.PlanAsync(choices, new Reporter(this), stop.Token);
        });
        _cancelled = !done && stop.IsCancellationRequested;
        (_planning, _stop, _planned) = (false, null, done);
    }

    // The curve beside the plan: the plan stays as it is, whether or not the reader waits for the curve.
    private async Task Weigh()
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Leaving);
        (_stop, _planning, _weighing, _progress) = (stop, true, true, null);
        await AttemptAsync(async () =>
        {
            var choices = _choice.ToPlanChoices(_bench!.AsOf) with { MostCans = MixingChoice.Curve(_choice.MostCans) };
            StateHasChanged();
            _tradeOff = await Desk.TradeOffAsync(choices, new Reporter(this), stop.Token);
        });
        (_planning, _weighing, _stop) = (false, false, null);
    }

    private async Task Choose(int cans)
    {
        var curve = _tradeOff;
        _choice.MostCans = cans;
        await Plan();
        _tradeOff = curve;
    }

    private void Cancel() => _stop?.Cancel();

    private void Back() => (_outcome, _planned, _tradeOff) = (null, false, null);

    private async Task Keep()
    {
        if (!_planned || _outcome?.Plan is not { Cans.Count: > 0 } plan)
            return;
        var kept = await AttemptAsync(async () =>
        {
            foreach (var can in plan.Cans)
                await Desk.SaveCanAsync(can, Leaving);
        });
        if (kept)
            Navigation.NavigateTo($"/mixing/can/{plan.Cans[0].Id}");
    }

    private static void Set<T>(HashSet<T> chosen, T item, bool on)
    {
        if (on)
            chosen.Add(item);
        else
            chosen.Remove(item);
    }

    private sealed class Reporter(MixingPage page) : IProgress<PlanProgress>
    {
        private long _last;

        public void Report(PlanProgress value)
        {
            var now = Environment.TickCount64;
            if (now - Interlocked.Read(ref _last) < s_betweenReports.TotalMilliseconds)
                return;
            Interlocked.Exchange(ref _last, now);
            _ = page.InvokeAsync(() =>
            {
                page._progress = value;
                page.StateHasChanged();
            });
        }
    }
}
