using Rootwater.Growing.Bench.Names;

namespace Rootwater.Growing.Bench;

/// <summary>A living plant as the advisor on backups sees it.</summary>
/// <param name="Id">The plant.</param>
/// <param name="Name">Current name.</param>
/// <param name="TakenFrom">The plant it is a division or keiki of.</param>
/// <param name="Virus">An infected plant is nobody's backup.</param>
public sealed record Specimen(Guid Id, string Name, Guid? TakenFrom, VirusStanding Virus = VirusStanding.Untested);

/// <summary>Species and clones of which one plant stands here and no division is kept aside.</summary>
/// <remarks>
/// Two plants back each other up when they are of one flesh (division, keiki), or when both bear the same full name. A name that does not tell one plant from
/// another ("sp.", "hybrid", unknown) makes none. A named clone is backed up only by the same clone; a species by any plant of the species.
/// </remarks>
public static class SoleSpecimens
{
    public static IReadOnlyList<Guid> Find(IReadOnlyList<Specimen> living)
    {
        var names = living.ToDictionary(plant => plant.Id, plant => NameReader.ReadOrUnknown(plant.Name));
        var byId = living.ToDictionary(plant => plant.Id);
        return [.. living.Where(plant => !living.Any(other => other.Id != plant.Id && other.Virus != VirusStanding.Positive && BacksUp(plant, other))).Select(plant => plant.Id)];

        bool BacksUp(Specimen plant, Specimen other) => Flesh(plant) == Flesh(other) || (Tells(names[plant.Id]) && names[plant.Id].Key == names[other.Id].Key);

        // Mothers that are gone still tie their divisions together.
        Guid Flesh(Specimen plant)
        {
            var seen = new HashSet<Guid> { plant.Id };
            var root = plant.Id;
            for (var at = plant; at.TakenFrom is { } mother && seen.Add(mother);)
            {
                root = mother;
                if (!byId.TryGetValue(mother, out at!))
                {
                    break;
                }
            }

            return root;
        }
    }

    // A grex holds many unlike seedlings: one is not another's backup unless it is the same clone.
    private static bool Tells(OrchidName name) => name.Sort == NameSort.Species || (name.Cultivar is not null && name.Sort is NameSort.Grex or NameSort.Genus or NameSort.Formula);
}
