using Rootwater.Growing;
using Rootwater.Growing.Mixing;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Projections;

/// <summary>The bench, its tools, vessels, places and wants.</summary>
internal static class BenchProjection
{
    public static async Task ApplyAsync(LedgerContext db, FactPayload payload, CancellationToken cancel)
    {
        switch (payload)
        {
            case BenchOpened opened:
                if (await db.Benches.FindAsync([BenchRow.OnlyId], cancel) is { } bench)
                {
                    (bench.Name, bench.Zone) = (opened.Name, opened.Zone);
                }
                else
                {
                    db.Benches.Add(new BenchRow { Name = opened.Name, Zone = opened.Zone, Tools = new Tools(), Units = new ReadersUnits() });
                }

                break;
            case ToolsSet set:
                (await Projector.RequiredAsync<BenchRow>(db, "bench", cancel, BenchRow.OnlyId)).Tools = set.Tools;
                break;
            case SettingsSet set:
                var settled = await Projector.RequiredAsync<BenchRow>(db, "bench", cancel, BenchRow.OnlyId);
                (settled.Units, settled.BaseAddress) = (set.Units, set.BaseAddress);
                break;
            case CrossSet set:
                var cross = await db.Crosses.FindAsync([set.CrossId], cancel);
                if (cross is null)
                {
                    db.Crosses.Add(cross = new CrossRow { Id = set.CrossId, Name = "", SeedParent = "", PollenParent = "" });
                }

                (cross.Name, cross.SeedParent, cross.PollenParent) = (set.Name, set.SeedParent, set.PollenParent);
                break;
            case PlantForgotten forgotten:
                db.ForgottenPlants.Add(new ForgottenPlantRow { PlantId = forgotten.PlantId, Number = forgotten.Number });
                break;
            case VesselSet set:
                var vessel = await db.Vessels.FindAsync([set.VesselId], cancel);
                if (vessel is null)
                {
                    db.Vessels.Add(vessel = new VesselRow { Id = set.VesselId, Name = set.Vessel.Name });
                }

                (vessel.Name, vessel.Litres, vessel.RelativeVolumeError) = (set.Vessel.Name, set.Vessel.Litres, set.Vessel.RelativeVolumeError);
                break;
            case PlaceSet { Place: var now }:
                var place = await db.Places.FindAsync([now.Id], cancel);
                if (place is null)
                {
                    db.Places.Add(place = new PlaceRow { Id = now.Id, Name = now.Name, Light = now.Light, Warmth = now.Warmth });
                }

                (place.Name, place.WalkOrder, place.Light, place.Warmth) = (now.Name, now.WalkOrder, now.Light, now.Warmth);
                break;
            case WantSet set:
                if (await db.Wants.FindAsync([set.WantId], cancel) is { } want)
                {
                    (want.Name, want.Want) = (set.Want.Name, set.Want);
                }
                else
                {
                    db.Wants.Add(new WantRow { Id = set.WantId, Name = set.Want.Name, Want = set.Want });
                }

                break;
        }
    }
}
