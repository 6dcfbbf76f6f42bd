using System.Globalization;

namespace Rootwater.Ledger.Demo.SixYears;

/// <summary>A line of data/demo/truth.csv.</summary>
public sealed record TruthLine(string Key, TruthSort Sort, double Value, string Unit, string Statement);

/// <summary>What a line of the truth is.</summary>
public enum TruthSort
{
    Effect,
    NoEffect,
    Parameter,
}

/// <summary>What is true in the six-year demo; the generator reads its numbers from here, so that what evidence is graded against cannot drift from what was done.</summary>
public static class Truth
{
    private static readonly Lazy<IReadOnlyDictionary<string, TruthLine>> s_lines = new(() => DemoTable.Read("truth.csv").Select(row => new TruthLine(
        row["key"],
        row["sort"] switch { "effect" => TruthSort.Effect, "no effect" => TruthSort.NoEffect, _ => TruthSort.Parameter },
        double.Parse(row["value"], CultureInfo.InvariantCulture),
        row["unit"],
        row["statement"])).ToDictionary(line => line.Key));

    public static IReadOnlyDictionary<string, TruthLine> Lines => s_lines.Value;

    public static double Of(string key) => Lines[key].Value;
}
