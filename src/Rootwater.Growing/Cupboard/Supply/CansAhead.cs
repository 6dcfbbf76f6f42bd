namespace Rootwater.Growing.Cupboard.Supply;

/// <summary>What is mixed for those who are fed on one walk, after cans of the past.</summary>
/// <remarks>
/// Recipes that mostly shared a can on days on which both were fed go on sharing it. Of how many cans, and what they are made of (grams per litre, waters), a walk of the newest year tells: one of
/// that season, or, where the cans of today differ from those of the same season a year ago, one with cans like today's; of these one on which about as much was poured. What is mixed
/// beyond the need is what was left of a can that poured about as much: a scale too coarse for half a litre asks for two litres at least, whether one plant is fed or three.
/// </remarks>
internal sealed class CansAhead
{
    private const int NewestDays = 400, SeasonDays = 45, LeastInSeason = 5, YearDays = 365, Months = 12, Nearest = 5;

    // Of the grams in the cans of today and of a year ago: more than a tenth not common to both is another make.
    private const double OtherMake = 0.1;

    private readonly Dictionary<string, Shared> _byRecipe = [];

    public CansAhead(IReadOnlyList<CanPattern> patterns, DateOnly today)
    {
        var newest = patterns.Where(pattern => today.DayNumber - pattern.On.DayNumber <= NewestDays).ToList();
        foreach (var recipes in Sharing(newest))
        {
            var shared = new Shared([.. newest.Where(pattern => recipes.Any(pattern.Recipes.ContainsKey))], today);
            foreach (var recipe in recipes)
            {
                _byRecipe[recipe] = shared;
            }
        }
    }

    public bool Serves(string recipe) => _byRecipe.ContainsKey(recipe);

    public Shared Of(string recipe) => _byRecipe[recipe];

    private static List<HashSet<string>> Sharing(IReadOnlyList<CanPattern> patterns)
    {
        var days = patterns.GroupBy(pattern => pattern.On).Select(day => day.Select(can => can.Recipes.Where(fed => fed.Value > 0).Select(fed => fed.Key).ToHashSet()).ToList()).ToList();
        var groups = new List<HashSet<string>>();
        foreach (var recipe in patterns.SelectMany(pattern => pattern.Recipes).Where(fed => fed.Value > 0).Select(fed => fed.Key).Distinct().Order(StringComparer.Ordinal))
        {
            if (groups.Find(group => group.Any(other => ShareACan(recipe, other))) is { } with)
            {
                with.Add(recipe);
            }
            else
            {
                groups.Add([recipe]);
            }
        }

        return groups;

        bool ShareACan(string one, string other)
        {
            var both = days.Where(cans => cans.Exists(can => can.Contains(one)) && cans.Exists(can => can.Contains(other))).ToList();
            return both.Count > 0 && 2 * both.Count(cans => cans.Exists(can => can.Contains(one) && can.Contains(other))) >= both.Count;
        }
    }

    /// <summary>The can that some recipes share.</summary>
    internal sealed class Shared
    {
        private readonly Walk[][] _walksByMonth;
        private readonly CanPattern[] _byPoured;

        public Shared(IReadOnlyList<CanPattern> all, DateOnly today)
        {
            var alike = OfTodaysMake(all, today);
            var walks = (alike ?? all).GroupBy(pattern => pattern.On).Select(day => new Walk(day.Key, [.. day])).OrderBy(walk => walk.Litres).ToList();
            _byPoured = [.. all.OrderBy(pattern => pattern.LitresPoured)];
            _walksByMonth =
            [
                .. Enumerable.Range(1, Months).Select(month =>
                    alike is null && walks.Where(walk => GapsAhead.Apart(walk.On, month) <= SeasonDays).ToArray() is { Length: >= LeastInSeason } season ? season : [.. walks]),
            ];
        }

        /// <summary>What is mixed for a walk.</summary>
        public IEnumerable<ComingCan> Mix(DateOnly day, double litres, int plants, Random random)
        {
            var like = AboutAsMuch(_walksByMonth[day.Month - 1], walk => walk.Litres, litres, random);
            var (poured, fed) = (0.0, 0);
            foreach (var can in like.Cans)
            {
                poured += can.LitresPoured;
                var need = litres * can.LitresPoured / like.Litres;
                var upTo = (int)Math.Round(plants * poured / like.Litres);
                yield return new ComingCan(day, can, need + AboutAsMuch(_byPoured, each => each.LitresPoured, need, random).LitresLeft, upTo - fed);
                fed = upTo;
            }
        }

        private static T AboutAsMuch<T>(T[] sorted, Func<T, double> litres, double need, Random random)
        {
            // The first that poured at least as much; the nearest lie around it.
            var (low, high) = (0, sorted.Length);
            while (low < high)
            {
                var middle = (low + high) / 2;
                (low, high) = litres(sorted[middle]) < need ? (middle + 1, high) : (low, middle);
            }

            var (from, to) = (Math.Max(0, low - Nearest), Math.Min(sorted.Length, low + Nearest));
            while (to - from > Nearest)
            {
                if (need - litres(sorted[from]) > litres(sorted[to - 1]) - need)
                {
                    from++;
                }
                else
                {
                    to--;
                }
            }

            return sorted[random.Next(from, to)];
        }

        /// <summary>Cans more like those of these weeks than those of the same weeks a year ago; null where the two are alike, or either is too few.</summary>
        private static List<CanPattern>? OfTodaysMake(IReadOnlyList<CanPattern> all, DateOnly today)
        {
            List<CanPattern> Around(int daysAgo) => [.. all.Where(pattern => Math.Abs(today.DayNumber - daysAgo - pattern.On.DayNumber) <= SeasonDays)];
            var (now, then) = (Around(0), Around(YearDays));
            if (now.Count < LeastInSeason || then.Count < LeastInSeason)
            {
                return null;
            }

            var (make, was) = (Mean(now), Mean(then));
            return Unlike(make, was) <= OtherMake ? null : [.. all.Where(pattern => Unlike(pattern.GramsPerLitre, make) <= Unlike(pattern.GramsPerLitre, was))];
        }

        private static Dictionary<Guid, double> Mean(List<CanPattern> cans) =>
            cans.SelectMany(can => can.GramsPerLitre).GroupBy(pair => pair.Key).ToDictionary(product => product.Key, product => product.Sum(pair => pair.Value) / cans.Count);

        // 0 the same, 1 nothing in common (Bray and Curtis 1957, from memory).
        private static double Unlike(IReadOnlyDictionary<Guid, double> one, IReadOnlyDictionary<Guid, double> other)
        {
            var (apart, sum) = (0.0, 0.0);
            foreach (var product in one.Keys.Union(other.Keys))
            {
                var (a, b) = (one.GetValueOrDefault(product), other.GetValueOrDefault(product));
                (apart, sum) = (apart + Math.Abs(a - b), sum + a + b);
            }

            return sum > 0 ? apart / sum : 0;
        }

        private sealed record Walk(DateOnly On, CanPattern[] Cans)
        {
            public double Litres { get; } = Cans.Sum(can => can.LitresPoured);
        }
    }
}
