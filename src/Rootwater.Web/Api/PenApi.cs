using Rootwater.Growing.Mixing.Reconciliation;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Web.Api;

/// <summary>Pens and their calibrations.</summary>
internal static class PenApi
{
    public static void MapPens(this ApiRoutes api)
    {
        api.MapGet("/pens", (IPenDesk desk, CancellationToken cancel) => desk.ListAsync(cancel));
        api.MapGet("/pens/standards", () => new
        {
            PenStandards.TableCelsius,
            Buffers = PenStandards.Buffers.Select(at25 => new { PHAt25 = at25, PH = PenStandards.TableCelsius.Select(celsius => PenStandards.BufferPH(at25, celsius)) }),
            EcStandards = PenStandards.EcStandards.Select(at25 => new
            {
                MicrosiemensPerCmAt25 = at25,
                MicrosiemensPerCm = PenStandards.TableCelsius.Select(celsius => at25 * PenStandards.PotassiumChlorideEc(celsius) / PenStandards.PotassiumChlorideEc(25)),
            }),
        });
        api.MapPost("/pens", async (PenBody body, IPenDesk desk, CancellationToken cancel) =>
        {
            var kept = await desk.SaveAsync(body.ToPen(), cancel: cancel);
            return Results.Created($"/api/pens/{kept.Pen.Id}", kept);
        });
        api.MapGet("/pens/{id:guid}", async (Guid id, IPenDesk desk, CancellationToken cancel) =>
            RootwaterApi.Found((await desk.ListAsync(cancel)).FirstOrDefault(view => view.Pen.Id == id), "pen", id));
        api.MapPost("/pens/{id:guid}/calibrations", (Guid id, CalibrationBody body, IPenDesk desk, CancellationToken cancel) => desk.CalibrateAsync(body.ToCalibration(id), cancel));
    }
}

/// <summary>A pen as it is entered.</summary>
public sealed record PenBody
{
    /// <summary>Made by whoever enters it; one of that id is known anew.</summary>
    public Guid? Id { get; init; }
    public string? Name { get; init; }
    public PenKind? Kind { get; init; }

    /// <summary>Per °C: 0.02 is 2 %.</summary>
    public double? CompensationPerCelsius { get; init; }
    public double? ReferenceCelsius { get; init; }
    public DateOnly? RetiredOn { get; init; }
    public string? Note { get; init; }

    public Pen ToPen() => new()
    {
        Id = Id ?? Guid.CreateVersion7(),
        Name = Name ?? "",
        Kind = Kind ?? throw new EntryException("kind", null, "ec or pH"),
        CompensationPerCelsius = CompensationPerCelsius ?? 0.02,
        ReferenceCelsius = ReferenceCelsius ?? 25,
        RetiredOn = RetiredOn,
        Note = Note,
    };
}

/// <summary>A pen held into buffers or standards.</summary>
public sealed record CalibrationBody
{
    /// <summary>Made by whoever enters it; sent twice, it is kept once.</summary>
    public Guid? Id { get; init; }

    /// <summary>Each with what it is at 25 °C (pH or µS/cm), what was read before adjusting, and its temperature.</summary>
    public IReadOnlyList<StandardRead>? Standards { get; init; }
    public bool Adjusted { get; init; }
    public DateOnly? On { get; init; }
    public string? Note { get; init; }

    public NewPenCalibration ToCalibration(Guid penId) => new() { Id = Id ?? Guid.CreateVersion7(), PenId = penId, Standards = Standards ?? [], Adjusted = Adjusted, On = On, Note = Note };
}
