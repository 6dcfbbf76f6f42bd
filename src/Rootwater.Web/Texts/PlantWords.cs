using System.Globalization;
using Microsoft.Extensions.Localization;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;

namespace Rootwater.Web.Texts;

/// <summary>The bench's words for what is stored as names: states, leaves, losses, dates known to the month.</summary>
public sealed class PlantWords(IStringLocalizer<TermText> words)
{
    private static readonly CultureInfo s_english = CultureInfo.GetCultureInfo("en");

    public string State(PlantState state) => words["State" + state];

    public string Sign(LeafSign sign) => words["Sign" + sign];

    public string Part(LeafPart part) => words["Part" + part];

    public string Loss(LeafLoss cause) => words["Loss" + cause];

    public string End(SpikeEnd cause) => words["End" + cause];

    public string Habit(Habit habit) => words["Habit" + habit];

    public string Form(GrowthForm form) => words["Form" + form];

    public string Culture(Culture culture) => words["Culture" + culture];

    public string Raised(Propagation raised) => words["Raised" + raised];

    public string Method(VirusTestMethod method) => words["Method" + method];

    public string Result(VirusTestResult result) => words["Result" + result];

    public string Pouring(Pouring what) => words["Poured" + what];

    public string Of(ReadingOf of) => words["Of" + of];

    public string From(ReadingFrom from) => words["From" + from];

    /// <summary>"bulb 4"; the one stem of a monopodial needs no number.</summary>
    public string Growth(Growth growth) => IsTheStem(growth) ? words["FormStem"] : words["GrowthNumber", Form(growth.Form), growth.Number];

    /// <summary>"bulb 4, leaf 1"; "leaf 3" on the one stem.</summary>
    public string Leaf(Growth growth, Leaf leaf) => IsTheStem(growth) ? words["LeafNumber", leaf.Position] : words["LeafOf", Growth(growth), leaf.Position];

    /// <summary>A span of days as exactly as it is known: a day, a month, a year, or "between … and …".</summary>
    public string When(DaySpan span) => span switch
    {
        { IsOneDay: true } => Day(span.Earliest),
        _ when span.Earliest is { Day: 1, Month: 1 } && span.Latest == new DateOnly(span.Earliest.Year, 12, 31) => span.Earliest.Year.ToString(CultureInfo.InvariantCulture),
        _ when span.Earliest.Day == 1 && span.Latest == span.Earliest.AddMonths(1).AddDays(-1) => span.Earliest.ToString("MMMM yyyy", s_english),
        _ => words["Between", Day(span.Earliest), Day(span.Latest)],
    };

    public string When(FactWhen when) => when.Precision == WhenPrecision.Minute
        ? when.Earliest.ToString("d MMM yyyy, HH:mm", s_english)
        : When(new DaySpan(DateOnly.FromDateTime(when.Earliest), DateOnly.FromDateTime(when.Latest)));

    /// <summary>What colour goes with a state: flowering, water and rest, or growing.</summary>
    public static string Tone(PlantState state) => state switch
    {
        PlantState.InSpike or PlantState.Flowering or PlantState.Sheath => "spike",
        PlantState.NewRoots => "water",
        PlantState.Recovering => "clay",
        _ => "root",
    };

    private static bool IsTheStem(Growth growth) => growth is { Form: GrowthForm.Stem, Number: 1 };

    private static string Day(DateOnly day) => day.ToString("d MMM yyyy", s_english);
}
