using System.Collections.Concurrent;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Ledger.Desks;

/// <content>The forecast turned round.</content>
public sealed partial class PotLearningDesk
{
    // Draws of each pot's parameters: enough that a chance is told to about a tenth. A group's pots are many, and each gets fewer.
    private const int Draws = 12, DrawsInGroup = 4, MostOfGroup = 24, Feeds = 6;
    private readonly ConcurrentDictionary<(Guid Pot, bool Group), PourSheet> _pours = new();

    public async Task<PourSheet> PourAsync(int plantNumber, IProgress<CalibrationProgress>? progress = null, CancellationToken cancel = default)
    {
        var record = await RecordAsync(plantNumber, cancel);
        return await PourAsync(record, [record], group: false, progress, cancel);
    }

    public async Task<PourSheet> PourGroupAsync(int plantNumber, IProgress<CalibrationProgress>? progress = null, CancellationToken cancel = default)
    {
        var record = await RecordAsync(plantNumber, cancel);
        var group = (await InHandAsync(cancel)).Records
            .Where(other => other.Want is not null && other.Plant.WantId == record.Plant.WantId && other.Pot.Culture == record.Pot.Culture && other.Pot.Medium == record.Pot.Medium && other.History is not null)
            .OrderBy(other => Math.Abs(other.Plant.Number - plantNumber)).Take(MostOfGroup).ToList();
        return await PourAsync(record, group, group: true, progress, cancel);
    }

    private async Task<PourSheet> PourAsync(PotRecord about, IReadOnlyList<PotRecord> pots, bool group, IProgress<CalibrationProgress>? progress, CancellationToken cancel)
    {
        if (about.Want is not { } want)
        {
            throw new EntryException("want", about.Plant.CurrentName, "a plant whose want is chosen: its window of pH at the root is needed");
        }

        if (about.History is null)
        {
            throw new EntryException("pot", about.Pot.Medium, about.WhyNone!);
        }

        if (database.Learned is null)
        {
            await RefreshAsync(progress, cancel);
        }

        var learned = database.Learned!;
        if (_pours.TryGetValue((about.Pot.Id, group), out var known))
        {
            return known;
        }

        var served = pots.Where(record => learned.Records.GetValueOrDefault(record.Pot.Id)?.History is not null).Select(record => (record, history: learned.Records[record.Pot.Id].History!)).ToList();
        if (served.Count == 0)
        {
            throw new EntryException("pot", about.Plant.CurrentName, "a pot that the fit knows; it was potted a moment ago, ask again when the fit is up to date");
        }

        var (feed, from) = about.LastFeed is { } last ? (last, "the feed it got last, before acid or base") : (PotModels.NominalFeed(want), "a feed that brings the ideals of its want as nitrate");
        try
        {
            var advice = await Task.Run(() => PourSearch.Best(new GroupPourRequest
            {
                Pots =
                [
                    .. served.Select(pair => new ServedPot
                    {
                        Setup = pair.history.Setup,
                        Climate = pair.history.Climate,
                        Before = learned.Of(pair.history).StateNow,
                        Draws = learned.Fit.Draws(pair.history, served.Count > 1 ? DrawsInGroup : Draws, seed: pair.record.Plant.Number),
                        RootPH = pair.record.Want!.RootPH,
                    }),
                ],
                FeedMolPerKgWater = feed,
                Days = Math.Clamp(about.Pot.FeedEveryDays, 1, 60),
                Feeds = Feeds,
            }, progress, cancel), cancel);
            var plants = served.ToDictionary(pair => pair.record.Pot.Id, pair => pair.record.Plant);
            var sheet = new PourSheet(
                advice.PH, advice.Strength,
                [.. advice.Members.Select(member => new PourLine(plants[member.PotId].Number, plants[member.PotId].CurrentName, member.Shared, member.Own, member.DaysAWeekLost))],
                advice.MeanDaysAWeekLost, advice.Words, from);
            _pours[(about.Pot.Id, group)] = sheet;
            return sheet;
        }
        catch (PotInputException refused)
        {
            throw new EntryException(refused.Field, refused.Value, refused.Accepted);
        }
    }
}
