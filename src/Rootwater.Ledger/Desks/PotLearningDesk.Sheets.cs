using System.Collections.Concurrent;
using System.Globalization;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Ledger.Desks;

/// <content>What the pages show.</content>
public sealed partial class PotLearningDesk
{
    private const double PouredPH = 5.8, LiftDays = 2, SureOfSlip = 0.5, NearlySpent = 0.2;

    // How far back a plot goes, and how far ahead.
    private const double HoursBack = 24 * 90, HoursAhead = 24 * 7, PlotEveryHours = 24;

    private static readonly PlantState[] s_inFlower = [PlantState.InSpike, PlantState.Flowering];
    private static readonly PlantState[] s_atRest = [PlantState.DryRest, PlantState.CoolRest];

    // Of the way to new medium; from there on a pot is called due.
    private const double DueFrom = 0.8;
    private Shown? _lines;

    public async Task<PotsSheet> ListAsync(CancellationToken cancel = default)
    {
        var (learned, records, state) = await InHandAsync(cancel);
        var today = DateOnly.FromDateTime(await NowAsync(cancel));
        var shown = Lines(learned, records, today);
        var candidates = records.Where(record => record.History is not null).ToDictionary(record => record.Pot.Id, record => CandidateOf(learned, record));
        var due = shown.Values.Where(line => line.Advice is { Due: >= DueFrom }).Select(line => candidates[line.Line.PotId]).ToList();
        var now = shown.Values.Where(line => line.Line.RepotNow).Select(line => candidates[line.Line.PotId]).ToList();
        IEnumerable<string> Wanted(List<RepottingCandidate> pots, string when) => Repotting.Wanted(pots).Select(wanted => when + wanted.Words);
        return new PotsSheet
        {
            State = state,
            Pots = [.. records.Select(record => shown[record.Pot.Id].Line)],
            Media = learned is null ? [] : [.. records.Select(record => record.History?.MediumId).OfType<string>().Distinct().Order(StringComparer.Ordinal).Select(medium => MediumOf(learned, medium)).OfType<MediumLine>()],
            Due = [.. shown.Values.Where(line => line.Advice is { Due: >= DueFrom }).OrderByDescending(line => line.Line.RepotNow).ThenByDescending(line => line.Line.RepottingDue).Select(line => line.Line)],
            MediumWanted = [.. Wanted(now, due.Count == now.Count ? "" : "now: "), .. due.Count == now.Count ? [] : Wanted(due, now.Count == 0 ? "" : "for all that are due: ")],
            Score = await ScoresAsync(cancel),
            Soaks = await SoakLinesAsync(cancel),
        };
    }

    public async Task<PotSheet?> GetAsync(int plantNumber, CancellationToken cancel = default)
    {
        var (learned, records, state) = await InHandAsync(cancel);
        if (records.FirstOrDefault(record => record.Plant.Number == plantNumber) is not { } record)
        {
            return null;
        }

        var now = await NowAsync(cancel);
        var shown = Lines(learned, records, DateOnly.FromDateTime(now));
        var known = learned?.Find(record.Pot.Id);
        return new PotSheet
        {
            State = state,
            Line = shown[record.Pot.Id].Line,
            Words = known?.Words ?? (record.WhyNone is { } why ? [Sentence(why)] : []),
            Traits = known is null ? [] : [.. known.Traits.Where(trait => trait.Trait != PotTrait.Algae || record.History!.Setup.ReservoirLitres > 0).Select(trait => new TraitLine(NameOf(trait.Trait), trait.Value, trait.BeforeReadings, trait.Trait != PotTrait.RestingPH, trait.Known))],
            Changes = known is null ? [] : [.. known.Changes.Select(change => ChangeOf(record, change))],
            Tracks = learned is null || record.History is null ? [] : await Task.Run(() => Tracks(learned, record, now), cancel),
            Siblings = record.History is not { } history ? [] : [.. records.Where(other => other != record && other.History?.MediumId == history.MediumId).OrderBy(other => Math.Abs(other.Plant.Number - plantNumber)).Select(other => shown[other.Pot.Id].Line)],
            BaseLeft = known is { } && Tells(known) ? known.CapacityLeft : null,
            MediumWanted = record.History is null ? [] : [.. Repotting.Wanted([CandidateOf(learned, record)]).Select(wanted => wanted.Words)],
            LeftOut = record.LeftOut,
            Assumptions = record.History is { } modelled ? AssumptionsOf(record, modelled, learned) : [],
        };
    }

