using System.Globalization;
using Rootwater.Growing.Mixing;

namespace Rootwater.Ledger.Desks;

/// <summary>What a pen can have read.</summary>
internal static class ReadingCheck
{
    private const double MostMicrosiemensPerCm = 20_000;

    /// <exception cref="EntryException">Nothing was read, or no pen reads this.</exception>
    public static void Refuse(NewCanReading reading, CanPlan card)
    {
        var problems = new List<EntryProblem>();
        Range("EC", reading.EcMicrosiemensPerCm, 0, MostMicrosiemensPerCm, "0 to 20,000 µS/cm (20 mS/cm)");
        Range("pH", reading.PH, 0, 14, "a pH from 0 to 14");
        Range("temperature", reading.TemperatureCelsius, 0, 50, "0 to 50 °C");
        if (reading.EcMicrosiemensPerCm is null && reading.PH is null && reading.TemperatureCelsius is null)
        {
            problems.Add(new EntryProblem("reading", null, "at least one of EC, pH and temperature"));
        }

        if (reading.AfterStep is { } step && card.Steps.All(known => known.Number != step))
        {
            problems.Add(new EntryProblem("after step", step.ToString(CultureInfo.InvariantCulture), $"a step on the card, 1 to {card.Steps.Count}"));
        }

        if (problems.Count > 0)
        {
            throw new EntryException(problems);
        }

        void Range(string field, double? value, double low, double high, string accepted)
        {
            if (value is { } read && !(read >= low && read <= high))
            {
                problems.Add(new EntryProblem(field, read.ToString(CultureInfo.InvariantCulture), accepted));
            }
        }
    }
}
