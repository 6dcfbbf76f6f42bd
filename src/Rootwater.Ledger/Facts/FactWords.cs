using System.Globalization;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Facts;

/// <summary>A fact in a few words, as lists of what was entered show it.</summary>
internal static class FactWords
{
    /// <summary>"WaterSoaked" reads "water soaked".</summary>
    public static string Of<TEnum>(TEnum value) where TEnum : struct, Enum =>
        string.Concat(value.ToString().Select((letter, i) => i > 0 && char.IsUpper(letter) ? " " + char.ToLowerInvariant(letter) : char.ToLowerInvariant(letter).ToString()));

    /// <param name="payload">What the fact says.</param>
    /// <param name="story">The plant it is about; null where it is about none, or about one that is gone.</param>
    public static string Of(FactPayload payload, PlantStory? story) => payload switch
    {
        PlantArrived said => $"came as {said.NameAsReceived}",
        PlantDetermined said => $"determined as {said.Name} ({said.Evidence})",
        WrongArrival said => $"ordered {said.Ordered}, got {said.Came}",
        PlantParentage said => $"{said.SeedParent} × {said.PollenParent}",
        CrossSet said => $"{said.Name}: {said.SeedParent} × {said.PollenParent}",
        PlantStatesSeen { States: [] } => "no state in particular",
        PlantStatesSeen said => string.Join(", ", said.States.Select(Of)),
        PlantWantChosen => "fed by another want",
        PlantMoved => "stands somewhere else",
        PlantPotted said => Say($"potted: {said.Pot.MediumLitres:0.##} L {said.Pot.Medium}"),
        PlantLost said => $"left the bench: {said.Cause}",
        QuarantineBegun said => Say($"kept apart for {said.Days} days: {said.Why}"),
        QuarantineEnded => "let out of quarantine",
        PestChecked { Found: [] } => "looked over for pests: nothing found",
        PestChecked said => $"pests: {string.Join(", ", said.Found)}",
        VirusTested said => $"{said.Virus} by {Of(said.Method)}: {Of(said.Result)}",
        PlantNoted said => said.Text,
        GrowthSeen said => Say($"{Of(said.Form)} {said.Number} seen"),
        GrowthEnded said => $"{GrowthOr(story, said.GrowthId)} ended: {said.Cause}",
        LeafSeen said => Say($"leaf {said.Position} of {GrowthOr(story, said.GrowthId)} seen"),
        LeafMeasured said => $"{LeafOr(story, said.LeafId)}: {Size(said.LengthMillimetres, said.WidthMillimetres)}",
        LeafMarked said => $"{LeafOr(story, said.LeafId)}: {Of(said.Sign)}, {Of(said.Part)}",
        LeafLost said => $"{LeafOr(story, said.LeafId)} lost: {Of(said.Cause)}",
        NewRootsSeen { Count: { } count } => Say($"{count} new roots"),
        NewRootsSeen => "new roots",
        SpikeSeen { LengthMillimetres: { } length } => Say($"spike, {length / 10:0.#} cm"),
        SpikeSeen => "spike",
        SpikeMeasured { LengthMillimetres: { } length, Buds: { } buds } => Say($"spike {length / 10:0.#} cm, {buds} buds"),
        SpikeMeasured { LengthMillimetres: { } length } => Say($"spike {length / 10:0.#} cm"),
        SpikeMeasured said => Say($"spike with {said.Buds} buds"),
        BloomOpened => "first flower open",
        BloomDescribed said => Bloom(said),
        BloomOver => "last flower over",
        SpikeEnded said => $"spike ended: {Of(said.Cause)}",
        PlantGiven { What: Pouring.Feed } said => Say($"fed {said.Millilitres:0.#} mL"),
        PlantGiven { What: Pouring.Leach } said => Say($"leached with {said.Millilitres:0.#} mL"),
        PlantGiven said => Say($"watered with {said.Millilitres:0.#} mL"),
        PlantSkipped said => $"passed by: {Of(said.Reason)}",
        RoundBegun said => $"round of {said.AsOf:yyyy-MM-dd} begun",
        RoundEnded => "round ended",
        ReadingTaken said => $"{Of(said.Of)}: {Reading(said)}",
        MediumSoaked said => Say($"soak test: {said.MediumLitres:0.##} L {said.Medium} in {said.WaterLitres:0.##} L for {said.Hours:0} h"),
        AirDay said => $"air of {said.Day:yyyy-MM-dd}",
        PhotoAdded said => said.Caption is { Length: > 0 } caption ? $"photo: {caption}" : "photo",
        FactUndone => "taken back",
        PlaceSet said => $"place {said.Place.Name}",
        WantSet said => $"want {said.Want.Name}",
        VesselSet said => $"vessel {said.Vessel.Name}",
        WaterSet said => $"water {said.Name}",
        ProductSet said => $"product {said.Product.Name}",
        CanSaved said => $"can {said.Card.Letter} begun",
        CanStepDone said => Say($"step {said.Step} done"),
        CanStepUndone said => Say($"step {said.Step} taken back"),
        CanRead said => $"can read: {Reading(said.EcMicrosiemensPerCm, said.PH)}",
        CanPoured said => Say($"poured to {said.Poured.Count} plants"),
        CanPourUndone => "pouring taken back",
        CanRepaired said => "put right with " + string.Join(", ", said.Additions.Select(each => Say($"{each.Amount:0.###} {each.Unit} {each.What}"))),
        CanRepairUndone => "repair taken back",
        RootForecastBelieved => "root forecast believed",
        TrialRegistered said => $"trial registered: {said.Question}",
        TrialLooked said => Say($"trial looked at ({said.Share * 100:0} % of its length): {said.Result.Words}"),
        TrialEnded said => $"trial ended: {said.Result.Words}",
        TrialStopped said => $"trial stopped: {said.Why}",
        TrialDeparted said => $"otherwise than registered: {said.What}",
        PenSet said => $"pen {said.Pen.Name}",
        PenCalibrated said => $"pen held into {string.Join(", ", said.Standards.Select(each => Say($"{each.StandardAt25:0.##} (read {each.Reading:0.##})")))}{(said.Adjusted ? ", then set to it" : "")}",
        WaterRoof said => Say($"a roof of {said.RoofSquareMetres:0.#} m² fills {said.BarrelLitres:0} L"),
        WaterLevelSeen said => Say($"{said.Litres:0} L there"),
        RainRecorded { Days.Count: > 0 } said => Say($"rain of {said.Days.Count} days, {said.Days.Min(day => day.Day):yyyy-MM-dd} to {said.Days.Max(day => day.Day):yyyy-MM-dd}"),
        ProductEntryBegun said => $"label of {said.Product.Name} read",
        ProductTestPlanned said => Say($"test can planned: {said.GramsPerLitre:0.##} g/L in {said.Litres:0.##} L"),
        ProductTestRead said => $"test can read: {Reading(said.EcMicrosiemensPerCm, said.PH)}",
        ProductTestLooked said => (said.Clear ? "test can clear after a day" : "test can not clear") + (said.Note is { Length: > 0 } note ? $": {note}" : ""),
        ProductTrialBegun said => Say($"trial on {said.Pairs.Count} pairs begun, to be judged by: {said.Outcome}"),
        ProductTrialJudged said => Say($"trial judged: worse in {said.Worse}, better in {said.Better} pairs"),
        ProductDecided said => $"{(said.Accepted ? "accepted" : "rejected")}: {said.Why}",
        LotOpened said => Say($"package opened on {said.On:yyyy-MM-dd}"),
        LotSpilt said => Say($"{said.Grams:0.##} g gone without feeding anything{(said.Why is { Length: > 0 } why ? $": {why}" : "")}"),
        ProductLead said => Say($"comes {said.Days} days after it is ordered"),
        SupplySet said => Say($"orders come after {said.UsualLeadDays} days and should last {said.BuyForDays}; the cupboard stands at {said.RoomHumidityPercent:0} % humidity"),
        CauseSeen said => "looked for a cause: " + string.Join(", ", said.Answers.Select(answer => $"{answer.Clue} {answer.Value ?? "open again"}")),
        CauseSettled { Cause: { } cause } => "cause settled: " + cause,
        CauseSettled => "cause never found",
        LatitudeSet { Degrees: { } degrees } => Say($"stands {Math.Abs(degrees):0.#} degrees {(degrees < 0 ? "south" : "north")}"),
        LatitudeSet => "latitude no longer said",
        LotWeighed said => Say($"{said.GramsLeft:0.##} g left"),
        _ => FactKinds.Write(payload).Kind.Replace('.', ' '),
    };

    public static string Say(FormattableString words) => words.ToString(CultureInfo.InvariantCulture);

    private static string Bloom(BloomDescribed said) => string.Join(", ", new[]
    {
        said.Flowers is { } flowers ? Say($"{flowers} flowers") : null,
        said.WidthMillimetres is null && said.HeightMillimetres is null ? null : Size(said.HeightMillimetres, said.WidthMillimetres),
        said.Scent is { Length: > 0 } scent ? $"scent: {scent}" : null,
    }.Where(part => part is not null));

    private static string Size(double? length, double? width) => (length, width) switch
    {
        ({ } l, { } w) => Say($"{l:0.#} × {w:0.#} mm"),
        ({ } l, null) => Say($"{l:0.#} mm long"),
        (null, { } w) => Say($"{w:0.#} mm wide"),
        _ => "not measured",
    };

    private static string Reading(ReadingTaken said) => string.Join(", ", new[]
    {
        said.EcMicrosiemensPerCm is null && said.PH is null ? null : Reading(said.EcMicrosiemensPerCm, said.PH),
        said.LevelShare is { } level ? Say($"{level * 100:0} % full") : null,
        said.TemperatureCelsius is { } celsius ? Say($"{celsius:0.#} °C") : null,
        said.RelativeHumidity is { } humidity ? Say($"{humidity * 100:0} % humidity") : null,
        said.PpfdMicromolesPerSquareMetrePerSecond is { } ppfd ? Say($"{ppfd:0} µmol/(m² s)") : null,
        said.Lux is { } lux ? Say($"{lux:0} lx") : null,
    }.Where(part => part is not null));

    private static string Reading(double? ec, double? ph) => (ec, ph) switch
    {
        ({ } e, { } p) => Say($"EC {e / 1000:0.00} mS/cm, pH {p:0.0#}"),
        ({ } e, null) => Say($"EC {e / 1000:0.00} mS/cm"),
        (null, { } p) => Say($"pH {p:0.0#}"),
        _ => "nothing",
    };

    // Words for a growth or leaf that was itself taken back since.
    private static string GrowthOr(PlantStory? story, Guid id) => story?.Growths.Find(growth => growth.Id == id) is { } growth ? PlantRows.NameOf(growth) : "a growth";

    private static string LeafOr(PlantStory? story, Guid id) =>
        (from growth in story?.Growths ?? [] from leaf in growth.Leaves where leaf.Id == id select PlantRows.NameOf(growth, leaf)).FirstOrDefault() ?? "a leaf";
}
