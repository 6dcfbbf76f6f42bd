using Rootwater.Chemistry.Species;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>The model a pot's root forecast is made with, whether it is shown before the pour or recorded with it, and how what it says is corrected.</summary>
internal sealed class RootModel
{
    private readonly RootBands? _bands;

    private RootModel(Pot pot, PotSetup setup, FittedPot? known, LearnedPots? learned)
    {
        (Setup, Known) = (setup, known);
        Pots = AlikeOf(pot, known);
        Climate = known is null ? new PotClimate() : learned!.ClimateOf(pot.Id);
        _bands = known is null ? null : learned!.BandsOf(setup);
    }

    public PotSetup Setup { get; }

    /// <summary>What its readings taught; null where neither it nor a sibling was read, and the data sheet has to do.</summary>
    public FittedPot? Known { get; }

    public PotClimate Climate { get; }

    /// <summary>Those whose errors its own are taken to be like.</summary>
    public PotsAlike Pots { get; }

    public PotParameters Parameters => Known?.Parameters ?? PotParameters.Default;

    public IReadOnlyList<Uncertain> Spreads => Known?.Spreads ?? Uncertain.All;

    /// <exception cref="EntryException">The medium is not one whose values are known.</exception>
    public static RootModel Of(Pot pot, FittedPot? known, LearnedPots? learned) => new(pot, PotModels.SetupOf(pot), known, learned);

    public static PotsAlike AlikeOf(Pot pot, FittedPot? known) => new(known is null ? BelievedForecasts.Model : BelievedForecasts.FittedModel, pot.Medium, pot.Culture);

    /// <summary>Filled with a feed and asked what becomes of it.</summary>
    public PotForecastRequest Request(ComponentAmounts feed, double days, Band window) => new()
    {
        Setup = Setup,
        Climate = Climate,
        Start = PotModels.FilledWith(Setup, feed, Known),
        Days = days,
        RootPH = window,
        Parameters = Parameters,
        Spreads = Spreads,
        FittedTo = Known is null ? null : LearnedPots.FittedTo(Known),
    };

    /// <summary>The model's own band of a pH at the root, before the record of its forecasts is asked.</summary>
    public Expected PH(Expected oneSd) => _bands?.PH(oneSd) ?? oneSd;

    /// <summary>Likewise of an EC.</summary>
    public Expected Ec(Expected oneSd) => _bands?.Ec(oneSd) ?? oneSd;

    /// <summary>Likewise of the litres left of what was poured.</summary>
    public Expected Litres(Expected oneSd, double full) => _bands?.Litres(oneSd, full) ?? oneSd;

    /// <summary>As what is recorded with the feed will say it.</summary>
    public ToldBands Told(BandCorrections by) => new(
        (hours, oneSd) => Scale.Corrected(Foretold.RootPH, PH(oneSd), hours / 24, by),
        (hours, oneSd) => Scale.Corrected(Foretold.RootEc, Ec(oneSd), hours / 24, by));

    /// <summary>Likewise what is left in the reservoir, litres.</summary>
    public double ToldLitres(double left, double hours, BandCorrections by) => Scale.Corrected(Foretold.Level, new Expected(left, left, left), hours / 24, by).Value;

    private ForecastScale Scale => new(Known is not null, Setup.ReservoirLitres);
}
