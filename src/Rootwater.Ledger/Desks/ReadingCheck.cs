using System.Globalization;
using Rootwater.Growing;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Ledger.Desks;

/// <summary>What a pen can have read.</summary>
internal static class ReadingCheck
{
    /// <exception cref="EntryException">Nothing was read, or no pen reads this.</exception>
    public static void Refuse(NewCanReading reading, CanPlan card)
    {
        var problems = new List<EntryProblem>();
        var expected = card.Steps.FirstOrDefault(step => step.Number == reading.AfterStep)?.EcMicrosiemensPerCm ?? card.EcMicrosiemensPerCm;
        Likely(ReadingKind.MediumEc, reading.EcMicrosiemensPerCm, expected);
        Likely(ReadingKind.MediumPH, reading.PH, null);
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

        // What cannot be comes back with what was probably meant.
        void Likely(ReadingKind kind, double? value, Expected? band)
        {
            if (value is { } read)
            {
                problems.AddRange(ReadingEntry.Check(kind, read, expected: band).Where(problem => problem.Severity == Severity.Error).Select(problem => new EntryProblem(problem.Field, problem.Value, problem.Message)));
            }
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
