using System.Globalization;

namespace Rootwater.Growing.Mixing;

/// <summary>One band that a can is to meet, for one or several groups at once.</summary>
/// <param name="Measure">What is measured; the pH itself for pH (see <see cref="IsPH"/>).</param>
/// <param name="Band">In the unit of the want.</param>
/// <param name="Weight">Its weight in the objective, shares of plants included.</param>
internal sealed record Goal(Measure Measure, Band Band, double Weight)
{
    /// <summary>A band narrower than this share of its ideal is judged as if it were this wide, so that a point band has a scale.</summary>
    private const double NarrowestShare = 0.02;

    public bool IsPH => Measure.Kind == MeasureKind.ProtonsShort;

    /// <summary>From the ideal down to the low end.</summary>
    public double WidthBelow => Math.Max(Band.Ideal - Band.Low, Narrowest);

    /// <summary>From the ideal up to the high end.</summary>
    public double WidthAbove => Math.Max(Band.High - Band.Ideal, Narrowest);
    private double Narrowest => IsPH ? 0.05 : Math.Max(1e-3, NarrowestShare * Band.Ideal);

    /// <summary>Half-widths off the ideal.</summary>
    public double Deviation(double value) => value < Band.Ideal ? (Band.Ideal - value) / WidthBelow : (value - Band.Ideal) / WidthAbove;

    /// <summary>Half-widths outside the band.</summary>
    public double Outside(double value) => value < Band.Low ? (Band.Low - value) / WidthBelow : value > Band.High ? (value - Band.High) / WidthAbove : 0;

    public double Penalty(double value) => Weight * (Deviation(value) + PlanWeights.OutsideFactor * Outside(value));
}

/// <summary>What one can is to do: the goals of those it serves and the strictest of their hard limits.</summary>
/// <param name="Goals">Bands with their weights.</param>
/// <param name="Limits">The strictest.</param>
/// <param name="Share">The weight of those it serves: 1 in a can by itself, their share of all plants where cans are compared.</param>
internal sealed record CanGoal(IReadOnlyList<Goal> Goals, HardLimits Limits, double Share = 1)
{
    /// <summary>Every pH that a goal names.</summary>
    public IEnumerable<double> PHLevels => Goals.Where(goal => goal.IsPH).SelectMany(goal => new[] { goal.Band.Low, goal.Band.Ideal, goal.Band.High });

    /// <summary>Where to take EC and saturation before a can has been solved.</summary>
    public double WorkingPH
    {
        get
        {
            var goals = Goals.Where(goal => goal.IsPH).ToList();
            return goals.Count == 0 ? 6 : goals.Sum(goal => goal.Weight * goal.Band.Ideal) / goals.Sum(goal => goal.Weight);
        }
    }

    /// <summary>For some groups; equal bands are added up, so that the program stays small.</summary>
    /// <param name="groups">Those it serves with their share of the whole round (all groups together weigh 1).</param>
    public static CanGoal For(IReadOnlyList<(WantGroup Group, double Share)> groups)
    {
        var goals = new Dictionary<(Measure, Band), double>();
        foreach (var (group, share) in groups)
        {
            foreach (var (measure, band, weight) in GoalsOf(group))
            {
                goals[(measure, band)] = goals.GetValueOrDefault((measure, band)) + weight * share;
            }
        }

        return new CanGoal([.. goals.Select(goal => new Goal(goal.Key.Item1, goal.Key.Item2, goal.Value))], Strictest(groups.Select(group => group.Group.Want.Limits)), groups.Sum(group => group.Share));
    }

    /// <summary>The goals of one group, unweighted by its share.</summary>
    public static IEnumerable<(Measure Measure, Band Band, double Weight)> GoalsOf(WantGroup group)
    {
        foreach (var (nutrient, band) in group.Want.FeedMgPerLitre.OrderBy(pair => pair.Key))
        {
            yield return Goal(Measure.Of(nutrient), band);
        }

        yield return Goal(new Measure(MeasureKind.TotalNitrogen), group.Want.TotalNitrogenMgPerLitre);
        yield return Goal(new Measure(MeasureKind.Ec), group.Want.EcMicrosiemensPerCm);
        yield return Goal(new Measure(MeasureKind.ProtonsShort), group.PourPH);

        static (Measure, Band, double) Goal(Measure measure, Band band) => (measure, band, WeightOf(measure));
    }

