using Rootwater.Growing;
using Rootwater.Growing.Mixing;
using Spectre.Console;

namespace Rootwater.Cli;

/// <summary>A plan as tables for people.</summary>
internal static class CanTables
{
    public static void Write(IAnsiConsole console, PlanOutcome outcome)
    {
        if (outcome.Plan is { } plan)
        {
            foreach (var recipe in plan.Concentrates)
            {
                Write(console, recipe);
            }

            foreach (var can in plan.Cans)
            {
                Write(console, can);
            }

            var gap = plan.RelativeGap <= 0 ? "proven best within the linearised problem" : $"at most {Number(100 * plan.RelativeGap, "0.#")} % from the best possible within the linearised problem";
            console.MarkupLineInterpolated($"Cost {plan.Cost:0.00}; {gap}; planned in {Number(plan.Took.TotalMilliseconds, "0")} ms.");
        }

        foreach (var unmet in outcome.Unmet)
        {
            console.MarkupLineInterpolated($"[bold]Not met[/] {unmet.Group}, {unmet.What}: {Number(unmet.Reached, "0.##")} {unmet.Unit}, wanted {Number(unmet.Low, "0.##")} to {Number(unmet.High, "0.##")}. {unmet.WayOut}");
        }
    }

    private static void Write(IAnsiConsole console, ConcentrateRecipe recipe)
    {
        console.MarkupLineInterpolated($"[bold]Concentrate {recipe.Name}[/], {Number(recipe.Litres, "0.###")} L: {recipe.Reason}");
        foreach (var (_, name, grams) in recipe.Weigh)
        {
            console.MarkupLineInterpolated($"  {Number(grams, "0.##")} g {name}");
        }

        foreach (var caution in recipe.Cautions)
        {
            console.MarkupLineInterpolated($"  [bold]! {caution}[/]");
        }

        console.WriteLine();
    }

    public static void Write(IAnsiConsole console, CanPlan can)
    {
        console.MarkupLineInterpolated($"[bold]Can {can.Letter}[/], {can.Vessel}, fill to {Number(can.Litres, "0.##")} L, at {Number(can.TemperatureCelsius, "0.#")} °C");
        var steps = new Table().Border(TableBorder.Rounded).AddColumn("").AddColumn("what").AddColumn(new TableColumn("amount").RightAligned())
            .AddColumn(new TableColumn("EC mS/cm").RightAligned()).AddColumn(new TableColumn("pH").RightAligned());
        foreach (var step in can.Steps)
        {
            steps.AddRow(
                Markup.Escape($"{step.Number}"),
                Markup.Escape(step.What),
                Markup.Escape($"{Number(step.Amount, "0.###")} {step.Unit}"),
                Markup.Escape(Band(step.EcMicrosiemensPerCm, 0.001, "0.00")),
                Markup.Escape(Band(step.PH, 1, "0.0")));
        }

        console.Write(steps);
        foreach (var step in can.Steps)
        {
            console.MarkupLineInterpolated($"  {step.Number}: {step.Reason}.");
        }

        foreach (var caution in can.Steps.SelectMany(step => step.Cautions.Select(caution => (caution, step.Number))).GroupBy(each => each.caution, each => each.Number))
        {
            console.MarkupLineInterpolated($"  [bold]! step {string.Join(", ", caution)}: {caution.Key}[/]");
        }

        console.MarkupLineInterpolated($"Pens: EC {Band(can.EcMicrosiemensPerCm, 0.001, "0.00")} mS/cm ({Number(can.EcOnPenMicrosiemensPerCm / 1000, "0.00")} on your pen at this temperature), pH {Band(can.PH, 1, "0.0")} now, {Number(can.PHAfterADay, "0.0")} tomorrow, {Number(can.PHInBalanceWithAir, "0.0")} once in balance with the air.");
        if (can.ClosestMineral is { } mineral && can.WorstSaturationIndex is { } index)
        {
            var verdict = index < 0 ? "nothing falls out" : "this can fall out";
            console.MarkupLineInterpolated($"Nearest to falling out along the way: {mineral}, index {Number(index, "+0.0;-0.0")} ({verdict}).");
        }

        if (can.AgeLimit is { } age)
        {
            console.MarkupLineInterpolated($"Pour within {Number(age.Days, "0.#")} days: {age.Why}.");
        }

        foreach (var served in can.Serves)
        {
            var bands = new Table().Border(TableBorder.Simple).Title(Markup.Escape($"{served.Group}: {served.Portions.Count} plants, {Number(served.Portions.Sum(portion => portion.Millilitres) / 1000, "0.##")} L"))
                .AddColumn("").AddColumn(new TableColumn("brings").RightAligned()).AddColumn(new TableColumn("wanted").RightAligned()).AddColumn("");
            foreach (var band in served.Bands)
            {
                bands.AddRow(Markup.Escape(band.What), Markup.Escape($"{Number(band.Value, "0.#")} {band.Unit}"), Markup.Escape($"{Number(band.Band.Low, "0.#")} to {Number(band.Band.High, "0.#")}"), band.Met ? "met" : "[bold]not met[/]");
            }

            console.Write(bands);
            console.MarkupLineInterpolated($"Walk: {string.Join(", ", served.Portions.Select(portion => $"#{portion.Number} {Number(portion.Millilitres, "0")} mL"))}");
        }

        console.WriteLine();
    }

    private static string Band(Expected expected, double scale, string format) =>
        $"{Number(expected.Value * scale, format)} ({Number(expected.Low * scale, format)} to {Number(expected.High * scale, format)})";

    private static string Number(double value, string format) => CanCommand.Number(value, format);
}
