using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>Reads the records of pots out of the ledger: feeds, top-ups, leaches, readings of reservoir and runoff, the medium, the air of the place.</summary>
/// <remarks>
/// A record begins when the pot was filled, at the earliest <see cref="MostDays"/> ago: what a pot did before that tells little of what it does now (the fit lets
/// readings age by a drift per year). Feed and plain water go into the reservoir, as on the walk; a leach goes through from above. Corrections and what was
/// taken back are honoured because the tables read here are.
/// </remarks>
internal sealed class PotRecordReader
{
    public const int MostDays = 400;

    private static readonly PotParameters s_inTheLight = PotParameters.Default with { AlgaeMeqPerLitreDay = PotParameters.UsualAlgaeMeqPerLitreDay };
    private readonly Dictionary<Guid, ComponentAmounts> _cans = [];
    private PlaceAirs? _air;

    /// <summary>All pots that hold a plant, or those of some plants.</summary>
    public async Task<List<PotRecord>> ReadAsync(LedgerContext db, DateTime now, IReadOnlyCollection<Guid>? plants, CancellationToken cancel)
    {
        var standing = (await BenchReader.StandingAsync(db, cancel, plants is { Count: 1 } ? plants.First() : null)).Where(each => plants is null || plants.Contains(each.Plant.Id)).ToList();
        var wants = (await BenchReader.WantsAsync(db, cancel)).ToDictionary(want => want.Id, want => want.Want);
        var only = plants?.ToList();
        var oldest = DateOnly.FromDateTime(now).AddDays(-MostDays);
        // From the first of a month, so that a record does not begin later every day, and its fit can go on.
        var since = new DateOnly(oldest.Year, oldest.Month, 1);
        var pours = await PoursAsync(db, only, since, cancel);
        var from = FactWhen.ToStored(since.ToDateTime(TimeOnly.MinValue));
        var readings = (await db.TakenReadings.Where(reading => reading.PlantId != null && (only == null || only.Contains(reading.PlantId.Value)) && string.Compare(reading.At, from) >= 0
            && (reading.Of == ReadingOf.Reservoir || reading.Of == ReadingOf.Runoff || reading.Of == ReadingOf.Soak)).ToListAsync(cancel)).ToLookup(reading => reading.PlantId!.Value);
        _air ??= await PlaceAirs.ReadAsync(db, since, DateOnly.FromDateTime(now), cancel);
        return
        [
            .. standing.Select(each => RecordOf(each, each.Plant.WantId is { } want ? wants.GetValueOrDefault(want) : null, pours[each.Plant.Id], readings[each.Plant.Id],
                _air, now, since)),
        ];
    }

    /// <summary>A pot of which nothing was read from the ledger yet.</summary>
    public static PotRecord Unread(Standing standing, Growing.Mixing.Want? want, DateTime now) => RecordOf(standing, want, [], [], null, now, DateOnly.FromDateTime(now));

    /// <summary>A pot's history before anything was read or poured.</summary>
    /// <param name="setup">The pot.</param>
    /// <param name="climate">Its air.</param>
    /// <param name="first">What it was first filled with; null for plain water.</param>
    /// <param name="origin">When that was.</param>
    /// <param name="now">How far it goes.</param>
    public static PotHistory Unread(PotSetup setup, PotClimate climate, ComponentAmounts? first, DateTime origin, DateTime now) => new()
    {
        Setup = setup,
        // Nobody writes down whether a reservoir is dark, so the readings say how much algae there are in it.
        Parameters = setup.ReservoirLitres > 0 ? s_inTheLight : PotParameters.Default,
        Climate = climate,
        Start = PotState.FilledWith(setup, first ?? ComponentAmounts.Zero),
        UntilHours = Math.Max(1, Math.Round((now - origin).TotalHours, 3)),
    };

