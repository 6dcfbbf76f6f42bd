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
    }
}