    /// <summary>The fit in hand with the bench as it stands; a fit that is behind is set going, and not waited for.</summary>
    private async Task<(LearnedPots? Learned, IReadOnlyList<PotRecord> Records, FitState State)> InHandAsync(CancellationToken cancel)
    {
        var learned = database.Learned;
        var upToDate = learned is not null && learned.Position == await PositionAsync(cancel);
        if (!upToDate && !_stopped)
        {
            RefreshSoon();
        }

        // Who stands where is asked anew: it is quick, and a plant repotted a minute ago is there.
        var standing = await database.ReadAsync(db => BenchReader.StandingAsync(db, cancel), cancel);
        var wants = await database.ReadAsync(async db => (await BenchReader.WantsAsync(db, cancel)).ToDictionary(want => want.Id, want => want.Want), cancel);
        var records = standing.ConvertAll(each => learned?.Records.TryGetValue(each.Pot.Id, out var known) == true
            ? known with { Standing = each }
            : PotRecordReader.Unread(each, each.Plant.WantId is { } id ? wants.GetValueOrDefault(id) : null, DateTime.SpecifyKind(clock.GetUtcNow().DateTime, DateTimeKind.Unspecified)));
        return (learned, records, StateOf(learned, upToDate));
    }

    private FitState StateOf(LearnedPots? learned, bool upToDate) => (_progress, _trouble) switch
    {
        ({ } running, _) => new FitState(learned is not null, upToDate, running.Share, running.Words),
        (_, { } trouble) when !upToDate => new FitState(learned is not null, false, null, $"The fit stopped: {trouble}"),
        _ when upToDate => new FitState(true, true, null, Say($"Fitted to all that the ledger says, {learned!.Records.Values.Sum(record => record.History?.Readings.Count ?? 0)} values read.")),
        _ when _stopped => new FitState(learned is not null, false, null, "The fit was stopped."),
        _ => new FitState(learned is not null, false, 0, "about to begin"),
    };

    private Dictionary<Guid, (PotLine Line, RepottingAdvice? Advice)> Lines(LearnedPots? learned, IReadOnlyList<PotRecord> records, DateOnly today)
    {
        var cache = _lines is { } shown && ReferenceEquals(shown.Of, learned) ? shown.Lifts : [];
        Parallel.ForEach(records.Where(record => learned is not null && record.History is not null && !cache.ContainsKey(record.Pot.Id)), record => cache[record.Pot.Id] = LiftOf(learned!, record));
        return records.ToDictionary(record => record.Pot.Id, record => LineOf(learned, record, cache.GetValueOrDefault(record.Pot.Id), today));
    }

    private static Lift? LiftOf(LearnedPots learned, PotRecord record)
    {
        try
        {
            return new Lift(learned.Fit.LiftOf(record.History!, FeedOf(record), PouredPH, LiftDays, record.Want?.RootPH.Ideal, learned.Widening.RootPH), learned.Of(record.History!));
        }
        catch (PotInputException)
        {
            return null; // a feed that cannot be brought to that pH: nothing to say of it
        }
    }

    /// <summary>What a pot's lift is told of: the feed it got last, before acid or base; else one that brings the ideals of its want.</summary>
    internal static Chemistry.Species.ComponentAmounts FeedOf(PotRecord record) => record.LastFeed
        ?? PotModels.NominalFeed(record.Want ?? Growing.Mixing.DefaultWants.All[0].Want);

    private static (PotLine Line, RepottingAdvice? Advice) LineOf(LearnedPots? learned, PotRecord record, Lift? lift, DateOnly today)
    {
        var advice = record.History is null ? null : Repotting.Judge([CandidateOf(learned, record)], today)[0];
        var known = lift?.Known;
        var readings = record.History?.Readings.Count ?? 0;
        var siblings = known is null ? 0 : Math.Max(0, known.Siblings - (readings > 0 ? 1 : 0));
        return (new PotLine
        {
            PotId = record.Pot.Id,
            PlantId = record.Plant.Id,
            PlantNumber = record.Plant.Number,
            PlantName = record.Plant.CurrentName,
            Place = record.Standing.Place,
            Medium = record.Pot.Medium,
            Culture = CultureWords.Of(record.Pot.Culture),
            MediumLitres = record.Pot.MediumLitres,
            ReservoirLitres = record.Pot.ReservoirLitres,
            PottedOn = record.Pot.FilledOn,
            Lift = lift is null ? null : LiftWords(record, lift),
            RootPHAfterTwoDays = lift?.Value.AtRoot,
            PouredPH = PouredPH,
            Readings = readings,
            Siblings = siblings,
            ForecastOf = record.History is null ? ForecastOf.Nothing : readings > 0 && known is not null ? ForecastOf.ItsReadings : siblings > 0 ? ForecastOf.ItsSiblings : ForecastOf.DataSheet,
            Flags = Flags(record, known, saidOfBase: advice is { Due: >= DueFrom } && advice.Words.Contains("its base is nearly spent", StringComparison.Ordinal)),
            RepottingDue = advice?.Due ?? 0,
            RepotNow = advice?.Now ?? false,
            Repotting = advice is null ? "" : advice.Words[(advice.Words.IndexOf(": ", StringComparison.Ordinal) + 2)..],
        }, advice);
    }

