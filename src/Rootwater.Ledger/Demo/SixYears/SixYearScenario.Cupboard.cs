using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Demo.SixYears;

// An evening with the cupboard: what is old or doubtful goes, the rest is weighed, so that something runs out within the year.
internal sealed partial class SixYearScenario
{
    // Grams left of the newest package; what is not named stays as it is.
    private static readonly (string Key, double Grams, int LeadDays)[] s_short = [("kno3", 9.5, 12), ("mgso4", 14, 10), ("calnit", 70, 14)];

    private IEnumerable<NewFact> Sorted()
    {
        Clock.MoveTo(At(_today.AddDays(-1), 19, 0));
        foreach (var (key, lotId) in _cupboard.Older)
        {
            Pass(20);
            yield return Fact(lotId, new LotWeighed(lotId, 0, key == "calnit" ? "had run: thrown out" : "old package, given away"));
        }

        foreach (var (key, grams, days) in s_short)
        {
            var item = _cupboard.Products[key];
            Pass(30);
            yield return Fact(item.LotId, new LotWeighed(item.LotId, grams, "poured into the small jar and weighed; the bag went to the neighbour"));
            Pass(10);
            yield return Fact(item.Product.Id, new ProductLead(item.Product.Id, days));
        }

        var feed = _cupboard.Products["feed"].LotId;
        foreach (var (ago, grams, why) in new[] { (190, 35.0, "tipped over"), (41, 18.0, "caked, picked out") })
        {
            Pass(10);
            yield return Fact(feed, new LotSpilt(feed, grams, why), OnDay(_today.AddDays(-ago)));
        }

        foreach (var fact in Rain().Concat(OnTrial()))
        {
            Pass(10);
            yield return fact;
        }
    }

    /// <summary>Six years of a gauge on the roof, written down together. A wet day follows a wet day more often than a dry one; a Markov chain with exponential amounts, about 700 mm a year: invented.</summary>
    private IEnumerable<NewFact> Rain()
    {
        var dice = new Dice(_seed ^ 0xBA11);
        var wet = false;
        var days = new List<RainDay>();
        for (var day = _start; day < _today; day = day.AddDays(1))
        {
            wet = dice.Share() < (wet ? 0.62 : 0.24);
            days.Add(new RainDay(day, wet ? Math.Round(-4.9 * Math.Log(1 - dice.Share()), 1) : 0));
        }

        yield return Fact(_waters.Rain.Id, new WaterRoof(_waters.Rain.Id, 1.1, 180, 0.8));
        yield return Fact(_waters.Rain.Id, new WaterLevelSeen(_waters.Rain.Id, 24));
        foreach (var year in days.GroupBy(day => day.Day.Year))
        {
            yield return Fact(Guid.Empty, new RainRecorded([.. year], "gauge on the roof"));
        }
    }

    /// <summary>A new brand of base feed: label read, tested, clear, and for four months on two plants beside their sisters.</summary>
    private IEnumerable<NewFact> OnTrial()
    {
        var entry = new NewProduct
        {
            Id = NewId(),
            Name = "base feed 12-5-16 with Ca and Mg, new brand",
            LabelText = "Total nitrogen (N) 12 %\nnitrate nitrogen 10.6 %\nammoniacal nitrogen 1.4 %\nP2O5 5 %\nK2O 16 %\nCaO 9 %\nMgO 3 %\nFe 0.1 % EDTA\nMn 0.05 % EDTA",
            PricePerKg = 9.40m,
        };
        var read = ProductEntries.Read(entry);
        if (read.Product is not { } product)
        {
            yield break;
        }

        FactWhen On(int daysAgo, int hour) => FactWhen.AtMinute(_today.AddDays(-daysAgo).ToDateTime(new TimeOnly(hour, 10)), Zone);
        yield return Fact(Guid.Empty, new ProductEntryBegun(product.Id, product, null, read.MadeOf, null, null), On(128, 18));
        var planned = new ProductTestPlanned(product.Id, 1, 2, _waters.Rain.Id, _waters.Rain.MolPerKgWater, 20);
        yield return Fact(product.Id, planned, On(128, 19));
        // Read as the label says, and two per cent over, rounded as a pen does.
        var expected = Growing.Cupboard.Entry.ProductEntry.Resume(product, [EntriesInLedger.StepOf(planned, On(128, 19))]).Test!;
        yield return Fact(product.Id, new ProductTestRead(product.Id, Math.Round(expected.Ec.Value * 1.02 / 10) * 10, Math.Round(expected.PH.Value + 0.1, 1)), On(128, 20));
        yield return Fact(product.Id, new ProductTestLooked(product.Id, true, "clear against the lamp"), On(127, 21));
        var pairs = _plants.Where(plant => plant.IsHere).GroupBy(plant => (plant.Plant.Want, plant.Plant.PotNow.Medium, plant.Plant.PotNow.Culture)).Where(group => group.Count() > 1)
            .OrderByDescending(group => group.Count()).SelectMany(group => group.OrderBy(plant => plant.Plant.Number).Chunk(2).Where(two => two.Length == 2)).Take(2)
            .Select(two => new Growing.Cupboard.Entry.TrialPair(two[0].Id, two[1].Id)).ToList();
        yield return Fact(product.Id, new ProductTrialBegun(product.Id, pairs, "new leaves, and whether the oldest leaf yellows, by the end of the year"), On(125, 9));
        yield return Fact(product.Id, new ProductSet(product, null, read.MadeOf), On(125, 9));
        var lot = NewId();
        yield return Fact(lot, new LotBought(lot, product.Id, 500, _today.AddDays(-129), _today.AddDays(-128), null, "sample bag"));
    }
}
