using System.Globalization;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using Rootwater.Growing;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Mixing.Reconciliation;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Web.Components.Mixing;
using Rootwater.Web.Numbers;

namespace Rootwater.Web.Pages.Mixing;

/// <summary>The card of one can: followed step by step, read with the pens, put right, poured. Every tick and reading is saved as it is made.</summary>
public sealed partial class CanPage
{
    private SavedCan? _can;
    private IReadOnlyList<SupplyItem> _cupboard = [];
    private IReadOnlyList<PotView> _pots = [];
    private Guid? _pot;
    private RootForecastView? _forecast;
    private string? _noForecast;
    private CanVerdict? _judgement;
    private CanRepairResult? _repair;
    private Dictionary<Guid, string?>? _added;
    private string? _ec;
    private string? _pH;
    private Guid? _corrects;
    private IReadOnlyList<Pen> _ecPens = [];
    private IReadOnlyList<Pen> _phPens = [];
    private Guid? _ecPen;
    private Guid? _phPen;
    private int _blank;
    private string? _told;
    private bool _looked;
    private bool _showNext;
    private IJSObjectReference? _card;

    [Parameter] public Guid Id { get; set; }

    private MixStep? Next => _can?.NextStep;

    private bool Finished => _can?.State is CanState.Poured or CanState.Finished;

    private bool Typed => !string.IsNullOrWhiteSpace(_ec) || !string.IsNullOrWhiteSpace(_pH);

    /// <summary>The step after which the pens are being read; null for the finished can, and before anything is in it (then the end is shown).</summary>
    private MixStep? After => Next is null || _can!.DoneSteps.Count == 0 ? null : _can.Card.Steps.Last(step => _can.DoneSteps.Contains(step.Number));

    /// <summary>As the grower's own pen shows it at the can's temperature, because that is what it will be held against.</summary>
    private Expected ExpectedEc => OnPen(ExpectedEcAt25);

    private Expected ExpectedEcAt25 => _repair is { Additions.Count: > 0, EcMicrosiemensPerCm: { } repaired } ? repaired : After?.EcMicrosiemensPerCm ?? Learned?.EcMicrosiemensPerCm ?? _can!.Card.EcMicrosiemensPerCm;

    private Expected ExpectedPH => _repair is { Additions.Count: > 0, PH: { } repaired } ? repaired : After?.PH ?? Learned?.PH ?? _can!.Card.PH;

    /// <summary>What earlier cans taught, where that was asked for; a repaired can is another one.</summary>
    private LearnedReading? Learned => _can!.Card.Repairs.Count == 0 ? _can.Card.AsLearned : null;

    /// <summary>What will be left of each product on the card once the steps not yet ticked are done too.</summary>
    private IEnumerable<(string Product, double Grams)> SupplyAfter =>
        from step in _can!.Card.Steps
        where step.ProductId is not null
        group step by step.ProductId!.Value into used
        let item = _cupboard.FirstOrDefault(item => item.Product.Id == used.Key)
        where item is not null
        let still = used.Where(step => !_can.DoneSteps.Contains(step.Number)).Sum(step => step.Unit == "mL" ? step.Amount * (item.Product.DensityKgPerLitre ?? 1) : step.Amount)
        select (item.Product.Name, Math.Max(0, item.GramsLeft - still));

    protected override Task OnInitializedAsync() => Open();

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (_showNext && _card is not null)
        {
            _showNext = false;
            await _card.InvokeVoidAsync("show", Leaving, Next is { } next ? $"step-{next.Number}" : "pens");
        }

