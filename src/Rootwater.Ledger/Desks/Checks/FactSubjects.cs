using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Desks;

/// <summary>What a fact must name as its subject.</summary>
internal static class FactSubjects
{
    /// <summary>Null for kinds that have a desk of their own (cans, cupboard, waters) or that nobody enters.</summary>
    public static Guid? Of(FactPayload payload) => payload switch
    {
        ReadingTaken { PlantId: { } plant } => plant,
        ReadingTaken { PlaceId: { } place } => place,
        ReadingTaken => Guid.Empty,
        AirDay said => said.PlaceId,
        MediumSoaked said => said.SoakId,
        RoundBegun said => said.RoundId,
        RoundEnded said => said.RoundId,
        CrossSet said => said.CrossId,
        PenSet said => said.Pen?.Id ?? Guid.Empty,
        PenCalibrated said => said.PenId,
        PlaceSet said => said.Place.Id,
        WantSet said => said.WantId,
        SettingsSet or SupplySet or RainRecorded => Guid.Empty,
        WaterRoof said => said.WaterId,
        WaterLevelSeen said => said.WaterId,
        LotOpened said => said.LotId,
        LotSpilt said => said.LotId,
        ProductLead said => said.ProductId,
        PlantGiven said => said.PlantId,
        PlantSkipped said => said.PlantId,
        PhotoAdded said => said.PlantId,
        PlantArrived said => said.PlantId,
        PlantDetermined said => said.PlantId,
        WrongArrival said => said.PlantId,
        PlantParentage said => said.PlantId,
        PlantStatesSeen said => said.PlantId,
        PlantWantChosen said => said.PlantId,
        PlantMoved said => said.PlantId,
        PlantPotted said => said.PlantId,
        PlantLost said => said.PlantId,
        QuarantineBegun said => said.PlantId,
        QuarantineEnded said => said.PlantId,
        PestChecked said => said.PlantId,
        VirusTested said => said.PlantId,
        PlantNoted said => said.PlantId,
        GrowthSeen said => said.PlantId,
        GrowthEnded said => said.PlantId,
        LeafSeen said => said.PlantId,
        LeafMeasured said => said.PlantId,
        LeafMarked said => said.PlantId,
        LeafLost said => said.PlantId,
        NewRootsSeen said => said.PlantId,
        SpikeSeen said => said.PlantId,
        SpikeMeasured said => said.PlantId,
        BloomOpened said => said.PlantId,
        BloomDescribed said => said.PlantId,
        BloomOver said => said.PlantId,
        SpikeEnded said => said.PlantId,
        CauseSeen said => said.PlantId,
        LatitudeSet => Guid.Empty,
        CauseSettled said => said.PlantId,
        _ => null,
    };

    /// <summary>Whether the subject is a plant.</summary>
    public static bool IsPlant(FactPayload payload) =>
        PlantProjection.IsOfAPlant(payload) || payload is PlantGiven or PlantSkipped or PhotoAdded or CauseSeen or CauseSettled or ReadingTaken { PlantId: not null };
}
