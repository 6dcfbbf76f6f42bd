using System.Globalization;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Pots;

/// <summary>What the search for the best pour needs to know.</summary>
public sealed record PourRequest
{
    public required PotSetup Setup { get; init; }
    public required PotClimate Climate { get; init; }

    /// <summary>What the pot holds before the pour; null for a pot that the feed fills for the first time.</summary>
    public PotState? Before { get; init; }

    /// <summary>The feed at its full strength, mol per kg of water, before any acid or base.</summary>
    public required ComponentAmounts FeedMolPerKgWater { get; init; }

    /// <summary>The water it is thinned with, mol per kg of water; pure water when nothing is given.</summary>
    public ComponentAmounts WaterMolPerKgWater { get; init; } = ComponentAmounts.Zero;

    /// <summary>Litres poured; null for what fills the reservoir and half as much as the medium holds.</summary>
    public double? PourLitres { get; init; }

    /// <summary>Days to the next feed.</summary>
    public double Days { get; init; } = 7;

    /// <summary>What is done in between (top-ups).</summary>
    public IReadOnlyList<PotEvent> Later { get; init; } = [];

    /// <summary>The plant's window of the pH at the root.</summary>
    public required Band RootPH { get; init; }

    /// <summary>Highest EC at 25 °C at the root, µS/cm.</summary>
    public double MostEcMicrosiemensPerCm { get; init; } = 1500;

    /// <summary>Lowest and highest pH that may be poured. 5 to 7: common practice, no source.</summary>
    public (double Low, double High) PourPH { get; init; } = (5.0, 7.0);

    /// <summary>Strengths to try, relative to the feed; the first is taken unless another brings at least 0.02 more of the time.</summary>
    public IReadOnlyList<double> Strengths { get; init; } = [1, 0.75, 0.5];

    /// <summary>What one mole of the acid in use adds; nitric acid when nothing else is said.</summary>
    public ComponentAmounts AcidPerMole { get; init; } = PotInverse.NitricAcid;

    /// <summary>What one mole of the base in use adds; potassium hydroxide when nothing else is said.</summary>
    public ComponentAmounts BasePerMole { get; init; } = PotInverse.PotassiumHydroxide;
    public PotParameters Parameters { get; init; } = PotParameters.Default;

    /// <summary>What is told of the root in place of the model's own values; null where they are told as they are.</summary>
    public ToldBands? Told { get; init; }
}

/// <summary>How to pour so that the root stays inside its window longest.</summary>
public sealed record PourAdvice
{
    /// <summary>Where to pour: the best pH, and how far from it the share of time falls by no more than 0.05. For a <see cref="Mixing.WantGroup"/>.</summary>
    public required Band PourPH { get; init; }

    /// <summary>Strength relative to the feed.</summary>
    public required double Strength { get; init; }

    /// <summary>Share of the time the root is inside its window (and below the EC limit), 0 to 1, with the band of the forecast.</summary>
    public required Expected ShareInWindow { get; init; }

    /// <summary>Acid that brings the feed at that strength to that pH, mmol per litre; zero when base is needed.</summary>
    public required double AcidMmolPerLitre { get; init; }

    /// <summary>Base that does, mmol per litre; zero when acid is needed.</summary>
    public required double BaseMmolPerLitre { get; init; }

    /// <summary>The feed as poured, mol per kg of water.</summary>
    public required ComponentAmounts PouredMolPerKgWater { get; init; }

    /// <summary>The forecast for that pour.</summary>
    public required PotForecast Forecast { get; init; }

    /// <summary>What was found, in words.</summary>
    public required string Words { get; init; }
}

/// <summary>The forecast turned round: which starting pH and strength keep the root inside its window longest.</summary>
/// <remarks>Every candidate is a whole run of the simulator from a feed whose pH the chemistry set; first every 0.2 of pH, then every 0.05 around the best.</remarks>
public static class PotInverse
{
    internal static ComponentAmounts NitricAcid { get; } = ComponentAmounts.From((Component.Hydrogen, 1), (Component.Nitrate, 1));
    internal static ComponentAmounts PotassiumHydroxide { get; } = ComponentAmounts.From((Component.Hydrogen, -1), (Component.Potassium, 1));

    private const double Coarse = 0.2;
    private const double Fine = 0.05;
    private const double AsGood = 0.05;
    private const double LookEveryHours = 12;
    private const double MostDoseMolPerKgWater = 0.1;