        if (!firstRender)
            return;
        try
        {
            _card = await Script.InvokeAsync<IJSObjectReference>("import", Leaving, "./js/card.js");
            await _card.InvokeAsync<bool>("keepAwake", Leaving);
        }
        catch (Exception fault) when (fault is JSException or JSDisconnectedException or OperationCanceledException)
        {
            // An old browser without modules: the card works, the screen sleeps.
        }
    }

    private async Task Open()
    {
        await AttemptAsync(async () =>
        {
            _can = await Desk.GetCanAsync(Id, Leaving);
            _looked = true;
            if (_can is null)
                return;
            _cupboard = await CupboardDesk.ListAsync(Leaving);
            var pens = (await PenDesk.ListAsync(Leaving)).Select(view => view.Pen).Where(pen => pen.RetiredOn is null).ToList();
            (_ecPens, _phPens) = ([.. pens.Where(pen => pen.Kind == PenKind.Ec)], [.. pens.Where(pen => pen.Kind == PenKind.PH)]);
            if (_can.ReadingsOfNow.Count > 0)
                _judgement = await Desk.JudgeAsync(Id, Leaving);
        });
        // The card is there at once; the forecast, which takes longer to compute than all the rest, comes to it.
        if (_can is not null && RendererInfo.IsInteractive)
            await OpenForecast();
    }

    private async Task OpenForecast()
    {
        try
        {
            var fed = _can!.Card.Serves.SelectMany(group => group.Portions).Select(portion => portion.PlantId).ToHashSet();
            _pots = [.. (await PotDesk.ListAsync(Leaving)).Where(pot => fed.Contains(pot.PlantId))];
            // The pot most of its plants stand in is what the forecast starts with.
            _pot = _pots.GroupBy(pot => (pot.Medium, pot.Culture)).MaxBy(alike => alike.Count())?.First().Id;
            await Forecast();
        }
        catch (Exception fault) when (fault is not OperationCanceledException)
        {
            _noForecast = T["ForecastFailed", Explain(fault)];
        }
    }

    private async Task Forecast()
    {
        (_forecast, _noForecast) = (null, null);
        if (_pot is not { } pot)
        {
            _noForecast = T["NoForecast"];
            return;
        }

        try
        {
            StateHasChanged();
            // Off the circuit, so that a tick need not wait for it.
            _forecast = await Task.Run(() => PotDesk.ForecastAsync(pot, _can!.Card, cancel: Leaving), Leaving);
        }
        catch (Exception fault) when (fault is not OperationCanceledException)
        {
            // The card is followed without it.
            _noForecast = T["ForecastFailed", Explain(fault)];
        }
    }

    private Task ChoosePot(ChangeEventArgs change)
    {
        _pot = Guid.TryParse(change.Value as string, CultureInfo.InvariantCulture, out var pot) ? pot : _pot;
        return Forecast();
    }

    private Task Toggle(MixStep step) => AttemptAsync(async () =>
    {
        var done = _can!.DoneSteps.Contains(step.Number);
        _can = done ? await Desk.UndoStepAsync(Id, step.Number, cancel: Leaving) : await Desk.TickStepAsync(Id, step.Number, cancel: Leaving);
        _told = T[done ? "ToldUndone" : "ToldDone", step.Number];
        _cupboard = await CupboardDesk.ListAsync(Leaving);
        _showNext = true;
    });

    private Task UndoLast() => _can!.Card.Steps.LastOrDefault(step => _can.DoneSteps.Contains(step.Number)) is { } last ? Toggle(last) : Task.CompletedTask;

    private Task Check() => AttemptAsync(async () =>
    {
        var (ec, pH) = Reading.Both(U.Units, _ec, _pH);
        _can = await Desk.SaveReadingAsync(new NewCanReading { CanId = Id, AfterStep = After?.Number, EcMicrosiemensPerCm = ec, PH = pH, Corrects = _corrects, EcPenId = ec is null ? null : _ecPen, PHPenId = pH is null ? null : _phPen }, Leaving);
        _judgement = await Desk.JudgeAsync(Id, Leaving);
        (_repair, _added) = (null, null);
        Fill(null, null, null);
    });

    private Task AskRepair() => AttemptAsync(async () =>
    {
        _repair = await Desk.RepairAsync(Id, Leaving);
        // What was offered stands in the fields; what was really added may be typed over it.
        _added = _repair.Additions.Where(each => (each.ProductId ?? each.WaterId) is not null)
            .ToDictionary(each => (each.ProductId ?? each.WaterId)!.Value, each => (string?)each.Amount.ToString("0.###", CultureInfo.InvariantCulture));
    });

    private Task SaveRepair() => AttemptAsync(async () =>
    {
        var added = new List<Added>();
        var problems = new List<EntryProblem>();
        foreach (var (id, text) in _added!)
        {
            if (!Entry.TryReadOptional(text, out var amount) || amount < 0)
                problems.Add(new EntryProblem("added", text, "type the amount that went in, such as 0.4 or 0,4; nothing where it was left out."));
            else if (amount > 0)
                added.Add(new Added(id, amount.Value));
        }

        if (problems.Count > 0)
            throw new EntryException(problems);
        _can = await Desk.SaveRepairAsync(new NewCanRepair { CanId = Id, Added = added }, Leaving);
        (_repair, _added, _judgement) = (null, null, null);
        _told = T["ToldRepaired"];
        _cupboard = await CupboardDesk.ListAsync(Leaving);
        _blank++;
    });

    private Task UndoRepair(DoneRepair done) => AttemptAsync(async () =>
    {
        _can = await Desk.UndoRepairAsync(Id, done.Id, cancel: Leaving);
        _cupboard = await CupboardDesk.ListAsync(Leaving);
        _judgement = _can.ReadingsOfNow.Count > 0 ? await Desk.JudgeAsync(Id, Leaving) : null;
        (_repair, _added) = (null, null);
        _blank++;
    });

    private Task UndoPour() => AttemptAsync(async () => _can = await Desk.UndoPourAsync(Id, cancel: Leaving));

    private Expected OnPen(Expected at25)
    {
        var shown = _can!.Card.EcOnPenMicrosiemensPerCm / _can.Card.EcMicrosiemensPerCm.Value;
        return double.IsFinite(shown) && shown > 0 ? new Expected(at25.Low * shown, at25.Value * shown, at25.High * shown) : at25;
    }

    private Task Pour() => AttemptAsync(async () => _can = await Desk.PourAsync(Id, cancel: Leaving));

    private void ChoosePen(PenKind kind, ChangeEventArgs change)
    {
        Guid? chosen = Guid.TryParse(change.Value as string, CultureInfo.InvariantCulture, out var pen) ? pen : null;
        (_ecPen, _phPen) = kind == PenKind.Ec ? (chosen, _phPen) : (_ecPen, chosen);
    }

    private void Correct(CanReading read) => Fill(
        read.EcMicrosiemensPerCm is { } ec ? U.Ec(ec) : null,
        read.PH?.ToString("0.0#", CultureInfo.InvariantCulture),
        read.Id);

    private void Fill(string? ec, string? pH, Guid? corrects)
    {
        (_ec, _pH, _corrects) = (ec, pH, corrects);
        _blank++;
    }

    private string PenLabel(string pen) => After is { } step ? T["PenAfterStep", pen, step.Number] : T["PenAtTheEnd", pen];

    private string? WrongFor(string field) => Problems.FirstOrDefault(problem => problem.Field.Equals(field, StringComparison.OrdinalIgnoreCase))?.ToString();

    private static string Words(DoneRepair done) => string.Join(" · ", done.Additions.Select(each => $"{Show.Dose(each.Amount)} {each.Unit} {each.What}"));

    private string Words(CanReading read) => string.Join(" · ", new[]
    {
        read.EcMicrosiemensPerCm is { } ec ? $"EC {U.EcWords(ec)}" : null,
        read.PH is { } pH ? $"pH {pH.ToString("0.0#", CultureInfo.InvariantCulture)}" : null,
    }.OfType<string>());

    public async ValueTask DisposeAsync()
    {
        Dispose();
        if (_card is null)
            return;
        try
        {
            await _card.InvokeVoidAsync("letSleep");
            await _card.DisposeAsync();
        }
        catch (JSDisconnectedException)
        {
            // The page is gone, and its lock with it.
        }
    }
}
