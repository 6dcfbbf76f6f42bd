using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>What tests say of a plant, in words. A positive outweighs any number of negatives, and one negative strip is no clearance.</summary>
internal static class VirusWords
{
    /// <param name="tests">The plant's own (of: null) and those of the plants it was taken from, by their number.</param>
    /// <returns>Null where nothing was ever tested.</returns>
    public static string? Of(IReadOnlyList<(VirusTest Test, int? Of)> tests)
    {
        if (tests.Count == 0)
        {
            return null;
        }

        if (Latest(tests, VirusTestResult.Positive) is { } positive)
        {
            return $"positive: {Say(positive)}";
        }

        if (Latest(tests, VirusTestResult.Unclear) is { } unclear && !tests.Any(test => test.Test.Virus == unclear.Test.Virus && test.Test.When.Earliest > unclear.Test.When.Latest))
        {
            return $"unclear: {Say(unclear)}";
        }

        var negative = tests.Where(test => test.Test.Result == VirusTestResult.Negative).ToList();
        return negative is [{ Test.Method: VirusTestMethod.Strip } only]
            ? $"one negative strip, no clearance: {Say(only)}"
            : FactWords.Say($"negative in {negative.Count} {(negative.Count == 1 ? "test" : "tests")}: last {Say(negative.MaxBy(test => test.Test.When.Latest))}");
    }

    private static (VirusTest Test, int? Of)? Latest(IEnumerable<(VirusTest Test, int? Of)> tests, VirusTestResult result) =>
        tests.Where(test => test.Test.Result == result).Select(test => ((VirusTest, int?)?)test).MaxBy(test => test!.Value.Item1.When.Latest);

    private static string Say((VirusTest Test, int? Of) test) =>
        FactWords.Say($"{test.Test.Virus}, {FactWords.Of(test.Test.Method)}, {test.Test.When.Earliest:yyyy-MM-dd}{(test.Of is { } number ? $", of no. {number}" : "")}");
}
