namespace Rootwater.Growing.Bench;

/// <summary>One accession: a living individual.</summary>
public sealed record Plant
{
    public required Guid Id { get; init; }

    /// <summary>The short number on its tag, 1 and up, never given twice on a bench.</summary>
    public required int Number { get; init; }
    public required PlantName Name { get; init; }

    /// <summary>What kind of plant it is in the grower's words ("unifoliate Cattleya"); wants go by kind, not by genus alone.</summary>
    public required string Kind { get; init; }
    public required Habit Habit { get; init; }
    public required IReadOnlyList<PlantState> States { get; init; }
    public required Place? Place { get; init; }
    public required Pot? Pot { get; init; }
}

/// <summary>What a plant is called. What the seller wrote is kept for ever; what it proved to be may change.</summary>
/// <param name="AsReceived">Word for word.</param>
/// <param name="Determined">What it proved to be; null while nobody looked.</param>
public sealed record PlantName(string AsReceived, Determination? Determined)
{
    /// <summary>The name to show: as determined where there is one.</summary>
    public string Current => Determined?.Name ?? AsReceived;
}

/// <summary>A name given on evidence.</summary>
/// <param name="Name">The name, written by the codes of nomenclature.</param>
/// <param name="On">When.</param>
/// <param name="Evidence">On what ("flowers", "column and lip against the description").</param>
public sealed record Determination(string Name, DateOnly On, string Evidence);

/// <summary>Where pots stand.</summary>
/// <param name="Id">The place.</param>
/// <param name="Name">"shelf 2", "hanging".</param>
/// <param name="WalkOrder">When one comes to it on the walk, lowest first.</param>
/// <param name="Light">In the grower's words.</param>
/// <param name="Warmth">In the grower's words.</param>
public sealed record Place(Guid Id, string Name, int WalkOrder, string Light, string Warmth);