    private static string LiftWords(PotRecord record, Lift lift)
    {
        var words = lift.Value.Words;
        // The latest change is what makes a pot unlike what it was; it goes before what to do about it.
        if (lift.Known.Changes.Count > 0 && lift.Known.Changes[^1] is var change)
        {
            var leach = record.Leaches.Where(hours => Math.Abs(hours - change.Hours) < 24 * 10).Select(hours => (double?)hours).FirstOrDefault();
            var since = leach is { } hour ? Say($"since the leach of {record.At(hour):d MMMM}") : Say($"since about {record.At(change.Hours):d MMMM}");
            var slower = change.Traits.Where(trait => trait.Trait == PotTrait.BaseRate).Select(trait => trait.After.Value < trait.Before.Value ? "slower" : "faster").FirstOrDefault() ?? "otherwise than before";
            var at = words.IndexOf(';', StringComparison.Ordinal);
            at = at < 0 ? words.Length - 1 : at;
            words = words[..at] + $", only {slower} {since}" + words[at..];
        }

        return words;
    }

    private static List<string> Flags(PotRecord record, FittedPot? known, bool saidOfBase)
    {
        var flags = new List<string>();
        if (known is not null)
        {
            flags.AddRange(known.Changes.Select(change => ChangeOf(record, change).Words));
            var wrong = known.Fit.Count(reading => reading.WentWrong > SureOfSlip);
            if (wrong > 0)
            {
                flags.Add(Say($"{wrong} of its {known.Fit.Count} latest values probably went wrong; weighed down, not left out."));
            }

            if (!saidOfBase && Tells(known) && known.CapacityLeft.High < NearlySpent)
            {
                flags.Add(Say($"Its base is nearly spent: {known.CapacityLeft.Low:0 %} to {known.CapacityLeft.High:0 %} left."));
            }
        }

        if (record.LeftOut.Count > 0)
        {
            flags.Add(Say($"{record.LeftOut.Count} values in the ledger cannot be and are not fitted."));
        }

        if (record.WhyNone is { } why)
        {
            flags.Add(Sentence(why));
        }

        return flags;
    }

    private static PotChange ChangeOf(PotRecord record, DetectedChange change) => new(
        DateOnly.FromDateTime(record.At(change.Hours)), DateOnly.FromDateTime(record.At(change.EarliestHours)), DateOnly.FromDateTime(record.At(change.LatestHours)), change.Certainty,
        Say($"About {record.At(change.Hours):d MMMM yyyy} something changed ({change.Certainty:0 %}): {change.Words}"));

    private static RepottingCandidate CandidateOf(LearnedPots? learned, PotRecord record) => new()
    {
        Setup = record.History!.Setup,
        Name = record.Plant.CurrentName,
        PottedOn = record.Pot.FilledOn,
        BaseLeft = learned?.Find(record.Pot.Id) is { } known && Tells(known) ? known.CapacityLeft : null,
        NewRoots = record.Plant.States.Contains(PlantState.NewRoots),
        InFlower = record.Plant.States.Any(s_inFlower.Contains),
        AtRest = record.Plant.States.Any(s_atRest.Contains),
    };

    // What base is left is only said where readings tell how much there was.
    private static bool Tells(FittedPot known) => known.Readings > 0 && known[PotTrait.BaseCapacity].Known != Knowledge.Untold;

