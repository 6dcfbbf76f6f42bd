using Rootwater.Growing.Cupboard;
using Rootwater.Ledger.Desks;
using Rootwater.Web.Numbers;

namespace Rootwater.Web.Pages.Home;

/// <summary>What is due today, which cans stand open, what needs a look; and the way to the other pages.</summary>
public sealed partial class HomePage
{
    private BenchToday? _bench;
    private IReadOnlyList<SupplyItem>? _supply;
    private IReadOnlyList<WaterView>? _waters;
    private IReadOnlyList<CanSummary> _open = [];
    private IReadOnlyList<Warning> _warnings = [];
    private CanSummary? _last;

    protected override Task OnInitializedAsync() => AttemptAsync(async () =>
    {
        _bench = await Mixing.GetBenchTodayAsync(cancel: Leaving);
        var cans = await Mixing.ListCansAsync(20, Leaving);
        _open = [.. cans.Where(can => can.State is CanState.Mixing or CanState.Mixed)];
        _last = cans.FirstOrDefault(can => can.State is CanState.Poured or CanState.Finished);
        _supply = await Cupboard.ListAsync(Leaving);
        _waters = await Waters.ListAsync(Leaving);
        _warnings = [.. Warnings(_bench.AsOf)];
    });

    private IEnumerable<Warning> Warnings(DateOnly today)
    {
        foreach (var water in _waters!.Where(water => water.Source is null))
            yield return new Warning(water.Name, T["NoReport"], $"/water/{water.Id}");
        foreach (var item in _supply!)
        {
            if (item.GramsLeft <= 0)
                yield return new Warning(item.Product.Name, T["IsOut"], $"/cupboard/{item.Product.Id}");
            foreach (var lot in item.Lots.Where(lot => lot.GramsLeft > 0 && lot.BestBefore < today))
                yield return new Warning(item.Product.Name, T["PastBest", Show.ShortDay(lot.BestBefore!.Value)], $"/cupboard/{item.Product.Id}");
        }
    }

    private sealed record Warning(string Title, string Words, string Href);
}
