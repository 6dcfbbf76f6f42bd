using Rootwater.Growing;
using Rootwater.Growing.Mixing;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Tests.Desks;

/// <summary>What the mixing card shows of the root before the pour, and what is recorded of it with the pour.</summary>
public sealed class CardAndRecordTests(TaughtBench bench) : IClassFixture<TaughtBench>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task They_are_one_band_and_readings_that_come_later_change_neither()
    {
        var (pot, group, alike) = await ErringPotsAsync();
        var card = await CanAsync(group);

        var shown = await bench.Desks.Pots.ForecastAsync(pot.PotId, card, 14, Cancel);
        await bench.Desks.Mixing.PourAsync(card.Id, cancel: Cancel);

        var recorded = (await bench.Desks.Pots.BelievedAsync(pot.PlantId, Cancel)).Single(each => each.Forecast.CanId == card.Id).Forecast;
        recorded.Corrected.ShouldNotBeNull().PH.ShouldSatisfyAllConditions(by => by.Met.ShouldBeGreaterThan(4), by => by.Shift.ShouldBeGreaterThan(0.1));
        foreach (var moment in recorded.Believed)
        {
            var on = shown.Moments.MinBy(each => Math.Abs(each.Hours - 24 * moment.Day))!;
            Alike(on.RootPH, moment.PH, 0.003);
            Alike(on.RootEcMicrosiemensPerCm, moment.EcMicrosiemensPerCm, 0.3);
        }

        shown.Corrected.ShouldBe(FactWords.Say($"Corrected by what the last forecasts of such pots were off by: pH: {recorded.Corrected.PH.Factor:0.0} times as wide, moved by {recorded.Corrected.PH.Shift:+0.0} within a week ({recorded.Corrected.PH.Met} readings); EC: {recorded.Corrected.Ec.Factor:0.0} times as wide (0 readings)."));
        // The share of time is of the band that is shown.
        shown.ShareInWindow.Value.ShouldBe(Growing.Pots.TimeShare.Inside([.. shown.Moments.Select(each => each.Hours)], [.. shown.Moments.Select(each => each.RootPH.Value)], shown.PHWindow), 1e-9);

        bench.Clock.Advance(TimeSpan.FromDays(3));
        await ReadAsync(alike, 3);
        var again = await bench.Desks.Pots.ForecastAsync(pot.PotId, card, 14, Cancel);
        again.Corrected.ShouldBe(shown.Corrected);
        again.Moments.ShouldBe(shown.Moments);
        var next = await bench.Desks.Pots.ForecastAsync(pot.PotId, card with { Id = Guid.CreateVersion7() }, 14, Cancel);
        next.Corrected.ShouldNotBe(shown.Corrected, "a can that is poured now is corrected by what was read since");
    }

    [Fact]
    public void Before_a_forecast_was_met_by_a_reading_the_card_says_that_its_bands_stand_on_none()
    {
        var pots = new PotsAlike(BelievedForecasts.Model, "bark mix", Culture.OpenMix);

        BandCorrectionWords.AtTheRoot(pots, new ForecastErrors().Of(pots)).ShouldBe("No forecast of such pots was met by a reading yet: bands 2.0 times as wide as what the data sheet says.");
    }

    private static void Alike(Expected shown, Expected recorded, double within) =>
        shown.ShouldSatisfyAllConditions(each => each.Low.ShouldBe(recorded.Low, within), each => each.Value.ShouldBe(recorded.Value, within), each => each.High.ShouldBe(recorded.High, within));

    private async Task<CanPlan> CanAsync(string group)
    {
        var can = (await bench.Desks.Mixing.PlanAsync(new PlanChoices { Groups = [group], MostCans = 1 }, cancel: Cancel)).Plan.ShouldNotBeNull().Cans.Single();
        return (await bench.Desks.Mixing.SaveCanAsync(can, Cancel)).Card;
    }

    // A pot that is due, with its group, and all of its kind, of which none was fitted and the runoff comes out too high in pH.
    private async Task<(PotLine Pot, string Group, IReadOnlyList<PotLine> Alike)> ErringPotsAsync()
    {
        var learned = bench.Desks.Database.Learned.ShouldNotBeNull();
        var due = (await bench.Desks.Mixing.GetBenchTodayAsync(cancel: Cancel)).Due.SelectMany(group => group.Plants.Select(plant => (plant.PlantId, group.Group.Name))).ToDictionary(each => each.PlantId, each => each.Name);
        var alike = (await bench.Desks.Learning.ListAsync(Cancel)).Pots.Where(pot => learned.Records[pot.PotId] is { History: not null } record && learned.FindTaught(record.Pot) is null)
            .GroupBy(pot => (pot.Medium, pot.Culture)).Where(kind => kind.Any(pot => due.ContainsKey(pot.PlantId))).MaxBy(kind => kind.Count())!.ToList();
        await ReadAsync(alike, 0);
        var chosen = alike.First(pot => due.ContainsKey(pot.PlantId));
        return (chosen, due[chosen.PlantId], alike);
    }

    /// <summary>Reads the runoff of pots: a week after their last feed a pH above what the model said then, before that in proportion.</summary>
    private async Task ReadAsync(IReadOnlyList<PotLine> pots, int daysOn)
    {
        var at = new DateTime(2026, 3, 14, 9, 0, 0).AddDays(daysOn);
        foreach (var pot in pots)
        {
            if ((await bench.Desks.Pots.BelievedAsync(pot.PlantId, Cancel)).LastOrDefault() is { Forecast: { Moments.Count: > 1 } forecast } fed)
            {
                var days = (at - fed.FedOn.ToDateTime(new TimeOnly(9, 0))).TotalDays;
                var pH = ForecastScale.At(forecast, Foretold.RootPH, Math.Min(days, 14)).Value + ForecastScale.Grown(days);
                await bench.Desks.Facts.WriteAsync(
                    [
                        new NewFact
                        {
                            Id = Guid.CreateVersion7(), SubjectId = pot.PlantId, When = FactWhen.AtMinute(at, "Etc/UTC"),
                            Payload = new ReadingTaken { ReadingId = Guid.CreateVersion7(), Of = ReadingOf.Runoff, PlantId = pot.PlantId, PotId = pot.PotId, PH = Math.Round(pH, 2) },
                        },
                    ],
                    cancel: Cancel);
            }
        }

        // What is in hand is read once a day.
        bench.Desks.Database.ForecastErrors = null;
    }
}
