using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Mixing.Reconciliation;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>What can be said of a pen and of a calibration.</summary>
internal static class PenChecks
{
    public static void Shape(PenSet said, FactProblems problems)
    {
        if (said.Pen is not { } pen || pen.Id == Guid.Empty)
        {
            problems.Add("pen", null, "a pen with an id of its own");
            return;
        }

        problems.Text("name", pen.Name, 100);
        problems.Known("kind", pen.Kind);
        if (pen.CompensationPerCelsius is > 0.05 and <= 5)
        {
            problems.Add("compensation", FactProblems.Say(pen.CompensationPerCelsius), FactWords.Say($"0 to 0.05 per °C; {pen.CompensationPerCelsius / 100:0.####}, which is {pen.CompensationPerCelsius:0.##} % per °C, was probably meant"));
        }
        else
        {
            problems.Range("compensation", pen.CompensationPerCelsius, 0, 0.05, "per °C (0.02 is 2 % per °C)");
        }

        problems.Range("reference temperature", pen.ReferenceCelsius, 15, 30, "°C");
        problems.Text("note", pen.Note, required: false);
    }

    public static void Shape(PenCalibrated said, FactProblems problems)
    {
        if (said.Standards is not { Count: >= 1 and <= 6 })
        {
            problems.Add("standards", FactProblems.Say(said.Standards?.Count), "one to six buffers or standards with what was read in each");
        }

        problems.Text("note", said.Note, required: false);
    }

    /// <summary>Against the pen as it is known.</summary>
    public static async Task OnBenchAsync(LedgerContext db, PenCalibrated said, FactProblems problems, CancellationToken cancel)
    {
        if (await PenAsync(db, said.PenId, cancel) is not { } pen)
        {
            problems.Add("pen", said.PenId.ToString(), "a pen of this bench");
            return;
        }

        foreach (var each in said.Standards.Where(each => each is not null))
        {
            foreach (var problem in CalibrationEntry.Check(pen, each.StandardAt25, each.Reading, each.TemperatureCelsius))
            {
                problems.Add(problem.Field, problem.Value, problem.Message);
            }
        }
    }

    /// <summary>The pen as it was last set; null for none of that id.</summary>
    public static async Task<Pen?> PenAsync(LedgerContext db, Guid penId, CancellationToken cancel)
    {
        await db.SendRowsAsync(cancel);
        var facts = await db.Facts.AsNoTracking().Where(fact => fact.SubjectId == penId).OrderBy(fact => fact.Position).ToListAsync(cancel);
        var kind = FactKinds.NameOf<PenSet>();
        return Projections.PlantProjection.Standing(facts).LastOrDefault(fact => fact.Kind == kind) is { } set ? ((PenSet)FactKinds.Read(set.Kind, set.Version, set.Payload)).Pen : null;
    }
}
