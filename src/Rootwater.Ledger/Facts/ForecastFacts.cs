using System.Text.Json.Serialization;
using Rootwater.Growing;

namespace Rootwater.Ledger.Facts;

/// <summary>The root forecast believed when a plant was fed: written with the feed and never computed again. Subject: the plant.</summary>
/// <remarks>Version 1 knew no <see cref="Corrected"/>: what it believed is what the model said.</remarks>
/// <param name="PlantId">The plant.</param>
/// <param name="PotId">Its pot at the time.</param>
/// <param name="CanId">The can it was fed from.</param>
/// <param name="FeedFactId">The fact that records the feed; where that is taken back, this forecast counts no more.</param>
/// <param name="Model">The model and its version.</param>
/// <param name="Parameters">The first twelve hexadecimal digits of SHA-256 over setup, climate and parameters as JSON: two forecasts with the same digits are of the same model of the same pot.</param>
/// <param name="Moments">What the model said, at 0, 1, 2, 3, 5, 7, 10 and 14 days; empty where none could be made.</param>
/// <param name="WhyNone">Why there is none; null where there is one.</param>
/// <param name="Corrected">What the record up to then had to say of the model; null where it was not asked.</param>
[FactKind("root.forecast", 2)]
public sealed record RootForecastBelieved(
    Guid PlantId, Guid PotId, Guid CanId, Guid FeedFactId, string Model, string? Parameters, IReadOnlyList<BelievedMoment> Moments, string? WhyNone,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] BandCorrections? Corrected = null) : FactPayload
{
    /// <summary>What was believed: the model's moments, corrected by the record.</summary>
    public IReadOnlyList<BelievedMoment> Believed =>
        Corrected is null ? Moments : [.. Moments.Select(moment => moment with
        {
            PH = At(Foretold.RootPH, moment),
            EcMicrosiemensPerCm = At(Foretold.RootEc, moment),
            ReservoirLitres = At(Foretold.Level, moment),
        })];

    internal ForecastScale Scale => new(IsFitted(Model), Moments.Count > 0 ? Moments[0].ReservoirLitres.Value : 0);

    /// <summary>Whether a model is one that readings taught.</summary>
    internal static bool IsFitted(string model) => model.Contains("fitted", StringComparison.Ordinal);

    /// <summary>Mean of the pH at the root over the first days, straight between the moments. A mean of a forecast to read it by; the model itself never averages pH.</summary>
    public double MeanPH(double days) => Mean(days, moment => moment.PH.Value);

    /// <summary>Mean EC at the root over the first days, µS/cm at 25 °C, likewise.</summary>
    public double MeanEcMicrosiemensPerCm(double days) => Mean(days, moment => moment.EcMicrosiemensPerCm.Value);

    private Expected At(Foretold what, BelievedMoment moment) => Scale.Corrected(what, ForecastScale.Of(what, moment), moment.Day, Corrected);

    private double Mean(double days, Func<BelievedMoment, double> of)
    {
        var moments = Believed;
        var (sum, last) = (0.0, moments[0]);
        foreach (var moment in moments.Skip(1).Where(moment => moment.Day <= days))
        {
            sum += (moment.Day - last.Day) * (of(moment) + of(last)) / 2;
            last = moment;
        }

        return last.Day > 0 ? sum / last.Day : of(last);
    }
}

/// <summary>The water in a pot on one day of a forecast.</summary>
/// <param name="Day">Since the feed.</param>
/// <param name="PH">At the root, with its band.</param>
/// <param name="EcMicrosiemensPerCm">At the root, at 25 °C, with its band.</param>
/// <param name="MediumLitres">Water in the medium, with the band that the spread of evaporation gives.</param>
/// <param name="ReservoirLitres">Water in the reservoir, likewise.</param>
public sealed record BelievedMoment(double Day, Expected PH, Expected EcMicrosiemensPerCm, Expected MediumLitres, Expected ReservoirLitres);

/// <summary>How a model's bands are corrected by what its earlier recorded forecasts of pots like this one were off by.</summary>
public sealed record BandCorrections(BandCorrection PH, BandCorrection Ec, BandCorrection Level);

/// <summary>Of one value.</summary>
/// <param name="Shift">What its middle is moved by a week after the feed and later; evenly from nothing at the feed. pH, the logarithm of an EC, or a share of a full reservoir.</param>
/// <param name="Factor">What its half band, a pen's error included, is multiplied by: 1 or more.</param>
/// <param name="Met">Readings met earlier that it stands on; with none it is the stated start.</param>
public sealed record BandCorrection(double Shift, double Factor, int Met);