    private static PotRecord RecordOf(Standing standing, Growing.Mixing.Want? want, IEnumerable<Pour> pours, IEnumerable<TakenReadingRow> taken, PlaceAirs? air, DateTime now, DateOnly since)
    {
        var pot = standing.Pot;
        if (PotModels.TrySetupOf(pot) is not { } setup)
        {
            return new PotRecord(standing, want, now, null, $"the pot model has no values for {(pot.MediumLitres < 0.02 ? "a mount" : $"{pot.MediumLitres:0.##} L of {pot.Medium}")}", [], [], null);
        }

        var origin = (pot.FilledOn > since ? pot.FilledOn : since).ToDateTime(TimeOnly.MinValue);
        var events = pours.Where(pour => pour.At >= origin && pour.At <= now).OrderBy(pour => pour.At).ToList();
        var (readings, leftOut) = Readings(taken.Where(reading => reading.PotId == pot.Id || (reading.PotId is null && DateOnly.FromDateTime(reading.AtLocal) >= pot.FilledOn)), setup, origin, now);
        // A pot is taken to be full of what it was first given: the record begins with it, not with what nobody wrote down.
        var first = events.FirstOrDefault(pour => pour.What == Pouring.Feed)?.MolPerKgWater ?? (want is null ? ComponentAmounts.Zero : PotModels.NominalFeed(want));
        var (climate, spells) = air?.Of(standing.Plant.PlaceId, origin) ?? (new PotClimate(), []);
        return new PotRecord(standing, want, origin, Unread(setup, climate, first, origin, now) with
        {
            Air = spells,
            Events = [.. events.Select(pour => new PotEvent(pour.What == Pouring.Leach ? PotEventKind.Leach : PotEventKind.TopUp, Hours(pour.At), pour.Litres, pour.MolPerKgWater))],
            Readings = readings,
        }, null, leftOut, [.. events.Where(pour => pour.What == Pouring.Leach).Select(pour => Hours(pour.At))],
            events.LastOrDefault(pour => pour.What == Pouring.Feed)?.MolPerKgWater);

        double Hours(DateTime at) => Math.Round((at - origin).TotalHours, 3);
    }

    private static (List<PotReading> Readings, List<string> LeftOut) Readings(IEnumerable<TakenReadingRow> taken, PotSetup setup, DateTime origin, DateTime now)
    {
        var (readings, leftOut) = (new List<PotReading>(), new List<string>());
        foreach (var row in taken.Where(row => row.AtLocal >= origin && row.AtLocal <= now).OrderBy(row => row.At, StringComparer.Ordinal))
        {
            var inReservoir = row.Of == ReadingOf.Reservoir && setup.ReservoirLitres > 0;
            Add(inReservoir ? ReadingKind.ReservoirEc : ReadingKind.MediumEc, row.EcMicrosiemensPerCm);
            Add(inReservoir ? ReadingKind.ReservoirPH : ReadingKind.MediumPH, row.PH);
            if (setup.ReservoirLitres > 0)
            {
                Add(ReadingKind.ReservoirLitres, row.LevelShare * setup.ReservoirLitres);
            }

            void Add(ReadingKind kind, double? value)
            {
                if (value is not { } read)
                {
                    return;
                }

                var problems = ReadingEntry.Check(kind, read, setup.ReservoirLitres);
                if (problems.Count == 0)
                {
                    readings.Add(new PotReading(Math.Round((row.AtLocal - origin).TotalHours, 3), kind, read, null, row.FactId));
                }
                else
                {
                    leftOut.Add(string.Create(CultureInfo.InvariantCulture, $"{row.AtLocal:yyyy-MM-dd}: {problems[0].Field} {problems[0].Value}. {problems[0].Message}"));
                }
            }
        }

        return (readings, leftOut);
    }

    private async Task<ILookup<Guid, Pour>> PoursAsync(LedgerContext db, List<Guid>? only, DateOnly since, CancellationToken cancel)
    {
        var rows = await (
            from feeding in db.Feedings
            where feeding.Day >= since && (only == null || only.Contains(feeding.PlantId))
            join fact in db.Facts on feeding.FactId equals fact.Id
            select new { feeding.PlantId, feeding.What, feeding.CanId, feeding.WaterId, feeding.Day, feeding.Millilitres, fact.Earliest, fact.Precision }).ToListAsync(cancel);
        var unread = rows.Select(row => row.CanId).OfType<Guid>().Distinct().Where(can => !_cans.ContainsKey(can)).ToList();
        foreach (var some in unread.Chunk(200))
        {
            foreach (var can in await db.Cans.Where(can => some.Contains(can.Id)).Select(can => new { can.Id, can.Card }).ToListAsync(cancel))
            {
                _cans[can.Id] = can.Card.MolPerKgWater;
            }
        }

        var waters = (await db.WaterReports.ToListAsync(cancel)).ToLookup(report => report.WaterId);
        var rain = waters.SelectMany(water => water).OrderBy(report => report.EcMicrosiemensPerCm ?? double.MaxValue).FirstOrDefault()?.Source.MolPerKgWater ?? ComponentAmounts.Zero;
        return rows.Select(row => new Pour(
            row.PlantId,
            FeedTimes.Of(FactWhen.FromStored(row.Precision, row.Earliest, row.Earliest, "")),
            row.What,
            row.Millilitres / 1000,
            row.CanId is { } can && _cans.TryGetValue(can, out var feed) ? feed
                : row.WaterId is { } water && waters[water].Any() ? (BenchReader.Newest(waters[water].Where(report => report.SampledOn <= row.Day)) ?? BenchReader.Newest(waters[water]))!.Source.MolPerKgWater : rain)).ToLookup(pour => pour.PlantId);
    }

    private sealed record Pour(Guid PlantId, DateTime At, Pouring What, double Litres, ComponentAmounts MolPerKgWater);
}
