using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Mixing.Reconciliation;

/// <summary>One dose of a can as it was given.</summary>
public sealed record CanDose
{
    public required Guid ProductId { get; init; }

    /// <summary>The lot it came from; the product where lots are not told apart.</summary>
    public required Guid LotId { get; init; }
    public required string Name { get; init; }

    /// <summary>Grams in the can (liquids: millilitres times density).</summary>
    public required double Grams { get; init; }
    public required ComponentAmounts MolPerKg { get; init; }

    /// <summary>What it was measured with.</summary>
    public required string ToolId { get; init; }
    public bool ByVolume { get; init; }

    /// <summary>One standard deviation of the measuring, grams.</summary>
    public double MeasuringErrorGrams { get; init; } = 0.05;
    public double RelativeUncertainty { get; init; } = 0.02;
    public double PHUncertainty { get; init; } = 0.05;

    /// <summary>Draws water from the air once opened.</summary>
    public bool Hygroscopic { get; init; }
}

/// <summary>Water of a can.</summary>
public sealed record CanWater(string WaterId, string Name, double Litres, ComponentAmounts MolPerKgWater, double RelativeUncertainty = 0.03);

/// <summary>A finished can with what the pens read in it: one line of its history.</summary>
public sealed record CanRecord
{
    public required Guid CanId { get; init; }
    public required DateTimeOffset MixedAt { get; init; }
    public required double Litres { get; init; }
    public required string VesselId { get; init; }
    public required IReadOnlyList<CanDose> Doses { get; init; }
    public required IReadOnlyList<CanWater> Waters { get; init; }
    public double Celsius { get; init; } = 20;

    /// <summary>At 25 °C, µS/cm; null when not read.</summary>
    public double? MeasuredEcMicrosiemensPerCm { get; init; }
    public string EcPenId { get; init; } = "EC pen";

    /// <summary>For sentences; its id where it has no name.</summary>
    public string? EcPenName { get; init; }
    public double? MeasuredPH { get; init; }
    public string PHPenId { get; init; } = "pH pen";
    public string? PHPenName { get; init; }

    internal void Check()
    {
        if (!(Litres is > 0 and <= 1000))
        {
            throw new ArgumentException($"litres: {Litres} cannot be used; expected above 0, at most 1000.");
        }

        if (Waters.Count == 0 || Waters.Sum(water => water.Litres) <= 0)
        {
            throw new ArgumentException("waters: none; expected what the can was filled with.");
        }

        if (MeasuredPH is { } ph && ph is not (>= 1 and <= 13))
        {
            throw new ArgumentException($"pH: {ph} cannot be used; {(ph is >= 30 and <= 100 ? $"{ph / 10:0.0##} was probably meant; " : "")}expected 1 to 13.");
        }

        if (MeasuredEcMicrosiemensPerCm is { } ec && ec is not (>= 2 and <= 20000))
        {
            throw new ArgumentException($"EC: {ec} cannot be used; {(ec is > 0 and < 2 ? $"{ec} mS/cm, which is {ec * 1000:0} µS/cm, was probably meant; " : "")}expected 2 to 20000 µS/cm.");
        }
    }
}

/// <summary>A pen held into something known.</summary>
public sealed record PenCalibration
{
    public required string PenId { get; init; }

    /// <summary>For sentences; its id where it has no name.</summary>
    public string? PenName { get; init; }
    public required DateTimeOffset At { get; init; }

    /// <summary>An EC standard (µS/cm) or a buffer (pH).</summary>
    public required bool IsEc { get; init; }

    /// <summary>What it is at 25 °C.</summary>
    public required double StandardAt25 { get; init; }

    /// <summary>What the pen read: EC compensated to 25 °C, pH as shown.</summary>
    public required double Reading { get; init; }
    public double Celsius { get; init; } = 25;

    /// <summary>The pen was set to the standard afterwards: what was known of its error is over.</summary>
    public bool Adjusted { get; init; }
}
