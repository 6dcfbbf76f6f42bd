using Microsoft.AspNetCore.Components;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Desks;
using Rootwater.Web.Texts;

namespace Rootwater.Web.Pages.Bench;

/// <summary>In which order plants are listed.</summary>
public enum BenchOrder
{
    Walk,
    Number,
    Name,
    Due,
}

/// <summary>Every plant, found by any word and narrowed by a query in the address: it needs no script, and a list can be kept as a bookmark.</summary>
public sealed partial class BenchPage
{
    private IReadOnlyList<PlantCard>? _cards;
    private IReadOnlyList<Place> _places = [];
    private IReadOnlyList<string> _kinds = [];

    [SupplyParameterFromQuery] private string? Words { get; set; }
    [SupplyParameterFromQuery] private string? Place { get; set; }
    [SupplyParameterFromQuery] private string? Kind { get; set; }
    [SupplyParameterFromQuery] private string? State { get; set; }
    [SupplyParameterFromQuery] private string? Due { get; set; }
    [SupplyParameterFromQuery(Name = "trouble")] private string? InTrouble { get; set; }
    [SupplyParameterFromQuery] private string? Quarantine { get; set; }
    [SupplyParameterFromQuery] private string? Lost { get; set; }
    [SupplyParameterFromQuery] private string? Sole { get; set; }
    [SupplyParameterFromQuery] private string? Order { get; set; }
    [SupplyParameterFromQuery(Name = "view")] private string? Shape { get; set; }
    [Inject] private PlantWords Say { get; set; } = null!;

    private bool AsTable => Shape == "table";
    private BenchOrder Sorted => Enum.TryParse<BenchOrder>(Order, true, out var order) ? order : BenchOrder.Walk;

    /// <summary>What narrows the list, by name and value as it stands in the address.</summary>
    private IReadOnlyList<(string Name, string Value)> Chosen =>
    [
        .. new (string Name, string? Value)[] { ("place", Place), ("kind", Kind), ("state", State), ("due", Due), ("trouble", InTrouble), ("quarantine", Quarantine), ("lost", Lost), ("sole", Sole) }
            .Where(pair => !string.IsNullOrWhiteSpace(pair.Value)).Select(pair => (pair.Name, pair.Value!)),
    ];

    private bool Narrowed => Chosen.Count > 0;

    protected override Task OnInitializedAsync() => AttemptAsync(async () =>
    {
        var all = await Desk.ListAsync(new BenchQuery { WithLost = Is(Lost) }, Leaving);
        _places = await Desk.PlacesAsync(Leaving);
        _kinds = [.. all.Select(card => card.Kind).Distinct().Order(StringComparer.CurrentCultureIgnoreCase)];
        var plain = !Narrowed && string.IsNullOrWhiteSpace(Words);
        var cards = plain ? all : await Desk.ListAsync(
            new BenchQuery
            {
                Words = string.IsNullOrWhiteSpace(Words) ? null : Words.Trim(),
                PlaceId = Guid.TryParse(Place, out var place) ? place : null,
                Kind = string.IsNullOrWhiteSpace(Kind) ? null : Kind,
                State = Enum.TryParse<PlantState>(State, out var state) ? state : null,
                Due = Is(Due) ? true : null,
                Trouble = Is(InTrouble) ? true : null,
                InQuarantine = Is(Quarantine) ? true : null,
                WithLost = Is(Lost),
            },
            Leaving);
        if (Is(Sole))
        {
            var alone = (await Desk.SoleSpecimensAsync(Leaving)).Select(card => card.Id).ToHashSet();
            cards = [.. cards.Where(card => alone.Contains(card.Id))];
        }

        _cards = Sorted switch
        {
            BenchOrder.Number => [.. cards.OrderBy(card => card.Number)],
            BenchOrder.Name => [.. cards.OrderBy(card => card.Name, StringComparer.CurrentCultureIgnoreCase).ThenBy(card => card.Number)],
            BenchOrder.Due => [.. cards.OrderByDescending(card => card.DaysOverdue ?? -1)],
            _ => cards,
        };
    });

    /// <summary>The same list in another shape.</summary>
    private string View(bool table) => "/bench?" + string.Join('&', Chosen.Append(("words", Words ?? "")).Append(("order", Sorted.ToString())).Append(("view", table ? "table" : "cards"))
        .Where(pair => pair.Item2.Length > 0).Select(pair => $"{pair.Item1}={Uri.EscapeDataString(pair.Item2)}"));

    private static bool Is(string? given) => given == "true";
}
