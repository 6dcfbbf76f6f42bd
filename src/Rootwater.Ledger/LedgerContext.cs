using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Mappings;
using Rootwater.Ledger.Projections;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger;

/// <summary>One mapping for both databases. The facts are the truth; every other table is a projection of them that can be made again.</summary>
public abstract partial class LedgerContext(DbContextOptions options) : DbContext(options)
{
    public DbSet<Fact> Facts => Set<Fact>();
    public DbSet<BenchRow> Benches => Set<BenchRow>();
    public DbSet<VesselRow> Vessels => Set<VesselRow>();
    public DbSet<PlaceRow> Places => Set<PlaceRow>();
    public DbSet<WantRow> Wants => Set<WantRow>();
    public DbSet<PlantRow> Plants => Set<PlantRow>();
    public DbSet<PotRow> Pots => Set<PotRow>();
    public DbSet<WaterRow> Waters => Set<WaterRow>();
    public DbSet<WaterReportRow> WaterReports => Set<WaterReportRow>();
    public DbSet<ProductRow> Products => Set<ProductRow>();
    public DbSet<LotRow> Lots => Set<LotRow>();
    public DbSet<CanRow> Cans => Set<CanRow>();
    public DbSet<CanStepRow> CanSteps => Set<CanStepRow>();
    public DbSet<ReadingRow> Readings => Set<ReadingRow>();
    public DbSet<FeedingRow> Feedings => Set<FeedingRow>();
    public DbSet<PlantLifeRow> PlantLives => Set<PlantLifeRow>();
    public DbSet<CanContentRow> CanContents => Set<CanContentRow>();
    public DbSet<SkipRow> Skips => Set<SkipRow>();
    public DbSet<RoundRow> Rounds => Set<RoundRow>();
    public DbSet<TakenReadingRow> TakenReadings => Set<TakenReadingRow>();
    public DbSet<AirDayRow> AirDays => Set<AirDayRow>();
    public DbSet<PhotoRow> Photos => Set<PhotoRow>();
    public DbSet<CrossRow> Crosses => Set<CrossRow>();
    public DbSet<ForgottenPlantRow> ForgottenPlants => Set<ForgottenPlantRow>();

    /// <summary>Plants being written about in this context.</summary>
    internal Stories Stories => field ??= new Stories(this);

    /// <summary>What readings have taught of the pots; null where nobody has fitted them.</summary>
    internal LearnedPots? Learned { get; set; }

    /// <summary>For writing many rows at once: changes are looked for when they are sent, not at every look into what is tracked.</summary>
    internal void TrackUntilSent() => ChangeTracker.AutoDetectChangesEnabled = false;

    /// <summary>Sends what has changed, within the running transaction.</summary>
    internal async Task SendAsync(CancellationToken cancel)
    {
        await Stories.WriteRowsAsync(cancel);
        await SendRowsAsync(cancel);
    }

    /// <summary>Sends all but the plants being written about, so that what follows may ask the database for the rest.</summary>
    internal async Task SendRowsAsync(CancellationToken cancel)
    {
        if (Many is not null)
        {
            await Many.SendAsync(cancel);
        }

        ChangeTracker.DetectChanges();
        await SaveChangesAsync(cancel);
    }

    /// <summary>Where a great many rows are on their way; null where there are few.</summary>
    internal ManyRows? Many { get; set; }

    /// <summary>A row that is written once and not looked at again before it is sent.</summary>
    internal void AddOnce<TRow>(TRow row) where TRow : class
    {
        if (Many is not null)
        {
            Many.Add(row);
        }
        else
        {
            Add(row);
        }
    }

    protected override void OnModelCreating(ModelBuilder modelBuilder)
    {
        modelBuilder.ApplyConfigurationsFromAssembly(typeof(LedgerContext).Assembly);
        foreach (var property in modelBuilder.Model.GetEntityTypes().SelectMany(entity => entity.GetProperties()))
        {
            property.SetColumnName(InnerCapital().Replace(property.Name, "_$0").ToLowerInvariant());
        }
    }

    /// <summary>"WalkOrder" becomes "walk_order", "PHLow" becomes "ph_low".</summary>
    [GeneratedRegex("(?<=[a-z])[A-Z]|(?<=[A-Z]{2})[A-Z](?=[a-z])")]
    private static partial Regex InnerCapital();
}