    /// <summary>Searches starting pH and strength.</summary>
    /// <exception cref="PotInputException">Something given cannot be used, or no pH in the range can be reached.</exception>
    public static PourAdvice BestPour(PourRequest request)
    {
        if (!(request.PourPH.Low is >= 3 and <= 10 && request.PourPH.High is >= 3 and <= 10 && request.PourPH.Low <= request.PourPH.High))
        {
            throw new PotInputException("pourPH", request.PourPH, "a lowest and a highest pH between 3 and 10");
        }

        if (request.Strengths.Count == 0 || request.Strengths.Any(strength => strength is not (> 0 and <= 3)))
        {
            throw new PotInputException("strengths", string.Join(", ", request.Strengths), "one or more factors above 0, at most 3");
        }

        var before = request.Before ?? PotState.FilledWith(request.Setup, ComponentAmounts.Zero);
        PotInputs.Check(request.Parameters, request.Setup, request.Climate, before, request.Later, request.Days * 24);
        var best = request.Strengths.Select(strength => BestAt(request, strength)).ToList();

        // The first, usually full strength, stays unless thinning really buys time inside the window.
        var chosen = best[0];
        foreach (var other in best.Skip(1))
        {
            chosen = other.Best.Share > chosen.Best.Share + 0.02 ? other : chosen;
        }

        return Advise(request, chosen);
    }

    private static (double Strength, Try Best, List<Try> Tried) BestAt(PourRequest request, double strength)
    {
        var tried = new List<Try>();
        Lent? lent = null;
        for (var i = 0; request.PourPH.Low + i * Coarse <= request.PourPH.High + 1e-9; i++)
        {
            tried.Add(TryOne(request, strength, Math.Round(request.PourPH.Low + i * Coarse, 6), ref lent));
        }

        var centre = Pick(tried).PH;
        for (var i = -(int)Math.Round(2 * Coarse / Fine); i <= 2 * Coarse / Fine; i++)
        {
            var ph = Math.Round(centre + i * Fine, 6);
            if (ph >= request.PourPH.Low - 1e-9 && ph <= request.PourPH.High + 1e-9 && !tried.Any(one => Math.Abs(one.PH - ph) < 1e-6))
            {
                tried.Add(TryOne(request, strength, ph, ref lent));
            }
        }

        return (strength, Pick(tried), tried);
    }

    /// <summary>The most time in the window; of equals the one whose root stays nearest its ideal.</summary>
    private static Try Pick(List<Try> tried) => tried.OrderByDescending(one => Math.Round(one.Share, 3)).ThenBy(one => one.DistanceFromIdeal).First();

    /// <summary>One run of the middle parameters. Pours of one feed differ by a little acid, so the medium's resting bases of the first are lent to the others.</summary>
    private static Try TryOne(PourRequest request, double strength, double ph, ref Lent? lent)
    {
        var (start, events, _) = Pour(request, strength, ph);
        var stops = PotSchedule.Of(events, request.Days * 24, LookEveryHours);
        var hours = new double[stops.Length];
        var values = new double[stops.Length];
        var rests = new RestingBase[stops.Length];
        var distance = 0.0;
        var at = 0;
        var run = PotSchedule.Follow(stops, request.Parameters, request.Setup, request.Climate, start, (run, stop, looks) =>
        {
            var (pH, ec) = (looks.Medium.PH, looks.Medium.Ec25MicrosiemensPerCm);
            if (request.Told is { } told)
            {
                (pH, ec) = (told.PH(stop.Hours, new Expected(pH, pH, pH)).Value, told.EcMicrosiemensPerCm(stop.Hours, new Expected(ec, ec, ec)).Value);
            }

            // A root too salty is out of its window, whatever its pH.
            hours[at] = stop.Hours;
            values[at] = ec <= request.MostEcMicrosiemensPerCm ? pH : 0;
            rests[at++] = run.Rest;
            distance += Math.Abs(pH - request.RootPH.Ideal);
        }, lent, solvesReservoir: false);
        lent ??= new Lent(rests, run.TraceProtons);
        return new Try(ph, TimeShare.Inside(hours, values, request.RootPH), distance / stops.Length);
    }

    private static PourAdvice Advise(PourRequest request, (double Strength, Try Best, List<Try> Tried) chosen)
    {
        var (low, high) = (chosen.Best.PH, chosen.Best.PH);
        foreach (var one in chosen.Tried.Where(one => one.PH < chosen.Best.PH).OrderByDescending(one => one.PH).TakeWhile(one => one.Share >= chosen.Best.Share - AsGood))
        {
            low = one.PH;
        }

        foreach (var one in chosen.Tried.Where(one => one.PH > chosen.Best.PH).OrderBy(one => one.PH).TakeWhile(one => one.Share >= chosen.Best.Share - AsGood))
        {
            high = one.PH;
        }

        var (start, events, dose) = Pour(request, chosen.Strength, chosen.Best.PH);
        var forecast = PotForecaster.Run(new PotForecastRequest
        {
            Setup = request.Setup,
            Climate = request.Climate,
            Start = start,
            Events = events,
            Days = request.Days,
            RootPH = request.RootPH,
            LeachAtEcMicrosiemensPerCm = request.MostEcMicrosiemensPerCm,
            Parameters = request.Parameters,
            Told = request.Told,
        });
        var share = forecast.ShareInWindow;
        return new PourAdvice
        {
            PourPH = new Band(low, chosen.Best.PH, high),
            Strength = chosen.Strength,
            ShareInWindow = share,
            AcidMmolPerLitre = Math.Max(0, dose.Moles * 1000),
            BaseMmolPerLitre = Math.Max(0, -dose.Moles * 1000),
            PouredMolPerKgWater = dose.Poured,
            Forecast = forecast,
            Words = string.Create(CultureInfo.InvariantCulture, $"Pour at pH {chosen.Best.PH:0.00} ({low:0.00} to {high:0.00} is as good), {chosen.Strength:0.##} of the feed's strength: inside {request.RootPH.Low:0.0} to {request.RootPH.High:0.0} for {share.Value:0 %} of {request.Days:0.#} days ({share.Low:0 %} to {share.High:0 %})."),
        };
    }

