using System.Globalization;
using Rootwater.Growing;
using Rootwater.Growing.Mixing;

namespace Rootwater.Ledger.Demo;

/// <summary>The wants of wants.csv.</summary>
internal sealed class DemoBand
{
    public DemoBand(Func<Guid> newId)
    {
        foreach (var row in DemoTable.Read("wants.csv"))
        {
            Wants[row["key"]] = (newId(), new Want
            {
                Name = row["name"],
                TotalNitrogenMgPerLitre = BandOf(row["n"]),
                FeedMgPerLitre = new Dictionary<Nutrient, Band>
                {
                    [Nutrient.Phosphorus] = BandOf(row["p"]),
                    [Nutrient.Potassium] = BandOf(row["k"]),
                    [Nutrient.Calcium] = BandOf(row["ca"]),
                    [Nutrient.Magnesium] = BandOf(row["mg"]),
                    [Nutrient.Iron] = BandOf(row["fe"]),
                },
                EcMicrosiemensPerCm = BandOf(row["ec"]),
                RootPH = BandOf(row["root_ph"]),
                Source = row["source"],
            });
        }
    }

    public Dictionary<string, (Guid Id, Want Want)> Wants { get; } = [];

    private static Band BandOf(string text)
    {
        var ends = text.Split('/').Select(part => double.Parse(part, CultureInfo.InvariantCulture)).ToArray();
        return new Band(ends[0], ends[1], ends[2]);
    }
}
