namespace Rootwater.Growing.Bench;

/// <summary>How a plant stands with viruses, worst first.</summary>
public enum VirusStanding
{
    /// <summary>Found once: for ever. There is no cure.</summary>
    Positive,

    /// <summary>A test was unclear and no later one settled it, or a plant of the same flesh was found infected after they were parted.</summary>
    Doubtful,
    Untested,

    /// <summary>One negative test is no clearance: a young infection stays below what a test sees.</summary>
    NegativeOnce,

    /// <summary>Negative at least twice, four weeks apart or more, and never anything else.</summary>
    NegativeTwice,
}

/// <summary>What a plant and its kin were found to be.</summary>
/// <param name="PlantId">The plant.</param>
/// <param name="TakenFrom">The plant it is a division, keiki or cutting of.</param>
/// <param name="TakenOn">When it was taken; the last day it can have been.</param>
/// <param name="Tests">Its own.</param>
public sealed record VirusHistory(Guid PlantId, Guid? TakenFrom, DateOnly? TakenOn, IReadOnlyList<VirusTest> Tests);

/// <summary>A standing with what it rests on.</summary>
/// <param name="Standing">Worst over all viruses.</param>
/// <param name="Virus">The virus that decides; null where nothing was tested.</param>
/// <param name="Decisive">The test that decides; null where nothing was tested.</param>
/// <param name="OfPlant">The plant tested, where it was not this one.</param>
public sealed record VirusVerdict(VirusStanding Standing, string? Virus, VirusTest? Decisive, Guid? OfPlant)
{
    /// <summary>"CymMV: positive (strip, 2025-03-12)".</summary>
    public string Words
    {
        get
        {
            if (Decisive is not { } test)
            {
                return "untested";
            }

            var standing = Standing switch
            {
                VirusStanding.Positive => "positive",
                VirusStanding.Doubtful => OfPlant is not null && test.Result == VirusTestResult.Positive ? "doubtful: a plant of the same flesh is positive" : "doubtful: test again",
                VirusStanding.NegativeOnce => "negative once, which is no clearance",
                _ => "negative twice",
            };
            var day = test.When.IsOneDay ? $"{test.When.Earliest:yyyy-MM-dd}" : $"{test.When.Earliest:yyyy-MM-dd}/{test.When.Latest:yyyy-MM-dd}";
            return $"{test.Virus}: {standing} ({(test.Method == VirusTestMethod.Elisa ? "ELISA" : test.Method == VirusTestMethod.Pcr ? "PCR" : test.Method.ToString().ToLowerInvariant())}, {day}{(OfPlant is null ? "" : ", its kin")})";
        }
    }
}

/// <summary>
/// What virus tests mean. No test by eye, no cure, stable on tools: PNW Plant Disease Handbook, "Orchid-Virus" (read as excerpt).
/// Two negatives four weeks apart: common practice, no source.
/// </summary>
public static class VirusRules
{
    public const int DaysBetweenTests = 28;

    /// <summary>
    /// How a plant stands on a day. Tests of the plant it was taken from, made before the parting, are its own; negatives made later as well, for what is free now
    /// was free then; positives made later only cast doubt.
    /// </summary>
    /// <param name="plant">The plant.</param>
    /// <param name="bench">Histories of all plants that may be kin, by id.</param>
    /// <param name="asOf">Later tests are not known yet.</param>
    public static VirusVerdict Judge(VirusHistory plant, IReadOnlyDictionary<Guid, VirusHistory> bench, DateOnly asOf)
    {
        var known = Own(plant, DateOnly.MaxValue, bench, [])
            .Where(item => item.Test.When.Earliest <= asOf)
            .ToList();
        var kin = KinAfterParting(plant, bench, asOf).ToList();
        var viruses = known.Select(item => item.Test.Virus).Concat(kin.Select(item => item.Test.Virus)).Distinct(StringComparer.OrdinalIgnoreCase).ToList();
        return viruses.Count == 0
            ? new VirusVerdict(VirusStanding.Untested, null, null, null)
            : viruses.Select(virus => Of(plant.PlantId, [.. known.Where(Same(virus))], [.. kin.Where(Same(virus))])).MinBy(verdict => verdict.Standing)!;

        static Func<(Guid PlantId, VirusTest Test), bool> Same(string virus) => item => item.Test.Virus.Equals(virus, StringComparison.OrdinalIgnoreCase);
    }

