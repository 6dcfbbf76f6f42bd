using System.Globalization;

namespace Rootwater.Growing.Pots;

/// <summary>The media that ship with the program, from data/growing/media.csv.</summary>
public static class Media
{
    private const string Resource = "data/growing/media.csv";

    private static readonly Lazy<IReadOnlyList<Medium>> s_all = new(Read);

    /// <summary>All of them, in the order of the file.</summary>
    public static IReadOnlyList<Medium> All => s_all.Value;

    /// <summary>Expanded clay, rinsed and in use.</summary>
    public static Medium Default => All[0];

    /// <summary>One of them by its id.</summary>
    /// <exception cref="PotInputException">There is none of that id.</exception>
    public static Medium ById(string id) => All.FirstOrDefault(medium => medium.Id == id)
        ?? throw new PotInputException("pot.medium", id, "one of " + string.Join(", ", All.Select(medium => medium.Id)));

    /// <summary>The medium a grower's words mean ("expanded clay", "bark mix"): its id, its name, or how its name begins. Null when none fits.</summary>
    public static Medium? Find(string words)
    {
        var sought = words.Trim();
        return All.FirstOrDefault(medium => medium.Id.Equals(sought, StringComparison.OrdinalIgnoreCase) || medium.Name.Equals(sought, StringComparison.OrdinalIgnoreCase))
            ?? (sought.Length == 0 ? null : All.FirstOrDefault(medium => medium.Name.StartsWith(sought, StringComparison.OrdinalIgnoreCase)));
    }

    private static List<Medium> Read()
    {
        using var stream = typeof(Media).Assembly.GetManifestResourceStream(Resource) ?? throw new InvalidOperationException($"{Resource} is not embedded.");
        using var reader = new StreamReader(stream);
        reader.ReadLine();
        var media = new List<Medium>();
        while (reader.ReadLine() is { } line)
        {
            if (line.Length > 0)
            {
                media.Add(FromRow(Fields(line)));
            }
        }

        return media;
    }

    private static Medium FromRow(List<string> row)
    {
        double Number(int column) => double.Parse(row[column], CultureInfo.InvariantCulture);
        return new Medium
        {
            Id = row[0],
            Name = row[1],
            WaterHeldLitresPerLitre = Number(2),
            BaseMeqPerLitre = Number(3),
            AcidMeqPerLitre = Number(4),
            RestingPH = Number(5),
            RestingPHPerDecadeCO2 = Number(6),
            ExchangePerDay = Number(7),
            SaltMeqPerLitre = Number(8),
            SaltPerDay = Number(9),
            Cations = new CationShares(Number(10), Number(11), Number(12), Number(13)),
            WetSurfaceShare = Number(14),
            GrainsInReservoirShare = Number(15),
            Source = row[16],
        };
    }

    /// <summary>The fields of one line; a field in double quotes may hold commas.</summary>
    private static List<string> Fields(string line)
    {
        var fields = new List<string>();
        for (var start = 0; start <= line.Length;)
        {
            var quoted = start < line.Length && line[start] == '"';
            var end = line.IndexOf(quoted ? '"' : ',', quoted ? start + 1 : start);
            end = end < 0 ? line.Length : end;
            fields.Add(quoted ? line[(start + 1)..end] : line[start..end]);
            start = end + (quoted ? 2 : 1);
        }

        return fields;
    }
}
