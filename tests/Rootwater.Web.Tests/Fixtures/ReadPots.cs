using Microsoft.Extensions.DependencyInjection;
using Rootwater.Growing.Pots.Calibration;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Web.Tests.Fixtures;

/// <summary>Readings of two pots of the three-month demo, one of them ten times out of place: for pages that show what readings taught. The values are the data sheet's own forecast.</summary>
public sealed record ReadPots(int Read, int Unread, double Slip)
{
    private const int SlippedVisit = 4;

    public static async Task<ReadPots> WriteAsync(IServiceProvider services, CancellationToken cancel)
    {
        var (learning, facts) = (services.GetRequiredService<IPotLearningDesk>(), services.GetRequiredService<IFactDesk>());
        await learning.RefreshAsync(cancel: cancel);
        var clay = (await learning.ListAsync(cancel)).Pots.Where(pot => pot is { Culture: "wicking", Medium: "expanded clay" }).Take(3).ToList();
        var slip = 0.0;
        foreach (var pot in clay.Take(2))
        {
            var tracks = (await learning.GetAsync(pot.PlantNumber, cancel))!.Tracks.ToDictionary(track => track.Kind);
            var moments = tracks[ReadingKind.ReservoirEc].Band.Where(moment => moment.At < tracks[ReadingKind.ReservoirEc].Now.AddDays(-1)).Select(moment => moment.At).Reverse().Where((_, i) => i % 4 == 0).Take(9).Reverse().ToList();
            foreach (var (i, at) in moments.Index())
            {
                double Middle(ReadingKind kind) => tracks[kind].Band.First(moment => moment.At == at).Band.Value;
                var slipped = i == SlippedVisit && pot == clay[0];
                var ec = Math.Round(Middle(ReadingKind.ReservoirEc) * (i % 2 == 0 ? 1.01 : 0.99) * (slipped ? 10 : 1));
                slip = slipped ? ec : slip;
                await facts.WriteAsync([new NewFact
                {
                    Id = Guid.CreateVersion7(),
                    SubjectId = pot.PlantId,
                    When = FactWhen.AtMinute(at, "Etc/UTC"),
                    Payload = new ReadingTaken { ReadingId = Guid.CreateVersion7(), Of = ReadingOf.Reservoir, PlantId = pot.PlantId, PotId = pot.PotId, EcMicrosiemensPerCm = ec, PH = Math.Round(Middle(ReadingKind.ReservoirPH), 1) },
                }], cancel: cancel);
            }
        }

        await learning.RefreshAsync(cancel: cancel);
        return new ReadPots(clay[0].PlantNumber, clay[2].PlantNumber, slip);
    }
}