    private static VirusVerdict Of(Guid plantId, List<(Guid PlantId, VirusTest Test)> known, List<(Guid PlantId, VirusTest Test)> kin)
    {
        if (known.FirstOrDefault(item => item.Test.Result == VirusTestResult.Positive) is { Test: not null } positive)
        {
            return Verdict(VirusStanding.Positive, positive);
        }

        var last = known.OrderBy(item => item.Test.When.Latest).LastOrDefault();
        // A sister found infected after the parting casts doubt until this plant was tested twice since.
        if (kin.OrderBy(item => item.Test.When.Latest).LastOrDefault() is { Test: not null } sister && !TwiceNegative([.. known.Where(item => item.Test.When.Earliest >= sister.Test.When.Earliest)]))
        {
            return Verdict(VirusStanding.Doubtful, sister);
        }

        return last.Test.Result == VirusTestResult.Unclear ? Verdict(VirusStanding.Doubtful, last) : Verdict(TwiceNegative(known) ? VirusStanding.NegativeTwice : VirusStanding.NegativeOnce, last);

        VirusVerdict Verdict(VirusStanding standing, (Guid PlantId, VirusTest Test) by) => new(standing, by.Test.Virus, by.Test, by.PlantId == plantId ? null : by.PlantId);
    }

    private static bool TwiceNegative(List<(Guid PlantId, VirusTest Test)> tests)
    {
        var negatives = tests.Where(item => item.Test.Result == VirusTestResult.Negative).Select(item => item.Test.When).ToList();
        return negatives.Count >= 2 && negatives.Max(when => when.Earliest.DayNumber) - negatives.Min(when => when.Latest.DayNumber) >= DaysBetweenTests;
    }

    private static IEnumerable<(Guid PlantId, VirusTest Test)> Own(VirusHistory plant, DateOnly until, IReadOnlyDictionary<Guid, VirusHistory> bench, HashSet<Guid> seen)
    {
        if (!seen.Add(plant.PlantId))
        {
            yield break;
        }

        foreach (var test in plant.Tests.Where(test => test.When.Earliest <= until || test.Result == VirusTestResult.Negative))
        {
            yield return (plant.PlantId, test);
        }

        if (plant.TakenFrom is { } motherId && bench.TryGetValue(motherId, out var mother))
        {
            foreach (var item in Own(mother, plant.TakenOn is { } taken && taken < until ? taken : until, bench, seen))
            {
                yield return item;
            }
        }
    }

    /// <summary>Positive tests of plants of the same flesh, made after they were parted from this one.</summary>
    private static IEnumerable<(Guid PlantId, VirusTest Test)> KinAfterParting(VirusHistory plant, IReadOnlyDictionary<Guid, VirusHistory> bench, DateOnly asOf)
    {
        var root = Root(plant, bench);
        var own = Own(plant, DateOnly.MaxValue, bench, []).Select(item => item.Test).ToHashSet();
        return bench.Values.Where(other => other.PlantId != plant.PlantId && Root(other, bench) == root)
            .SelectMany(other => other.Tests.Where(test => test.Result == VirusTestResult.Positive && test.When.Earliest <= asOf && !own.Contains(test)).Select(test => (other.PlantId, test)));
    }

    private static Guid Root(VirusHistory plant, IReadOnlyDictionary<Guid, VirusHistory> bench)
    {
        var seen = new HashSet<Guid> { plant.PlantId };
        while (plant.TakenFrom is { } id && bench.TryGetValue(id, out var mother) && seen.Add(id))
        {
            plant = mother;
        }

        return plant.PlantId;
    }
}