    private static (PotState Start, IReadOnlyList<PotEvent> Events, (ComponentAmounts Poured, double Moles) Dose) Pour(PourRequest request, double strength, double ph)
    {
        var thinned = request.FeedMolPerKgWater.Scaled(strength).PlusScaled(request.WaterMolPerKgWater, 1 - strength);
        var dose = AtPH(thinned, ph, request.AcidPerMole, request.BasePerMole, request.Climate.AirTemperatureCelsius);
        if (request.Before is not { } before)
        {
            return (PotState.FilledWith(request.Setup, dose.Poured), request.Later, dose);
        }

        var litres = request.PourLitres ?? request.Setup.ReservoirLitres + 0.5 * request.Setup.HeldLitres;
        return (before, [new PotEvent(PotEventKind.Refill, 0, litres, dose.Poured), .. request.Later], dose);
    }

    /// <summary>Brings a feed to a pH, closed, with so much acid (positive) or base (negative) in mol per kg of water.</summary>
    /// <param name="feed">The feed, mol per kg of water.</param>
    /// <param name="ph">Where to bring it.</param>
    /// <param name="acidPerMole">What a mole of the acid adds, its own ions included; nitric acid when null.</param>
    /// <param name="basePerMole">What a mole of the base adds; potassium hydroxide when null.</param>
    /// <param name="celsius">Temperature at which the pH is meant, °C.</param>
    /// <exception cref="PotInputException">It cannot be brought there.</exception>
    public static (ComponentAmounts Poured, double Moles) AtPH(ComponentAmounts feed, double ph, ComponentAmounts? acidPerMole = null, ComponentAmounts? basePerMole = null, double celsius = 25)
    {
        acidPerMole ??= NitricAcid;
        basePerMole ??= PotassiumHydroxide;
        var conditions = new SolveConditions { Temperature = Temperature.FromCelsius(celsius) };
        var wanted = conditions with { FixedPH = ph };
        var acid = ProtonsWanted(feed, wanted) > 0;
        var reagent = acid ? acidPerMole : basePerMole;
        var moles = IsStrong(reagent) ? StrongDose(feed, reagent, wanted) : DoseForPH.Find(feed, reagent, ph, MostDoseMolPerKgWater, conditions).Amount;
        return moles is { } amount and <= MostDoseMolPerKgWater
            ? (feed.PlusScaled(reagent, amount), acid ? amount : -amount)
            : throw new PotInputException("pourPH", ph, "a pH that the acid or base in use can bring this feed to");
    }

    /// <summary>Protons a feed lacks (or has too many of, negative) at the pH the conditions hold, mol per kg of water.</summary>
    private static double ProtonsWanted(ComponentAmounts feed, SolveConditions atPH) =>
        EquilibriumSolver.Solve(feed, atPH).Required().HydrogenMolPerKgWater - feed[Component.Hydrogen];

    /// <summary>An acid or base whose own ion takes no part in the proton balance.</summary>
    private static bool IsStrong(ComponentAmounts reagent)
    {
        foreach (var component in reagent.Present())
        {
            if (component is not (Component.Hydrogen or Component.Nitrate or Component.Chloride or Component.Potassium or Component.Sodium))
            {
                return false;
            }
        }

        return reagent[Component.Hydrogen] != 0;
    }

    /// <summary>Three solves at the held pH are enough: the ion that comes along moves the balance only through the ionic strength.</summary>
    private static double? StrongDose(ComponentAmounts feed, ComponentAmounts reagent, SolveConditions atPH)
    {
        var moles = 0.0;
        for (var i = 0; i < 3; i++)
        {
            var dosed = feed.PlusScaled(reagent, moles);
            moles += ProtonsWanted(dosed, atPH) / reagent[Component.Hydrogen];
        }

        return moles >= -1e-9 ? Math.Max(0, moles) : null;
    }

    private readonly record struct Try(double PH, double Share, double DistanceFromIdeal);
}
