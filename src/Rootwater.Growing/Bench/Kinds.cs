using System.Collections.Concurrent;
using System.Globalization;

namespace Rootwater.Growing.Bench;

/// <summary>The habits of data/growing/kinds.csv.</summary>
public static class Kinds
{
    private const int MostRemembered = 1000;
    private static readonly Lazy<IReadOnlyList<Kind>> s_all = new(Read);
    private static readonly ConcurrentDictionary<string, Kind?> s_found = new(StringComparer.Ordinal);

    public static IReadOnlyList<Kind> All => s_all.Value;

    /// <summary>
    /// The kind a grower's words mean: all words of its name stand among them, and the fullest such name wins, so that "cool Masdevallia" finds
    /// "Masdevallia". A genus of which only sections are listed (Dendrobium) is not guessed at. Null where none fits.
    /// </summary>
    /// <param name="words">The kind as entered on the plant; a name by the code ("Phalaenopsis equestris") does as well.</param>
    public static Kind? Find(string words)
    {
        // Asked for every plant on every walk, while the words hardly ever change.
        if (s_found.Count > MostRemembered)
        {
            s_found.Clear();
        }

        return s_found.GetOrAdd(words, Seek);
    }

    private static Kind? Seek(string words)
    {
        var given = Words(words).ToHashSet(StringComparer.OrdinalIgnoreCase);
        return All.Where(kind => Words(kind.Name).All(given.Contains)).MaxBy(kind => Words(kind.Name).Length);
    }

    private static string[] Words(string text) => text.Split([' ', ',', '.', '×'], StringSplitOptions.RemoveEmptyEntries);

    private static List<Kind> Read()
    {
        var kinds = new List<Kind>();
        foreach (var row in EmbeddedTable.Read("kinds.csv"))
        {
            kinds.Add(new Kind
            {
                Name = row["kind"],
                Genus = row["genus"],
                WantKind = row["want_kind"],
                Habit = Enum.Parse<Habit>(row["habit"]),
                Leaves = row["leaves"] switch
                {
                    "evergreen" => LeafHabit.Evergreen,
                    "semi" => LeafHabit.SemiDeciduous,
                    "deciduous" => LeafHabit.Deciduous,
                    var other => throw new InvalidOperationException($"kinds.csv: leaves \"{other}\" of {row["kind"]}: evergreen, semi or deciduous."),
                },
                Rest = row["rest"].Length == 0 ? null : new Rest
                {
                    State = Enum.Parse<PlantState>(row["rest"]),
                    FromMonth = int.Parse(row["from_month"], CultureInfo.InvariantCulture),
                    ToMonth = int.Parse(row["to_month"], CultureInfo.InvariantCulture),
                    BeginsAt = Signs(row["begin_signs"]),
                    EndsAt = Signs(row["end_signs"]),
                    Water = Enum.Parse<RestRation>(row["water"], ignoreCase: true),
                    Feed = Enum.Parse<RestRation>(row["feed"], ignoreCase: true),
                },
                Advice = row["advice"],
                Source = row["source"],
            });
        }

        return kinds;
    }

    private static RestSign[] Signs(string cell) => [.. cell.Split('|').Select(sign => Enum.Parse<RestSign>(sign.Replace(" ", "", StringComparison.Ordinal), ignoreCase: true))];
}
