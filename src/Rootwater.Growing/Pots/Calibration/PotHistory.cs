using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Pots.Calibration;

/// <summary>Something known to have happened to a pot that its parameters may not have survived.</summary>
/// <param name="Hours">After the start of the record.</param>
/// <param name="What">In words ("repotted", "divided").</param>
/// <param name="NewMedium">The medium was renewed: what it taught about base and salt is over.</param>
/// <param name="Start">What the pot held right after, where it is known; null leaves it as it ran on.</param>
public sealed record KnownChange(double Hours, string What, bool NewMedium, PotState? Start = null);

/// <summary>The air of a pot from an hour of its record on.</summary>
/// <param name="FromHours">After the start of the record; below 0 for what began before it.</param>
/// <param name="Climate">Its mean until the next.</param>
public sealed record AirSpell(double FromHours, PotClimate Climate);

/// <summary>All that is on record of one pot: what a fit reads.</summary>
public sealed record PotHistory
{
    public required PotSetup Setup { get; init; }
    /// <summary>The air it stands in now, and stood in where <see cref="Air"/> says nothing else.</summary>
    public required PotClimate Climate { get; init; }

    /// <summary>The air of other times, in order; each holds until the next. What a pot loses, and its plant takes up, by the season is the season's and not the pot's.</summary>
    public IReadOnlyList<AirSpell> Air { get; init; } = [];

    /// <summary>What the pot held at hour 0, as the data sheet counts base and salt.</summary>
    public required PotState Start { get; init; }

    /// <summary>In any order.</summary>
    public IReadOnlyList<PotEvent> Events { get; init; } = [];

    /// <summary>In any order.</summary>
    public IReadOnlyList<PotReading> Readings { get; init; } = [];

    public IReadOnlyList<KnownChange> KnownChanges { get; init; } = [];

    /// <summary>The constants nothing fits.</summary>
    public PotParameters Parameters { get; init; } = PotParameters.Default;

    /// <summary>How far the record goes (now), hours; null for the last reading.</summary>
    public double? UntilHours { get; init; }

    public Guid Id => Setup.Id;

    /// <summary>The medium whose pots teach each other.</summary>
    public string MediumId => Setup.Medium.Id;

    /// <summary>Whether light comes to a reservoir.</summary>
    internal bool HasAlgae => Parameters.AlgaeMeqPerLitreDay > 0 && Setup.ReservoirLitres > 0;

    internal PotClimate ClimateAt(double hours)
    {
        var climate = Climate;
        foreach (var spell in Air)
        {
            if (spell.FromHours > hours)
            {
                break;
            }

            climate = spell.Climate;
        }

        return climate;
    }

    internal double LastReadingHours => Readings.Count == 0 ? 0 : Readings.Max(reading => reading.Hours);

    internal void Check()
    {
        Parameters.Check();
        Setup.Check();
        Climate.Check();
        foreach (var spell in Air)
        {
            spell.Climate.Check();
        }

        foreach (var reading in Readings)
        {
            var problems = ReadingEntry.Check(reading.Kind, reading.Value, Setup.ReservoirLitres);
            if (problems.Count > 0)
            {
                throw new PotInputException(problems[0].Field, reading.Value, problems[0].Message);
            }

            PotInputException.RequireWithin("reading.hours", reading.Hours, 0, 24 * 366 * 20, "hours after the start of the record");
            if (reading.Sigma is { } sigma)
            {
                PotInputException.RequireWithin("reading.sigma", sigma, 1e-6, 5000, "(the reader's error, above zero)");
            }
        }
    }
}

/// <summary>Bare medium that stood in a known water: what it gave to it. It counts as a pot without a plant whose only readings are these.</summary>
/// <remarks>pH alone in pure water says little; alkalinity and EC gained say how much base and salt a litre gives. New clay also leaches salt.</remarks>
public sealed record SoakTest
{
    public required Guid Id { get; init; }
    public required Medium Medium { get; init; }

    /// <summary>Medium soaked, litres.</summary>
    public required double MediumLitres { get; init; }

    /// <summary>Water it was soaked in, litres.</summary>
    public required double WaterLitres { get; init; }

    /// <summary>That water, mol per kg.</summary>
    public required ComponentAmounts WaterMolPerKgWater { get; init; }
    public double Hours { get; init; } = 24;
    public double Celsius { get; init; } = 21;

    /// <summary>EC at the end, µS/cm at 25 °C; null when not read.</summary>
    public double? EcMicrosiemensPerCm { get; init; }
    public double? PH { get; init; }

    /// <summary>Alkalinity at the end, meq/L (drops for KH times 0.357); null when not read.</summary>
    public double? AlkalinityMeqPerLitre { get; init; }

    /// <summary>The soak as the fit sees it.</summary>
    /// <remarks>
    /// The exchange is first order in the surface of grains per litre of water, so the rate is the data sheet's times the water a litre of medium
    /// holds over the water it was soaked in. It stands open to outdoor air, and nothing evaporates that counts.
    /// </remarks>
    public PotHistory AsHistory()
    {
        PotInputException.RequireWithin("soak.mediumLitres", MediumLitres, 0.02, 20, "litres");
        PotInputException.RequireWithin("soak.waterLitres", WaterLitres, 0.05 * MediumLitres, 50 * MediumLitres, "litres, a twentieth to fifty times the medium");
        PotInputException.RequireWithin("soak.hours", Hours, 1, 24 * 30, "hours");
        var perLitre = WaterLitres / MediumLitres;
        var thinner = Medium.WaterHeldLitresPerLitre / perLitre;
        var setup = new PotSetup
        {
            Id = Id,
            Medium = Medium with { WaterHeldLitresPerLitre = perLitre, ExchangePerDay = Medium.ExchangePerDay * thinner, WetSurfaceShare = 0 },
            MediumLitres = MediumLitres,
            Culture = Culture.OpenMix,
            LeafAreaSquareMetres = 0,
        };
        var readings = new List<PotReading>();
        void Add(ReadingKind kind, double? value)
        {
            if (value is { } read)
            {
                readings.Add(new PotReading(Hours, kind, read));
            }
        }

        Add(ReadingKind.MediumEc, EcMicrosiemensPerCm);
        Add(ReadingKind.MediumPH, PH);
        Add(ReadingKind.MediumAlkalinity, AlkalinityMeqPerLitre);
        return new PotHistory
        {
            Setup = setup,
            Climate = new PotClimate { AirTemperatureCelsius = Celsius, RelativeHumidityPercent = 100, Log10PotPCO2Atmospheres = -3.4 },
            Start = PotState.FilledWith(setup, WaterMolPerKgWater),
            Readings = readings,
        };
    }
}
