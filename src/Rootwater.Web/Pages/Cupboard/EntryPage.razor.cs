using System.Globalization;
using Microsoft.AspNetCore.Components;
using Rootwater.Growing.Cupboard.Entry;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Web.Numbers;

namespace Rootwater.Web.Pages.Cupboard;

/// <summary>One step at a time: what comes next has its form, what was done can be read, the last step can be taken back for an hour.</summary>
public sealed partial class EntryPage
{
    private readonly HashSet<Guid> _chosen = [];
    private ProductEntrySheet? _entry;
    private IReadOnlyList<WaterView> _waters = [];
    private HashSet<Guid> _undoable = [];
    private DateTime _now;
    private bool _looked, _clear = true;
    private string _ec = "", _ph = "", _note = "", _own = "", _outcome = "", _worse = "", _better = "";

    [Parameter] public Guid Id { get; set; }

    protected override Task OnInitializedAsync() => AttemptAsync(async () =>
    {
        _waters = [.. (await Waters.ListAsync(Leaving)).Where(water => water.Source is not null)];
        await ShowAsync(await Desk.GetAsync(Id, Leaving));
        _looked = true;
    });

    private async Task ShowAsync(ProductEntrySheet? entry)
    {
        _entry = entry;
        _now = (await Settings.GetAsync(Leaving)).Now;
        _undoable = [.. (await Facts.RecentAsync(TimeSpan.FromHours(1), 50, Leaving)).Where(line => line.CanBeUndone).Select(line => line.Id)];
    }

    private Task Take(Func<Task<ProductEntrySheet>> step) => AttemptAsync(async () =>
    {
        await ShowAsync(await step());
        (_ec, _ph, _note, _own, _outcome, _worse, _better) = ("", "", "", "", "", "", "");
    });

    private Task PlanTest(TestCanChoice choice) => Take(() => Desk.PlanTestAsync(Id, choice, cancel: Leaving));

    private Task ReadTest() => Take(() =>
    {
        var typed = new Measured(U.Units);
        var (ec, ph) = (typed.Ec(_ec), typed.PH(_ph));
        if (string.IsNullOrWhiteSpace(_ec) && string.IsNullOrWhiteSpace(_ph))
            typed.Refuse(Measured.EcField, null, "read EC, pH or both.");
        typed.Check();
        return Desk.ReadTestAsync(Id, ec, ph, cancel: Leaving);
    });

    private Task Look() => Take(() => Desk.LookAsync(Id, _clear, _note, cancel: Leaving));

    private Task BeginTrial(ProductEntrySheet entry) => Take(async () =>
    {
        var pairs = entry.Offered.Where(pair => _chosen.Contains(pair.New)).Select(pair => new TrialPair(pair.New, pair.Old)).ToList();
        pairs.AddRange(await OwnAsync());
        return await Desk.BeginTrialAsync(Id, pairs, _outcome, cancel: Leaving);
    });

    private async Task<IEnumerable<TrialPair>> OwnAsync()
    {
        if (string.IsNullOrWhiteSpace(_own))
            return [];
        var cards = (await Plants.ListAsync(cancel: Leaving)).ToDictionary(card => card.Number, card => card.Id);
        return _own.Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(text =>
        {
            var parts = text.Split(':', StringSplitOptions.TrimEntries);
            return parts.Length == 2 && int.TryParse(parts[0], CultureInfo.InvariantCulture, out var one) && int.TryParse(parts[1], CultureInfo.InvariantCulture, out var other) && cards.TryGetValue(one, out var first) && cards.TryGetValue(other, out var second)
                ? new TrialPair(first, second)
                : throw new EntryException("pairs", text, "two numbers of plants on this bench with a colon between, such as 12:15.");
        }).ToList();
    }

    private Task Judge() => Take(() =>
    {
        var typed = new Measured(U.Units);
        var (worse, better) = (typed.Count("worse", _worse, 0, 1000), typed.Count("better", _better, 0, 1000));
        typed.Check();
        return Desk.JudgeTrialAsync(Id, worse ?? 0, better ?? 0, _note, cancel: Leaving);
    });

    private Task Decide(bool accept, string why) => Take(() => Desk.DecideAsync(Id, accept, why, cancel: Leaving));

    private Task TakeBack(Guid factId) => AttemptAsync(async () =>
    {
        await Facts.UndoAsync(factId, Guid.CreateVersion7(), cancel: Leaving);
        await ShowAsync(await Desk.GetAsync(Id, Leaving));
    });

    private void Choose(Guid plant, bool on)
    {
        if (on)
            _chosen.Add(plant);
        else
            _chosen.Remove(plant);
    }

    private static string Moment(DateTime at) => at.ToString("d MMM yyyy, HH:mm", CultureInfo.GetCultureInfo("en"));
}
