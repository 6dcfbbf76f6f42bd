using Rootwater.Growing;
using Rootwater.Growing.Bench;

namespace Rootwater.Ledger.Rows;

/// <summary>A pot that holds, or held, a plant.</summary>
public sealed class PotRow
{
    public Guid Id { get; set; }
    public Guid PlantId { get; set; }
    public Culture Culture { get; set; }
    public required string Medium { get; set; }
    public double MediumLitres { get; set; }
    public double ReservoirLitres { get; set; }
    public double FeedMillilitres { get; set; }
    public int FeedEveryDays { get; set; }
    public DateOnly FilledOn { get; set; }

    /// <summary>The day the plant left it; null while it stands in it.</summary>
    public DateOnly? LeftOn { get; set; }

    /// <summary>Last day it got feed.</summary>
    public DateOnly? LastFedOn { get; set; }

    /// <summary>Last day it got feed, water or a leach.</summary>
    public DateOnly? LastGivenOn { get; set; }

    public Pot ToPot() => new()
    {
        Id = Id,
        Culture = Culture,
        Medium = Medium,
        MediumLitres = MediumLitres,
        ReservoirLitres = ReservoirLitres,
        FeedMillilitres = FeedMillilitres,
        FeedEveryDays = FeedEveryDays,
        LastFed = LastFedOn,
    };
}