    private static MediumLine? MediumOf(LearnedPots learned, string mediumId) => learned.Fit.OfMedium(mediumId) is not { } medium ? null : new MediumLine(
        Media.ById(mediumId).Name,
        medium.Pots,
        [.. medium.Traits.Select(trait => new TraitLine(NameOf(trait.Trait), trait.Mean, trait.Pots, trait.Trait != PotTrait.RestingPH, Knowledge.Siblings))],
        Say($"Readings scatter about the fits {medium.EcScatter:0.0} (EC), {medium.PHScatter:0.0} (pH) and {medium.LevelScatter:0.0} (level) times as wide as a careful reader's."));

    private static string WideningWords(BandWidening widening) => widening == BandWidening.None
        ? "Bands are as the fit gives them: too few visits to hold one back from each pot and see whether they are wide enough."
        : Say($"Bands are wider than the fit gives them, by {widening.PH:0.0} (pH), {widening.Ec:0.0} (EC) and {widening.Level:0.0} (level) in the reservoir, by {widening.RootPH:0.0} (pH) and {widening.RootEc:0.0} (EC) at the root: so much was needed to hold nine tenths of what was read last of each pot, held back. A pot is richer than the model.");

    private static IReadOnlyList<string> AssumptionsOf(PotRecord record, PotHistory history, LearnedPots? learned) =>
    [
        WideningWords(learned?.Widening ?? BandWidening.None),
        Say($"The record begins on {record.Origin:d MMMM yyyy}; what is older is not fitted."),
        "Feed and plain water are taken to go into the reservoir, a leach through from above.",
        PotModels.LeafAssumption(history.Setup),
        Say($"Air of {history.Climate.AirTemperatureCelsius:0} °C and {history.Climate.RelativeHumidityPercent:0} % from here on, the last month's; before, the air of each half month where it was read at this place, else the place's mean moved by the season of the other places."),
    ];

    private static List<PotTrack> Tracks(LearnedPots learned, PotRecord record, DateTime now)
    {
        var history = record.History!;
        var known = learned.Of(history);
        var end = (now - record.Origin).TotalHours;
        var changed = known.Changes.Count > 0 ? known.Changes[^1].Hours : 0;
        var from = Math.Max(Math.Max(0, changed), end - HoursBack);
        var wicking = history.Setup.ReservoirLitres > 0;
        ReadingKind[] kinds = wicking ? [ReadingKind.ReservoirPH, ReadingKind.ReservoirEc, ReadingKind.ReservoirLitres] : [ReadingKind.MediumPH, ReadingKind.MediumEc];
        var moments = Enumerable.Range(0, (int)((end + HoursAhead - from) / PlotEveryHours) + 1).Select(i => from + i * PlotEveryHours).ToList();
        // A pen's error goes by what it reads; half a feed's EC stands for it.
        var asked = moments.SelectMany(hours => kinds.Select(kind => new PotReading(hours, kind, kind is ReadingKind.ReservoirEc or ReadingKind.MediumEc ? 500 : 6))).ToList();
        var bands = learned.Fit.Forecast(history with { UntilHours = end + HoursAhead }, asked).ToLookup(pair => pair.Asked.Kind);
        return
        [
            .. kinds.Select(kind => new PotTrack(
                kind, now,
                [.. bands[kind].Where(pair => !double.IsNaN(pair.Band.Value)).Select(pair => (record.At(pair.Asked.Hours), learned.Widening.Widen(kind, pair.Band)))],
                [.. known.Fit.Where(fitted => fitted.Reading.Kind == kind && fitted.Reading.Hours >= from).Select(fitted => new ReadPoint(record.At(fitted.Reading.Hours), fitted.Reading.Value, Holds(learned.Widening.Widen(kind, fitted.Band), fitted.Reading.Value), fitted.WentWrong, fitted.Weight))])),
        ];
    }

    private static bool Holds(Expected band, double value) => value >= band.Low && value <= band.High;

    private static string NameOf(PotTrait trait) => trait switch
    {
        PotTrait.BaseRate => "how fast the medium gives base",
        PotTrait.RestingPH => "the pH at which the medium rests",
        PotTrait.BaseCapacity => "base held when fresh",
        PotTrait.WaterLoss => "water lost to the air",
        PotTrait.Uptake => "uptake of nutrients",
        PotTrait.Algae => "base that algae leave in the reservoir",
        _ => "salt the medium leaches",
    };

    private static string Sentence(string text) => char.ToUpperInvariant(text[0]) + text[1..] + ".";

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private sealed record Shown(LearnedPots? Of, ConcurrentDictionary<Guid, Lift?> Lifts);

    private sealed record Lift(PotLift Value, FittedPot Known);
}