    public static HardLimits Strictest(IEnumerable<HardLimits> all)
    {
        var limits = all.Distinct().ToList();
        return limits.Count == 1 ? limits[0] : new HardLimits
        {
            SodiumMgPerLitre = limits.Min(limit => limit.SodiumMgPerLitre),
            ChlorideMgPerLitre = limits.Min(limit => limit.ChlorideMgPerLitre),
            BoronMgPerLitre = limits.Min(limit => limit.BoronMgPerLitre),
            ZincMgPerLitre = limits.Min(limit => limit.ZincMgPerLitre),
            CopperMgPerLitre = limits.Min(limit => limit.CopperMgPerLitre),
            ManganeseMgPerLitre = limits.Min(limit => limit.ManganeseMgPerLitre),
            IronMgPerLitre = limits.Min(limit => limit.IronMgPerLitre),
            MolybdenumMgPerLitre = limits.Min(limit => limit.MolybdenumMgPerLitre),
            AmmoniumShareOfNitrogen = limits.Min(limit => limit.AmmoniumShareOfNitrogen),
            UreaShareOfNitrogen = limits.Min(limit => limit.UreaShareOfNitrogen),
            EcMicrosiemensPerCm = limits.Min(limit => limit.EcMicrosiemensPerCm),
            BiuretMgPerLitre = limits.Min(limit => limit.BiuretMgPerLitre),
            Source = string.Join("; ", limits.Select(limit => limit.Source).Distinct()),
        };
    }

    /// <summary>What a measure is called on the card, and its unit.</summary>
    public static (string What, string Unit) Words(Measure measure) => measure.Kind switch
    {
        MeasureKind.TotalNitrogen => ("nitrogen", "mg/L"),
        MeasureKind.Ec => ("EC", "µS/cm"),
        MeasureKind.ProtonsShort => ("pH as poured", "pH"),
        MeasureKind.Nutrient => (Nutrients.NameOf((Nutrient)measure.Index), "mg/L"),
        _ => (string.Create(CultureInfo.InvariantCulture, $"saturation of {(Chemistry.Saturation.Mineral)measure.Index}"), "SI"),
    };

    /// <summary>The measure behind a name on the card; null for none.</summary>
    public static Measure? MeasureOf(string what)
    {
        Measure?[] all = [new Measure(MeasureKind.TotalNitrogen), new Measure(MeasureKind.Ec), new Measure(MeasureKind.ProtonsShort), .. Enum.GetValues<Nutrient>().Select(nutrient => (Measure?)Measure.Of(nutrient))];
        return all.FirstOrDefault(measure => Words(measure!.Value).What == what);
    }

    /// <summary>The weight of a measure for one group.</summary>
    public static double WeightOf(Measure measure) => measure.Kind switch
    {
        MeasureKind.Nutrient => PlanWeights.Of((Nutrient)measure.Index),
        MeasureKind.TotalNitrogen => PlanWeights.TotalNitrogen,
        MeasureKind.Ec => PlanWeights.Ec,
        _ => PlanWeights.PH,
    };

    /// <summary>The value of a measure in a solved can.</summary>
    public static double Value(Measure measure, SolvedCan can) => measure.Kind switch
    {
        MeasureKind.Nutrient => can.MgPerLitre[(Nutrient)measure.Index],
        MeasureKind.TotalNitrogen => can.MgPerLitre.TotalNitrogen,
        MeasureKind.Ec => can.EcMicrosiemensPerCm,
        MeasureKind.ProtonsShort => can.PH,
        _ => can.Solution.SaturationIndex((Chemistry.Saturation.Mineral)measure.Index) ?? double.NegativeInfinity,
    };
}
