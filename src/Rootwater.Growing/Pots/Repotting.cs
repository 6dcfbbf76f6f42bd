using System.Globalization;

namespace Rootwater.Growing.Pots;

/// <summary>One pot as the repotting plan sees it.</summary>
public sealed record RepottingCandidate
{
    public required PotSetup Setup { get; init; }
    public required string Name { get; init; }

    /// <summary>When it was last potted; null where nobody knows.</summary>
    public DateOnly? PottedOn { get; init; }

    /// <summary>Share of the fresh medium's base that is left, from the calibration; null where it cannot tell.</summary>
    public Expected? BaseLeft { get; init; }

    /// <summary>New roots are showing: the window is open.</summary>
    public bool NewRoots { get; init; }

    /// <summary>In spike or flowering: repotting would cost it.</summary>
    public bool InFlower { get; init; }

    /// <summary>In a dry or cool rest.</summary>
    public bool AtRest { get; init; }

    /// <summary>Litres of medium it would get; null for as much as now.</summary>
    public double? NextMediumLitres { get; init; }
}

/// <summary>Whether and when a pot should be renewed.</summary>
/// <param name="Candidate">Which.</param>
/// <param name="Due">How urgent, 0 not at all to 1 overdue; from age and base, whichever is further.</param>
/// <param name="Now">Due, and its window is open.</param>
/// <param name="Words">Why, and what it waits for.</param>
public sealed record RepottingAdvice(RepottingCandidate Candidate, double Due, bool Now, string Words);

/// <summary>What to have ready.</summary>
/// <param name="Medium">Which medium.</param>
/// <param name="Litres">How much, with a tenth for what settles.</param>
/// <param name="SoakLitres">Water for one soak of it.</param>
/// <param name="Soaks">How many soaks until the salt that leaches is down to what the medium in use has.</param>
/// <param name="Words">In a sentence.</param>
public sealed record MediumWanted(Medium Medium, double Litres, double SoakLitres, int Soaks, string Words);

/// <summary>Which pots are due for new medium, and how much of it to soak.</summary>
public static class Repotting
{
    // Years a medium lasts. Common practice, no source: clay does not rot but silts up and salts up; bark and moss decay.
    private static readonly Dictionary<string, double> s_years = new() { ["expanded-clay"] = 4, ["expanded-clay-new"] = 4, ["bark-mix"] = 2, ["sphagnum"] = 1 };
    private const double UsualYears = 3;

    // A tenth of its base left, and the medium no longer holds the pH; from the forecast's own note.
    private const double SpentShare = 0.1;
    private const double DueFrom = 0.8;

    // Salt that a soaked medium may still leach, as much as the sheet of clay in use says, meq per litre.
    private const double QuietSaltMeqPerLitre = 0.2;
    private const int MostSoaks = 7;

    /// <summary>All pots, the most urgent first.</summary>
    public static IReadOnlyList<RepottingAdvice> Judge(IEnumerable<RepottingCandidate> pots, DateOnly today) =>
        [.. pots.Select(pot => Judge(pot, today)).OrderByDescending(advice => advice.Now).ThenByDescending(advice => advice.Due)];

    private static RepottingAdvice Judge(RepottingCandidate pot, DateOnly today)
    {
        var medium = pot.Setup.Medium;
        var years = s_years.GetValueOrDefault(medium.Id, UsualYears);
        var age = pot.PottedOn is { } potted ? (today.DayNumber - potted.DayNumber) / 365.25 : (double?)null;
        var byAge = age is { } old ? Math.Clamp(old / years, 0, 1) : 0;

        // Only base that is surely spent counts; an interval that reaches to fresh says nothing.
        var byBase = pot.BaseLeft is { } left && medium.BaseMeqPerLitre > 0 ? Math.Clamp((1 - left.High) / (1 - SpentShare), 0, 1) : 0;
        var due = Math.Max(byAge, byBase);
        var waits = pot.InFlower ? "let it flower first" : pot.AtRest ? "let it rest first" : pot.NewRoots ? null : "wait for new roots";
        var why = due < DueFrom
            ? "not due"
            : byBase >= byAge
                ? Say($"its base is nearly spent ({pot.BaseLeft!.Value.Low:0 %} to {pot.BaseLeft.Value.High:0 %} left)")
                : Say($"{age:0.0} years in {medium.Name}");
        var unknown = age is null && pot.BaseLeft is null ? "; when it was potted and what base is left nobody knows" : "";
        return new RepottingAdvice(pot, due, due >= DueFrom && waits is null, due < DueFrom ? $"{pot.Name}: {why}{unknown}." : $"{pot.Name}: {why}; {waits ?? "new roots are showing, now is the time"}.");
    }

    /// <summary>Medium to soak for these pots, by medium.</summary>
    /// <param name="pots">The ones to be renewed.</param>
    /// <param name="hours">How long each soak stands.</param>
    public static IReadOnlyList<MediumWanted> Wanted(IEnumerable<RepottingCandidate> pots, double hours = 24)
    {
        PotInputException.RequireWithin("hours", hours, 1, 24 * 14, "hours");
        return [.. pots.GroupBy(pot => FreshOf(pot.Setup.Medium)).Select(group =>
        {
            var litres = group.Sum(pot => pot.NextMediumLitres ?? pot.Setup.MediumLitres) * 1.1;

            // Each soak takes what comes out in its hours, at the sheet's own rate.
            var soaks = 0;
            for (var salt = group.Key.SaltMeqPerLitre; salt > QuietSaltMeqPerLitre && soaks < MostSoaks; soaks++)
            {
                salt *= Math.Exp(-group.Key.SaltPerDay * hours / 24);
            }

            return new MediumWanted(group.Key, litres, litres, soaks, Say($"{litres:0.0} L of {group.Key.Name}: {(soaks == 0 ? "rinse it" : Say($"soak it {soaks} times for {hours:0} h in as much water, and read alkalinity and EC of each soak: they teach the forecast"))}."));
        })];
    }

    // What is bought is new; the sheet of a medium in use is not what goes into the tub.
    private static Medium FreshOf(Medium medium) => Media.All.FirstOrDefault(each => each.Id == medium.Id + "-new") ?? medium;

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
