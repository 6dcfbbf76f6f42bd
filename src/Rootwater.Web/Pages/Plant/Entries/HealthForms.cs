using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;
using Rootwater.Web.Texts;

namespace Rootwater.Web.Pages.Plant.Entries;

/// <summary>Sheets for quarantine, virus tests and looks for pests.</summary>
public static class HealthForms
{
    /// <summary>Six weeks: long enough for most scale and mite eggs to hatch and be seen. Common practice, no source.</summary>
    public const int UsualQuarantineDays = 42;

    /// <summary>Begins a quarantine, or ends the one that lasts.</summary>
    public static EntryForm Quarantine(EntryContext context) => context.Life.Card.Quarantine is { Ended: null }
        ? new EntryForm(
            EntryKind.Quarantine, [new FormField("why", FieldShape.Text) { Hint = "HintQuarantineOut" }],
            (form, life, _) => [new Draft(new QuarantineEnded(life.Life.Card.Id, form.Text("why")))])
        : new EntryForm(
            EntryKind.Quarantine,
            [new FormField("days", FieldShape.Number) { Value = "42", Unit = "d" }, new FormField("why", FieldShape.Text) { Hint = "HintQuarantineIn" }],
            (form, life, read) => [new Draft(new QuarantineBegun(life.Life.Card.Id, read.Count("days", form.Text("days"), 1, 365) ?? UsualQuarantineDays, form.Required("why", "say why, such as new on the bench.")))]);

    public static EntryForm Virus(PlantWords say) => new(
        EntryKind.Virus,
        [
            new FormField("virus", FieldShape.Text) { Hint = "HintVirus" },
            new FormField("method", FieldShape.Choice) { Options = Words.Of<VirusTestMethod>(say.Method), Value = nameof(VirusTestMethod.Strip) },
            new FormField("result", FieldShape.Choice) { Options = Words.Of<VirusTestResult>(say.Result), Hint = "HintResult" },
            new FormField("note", FieldShape.Words),
        ],
        (form, context, read) =>
        {
            if (form.Text("virus") is null)
                read.Refuse("virus", null, "name the virus that was looked for, such as CymMV or ORSV.");
            if (form.Choice<VirusTestResult>("result") is not { } result)
            {
                read.Refuse("result", null, "choose what the test said.");
                return [];
            }

            return [new Draft(new VirusTested(context.Life.Card.Id, form.Text("virus") ?? "", form.Choice<VirusTestMethod>("method") ?? VirusTestMethod.Other, result, form.Text("note")))];
        });

    public static EntryForm Pest() => new(
        EntryKind.Pest, [new FormField("found", FieldShape.Text) { Hint = "HintFound" }, new FormField("note", FieldShape.Words)],
        (form, context, _) => [new Draft(new PestChecked(context.Life.Card.Id, [.. (form.Text("found") ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)], form.Text("note")))]);
}
