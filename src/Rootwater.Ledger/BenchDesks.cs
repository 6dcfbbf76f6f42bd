using Microsoft.Extensions.DependencyInjection;
using Rootwater.Ledger.Demo;
using Rootwater.Ledger.Desks;

namespace Rootwater.Ledger;

/// <summary>A bench that is open: its desks and its ledger. The terminal opens one per command, the web one per program.</summary>
public sealed class BenchDesks : IAsyncDisposable
{
    private readonly CanHistoryDesk _canHistory;
    private readonly KeptLives<PlantDates> _dates;
    private readonly CauseCases _causes;
    private readonly SeasonDesk _seasons;
    private readonly SupplyDesk _supply;
    private readonly WaterYearDesk _waterYear;

    // Made when first asked for: they load libraries for pictures and print, which a command that plans a can has no use for.
    private readonly Lazy<PhotoDesk> _photos;
    private readonly Lazy<ExchangeDesk> _exchange;

    private BenchDesks(BenchDatabase database, TimeProvider clock, string device)
    {
        Database = database;
        Log = new FactLog(database, clock, device: device);
        _canHistory = new CanHistoryDesk(database, clock);
        var mixing = new MixingDesk(database, Log, clock) { History = _canHistory };
        Mixing = mixing;
        Cupboard = new CupboardDesk(database, Log, clock);
        Water = new WaterDesk(database, Log, clock);
        Pots = new PotDesk(database, clock);
        Backups = new BackupDesk(database, clock);
        Settings = new SettingsDesk(database, Log, clock);
        Time = new BenchTime(database, clock);
        Import = new FactImport(database);
        Facts = new FactDesk(database, Log, clock);
        _learning = new PotLearningDesk(database, Facts, clock);
        _photos = new Lazy<PhotoDesk>(() => new PhotoDesk(database, Facts, clock));
        Plants = new PlantDesk(database, Log, clock) { RemovePictures = (hashes, _) => _photos.Value.RemoveAsync(hashes) };
        Nutrients = new NutrientLedger(database);
        Rounds = new RoundDesk(database, clock);
        Readings = new ReadingDesk(database, Facts, Time);
        Year = new YearDesk(database, Plants, Time);
        _supply = new SupplyDesk(database, Facts, clock);
        _dates = new KeptLives<PlantDates>(PlantDates.Of);
        _causes = new CauseCases();
        Causes = new CauseDesk(database, Facts, Nutrients, Time, _dates, _causes);
        Entries = new ProductEntryDesk(database, Log, Cupboard, Water, Time, clock);
        Substitutes = new SubstituteDesk(database, mixing, Cupboard, Entries, Water, Time);
        _waterYear = new WaterYearDesk(database, Facts, Water, CanHistory, Time, clock);
        var evidence = new EvidenceDesk(database, Plants, Time);
        Evidence = evidence;
        Trials = new TrialDesk(database, Log, evidence, Time, clock);
        _seasons = new SeasonDesk(database, Settings, _dates);
        Tried = new TriedDesk(database, Plants, Nutrients, Evidence, Time);
        Pens = new PenDesk(database, Facts, _canHistory, clock);
        _exchange = new Lazy<ExchangeDesk>(() => new ExchangeDesk(database, Log, Plants, Photos, Mixing, Settings, Rounds, _seasons, Tried, clock));
    }

    private readonly PotLearningDesk _learning;

    public BenchDatabase Database { get; }
    public FactLog Log { get; }
    public IMixingDesk Mixing { get; }
    public ICupboardDesk Cupboard { get; }
    public IWaterDesk Water { get; }
    public IPotDesk Pots { get; }
    public IPotLearningDesk Learning => _learning;
    public IBackupDesk Backups { get; }
    public ISettingsDesk Settings { get; }
    public BenchTime Time { get; }
    public FactImport Import { get; }
    public IFactDesk Facts { get; }
    public IPlantDesk Plants { get; }
    public IPhotoDesk Photos => _photos.Value;
    public INutrientLedger Nutrients { get; }
    public IRoundDesk Rounds { get; }
    public IReadingDesk Readings { get; }
    public IYearDesk Year { get; }
    public IEvidenceDesk Evidence { get; }
    public ICanHistoryDesk CanHistory => _canHistory;
    public ISupplyDesk Supply => _supply;
    public IProductEntryDesk Entries { get; }
    public ISubstituteDesk Substitutes { get; }
    public IWaterYearDesk WaterYear => _waterYear;
    public ITrialDesk Trials { get; }
    public IPenDesk Pens { get; }
    public IExchangeDesk Exchange => _exchange.Value;
    public ICauseDesk Causes { get; }
    public ISeasonDesk Seasons => _seasons;
    public ITriedDesk Tried { get; }

    /// <summary>Opens the bench.</summary>
    /// <param name="options">Where it is kept.</param>
    /// <param name="demo">Fills an empty bench with the demo; a bench that holds anything is left as it is.</param>
    /// <param name="clock">The system's when null.</param>
    /// <param name="device">On what facts are entered: "terminal", "web".</param>
    /// <param name="story">How much the demo tells.</param>
    /// <param name="cancel">Cancels before anything is written.</param>
    /// <exception cref="LedgerProblem">It cannot be used; the message names it and the way out.</exception>
    public static async Task<BenchDesks> OpenAsync(
        LedgerOptions? options = null, bool demo = false, TimeProvider? clock = null, string device = "desk", DemoStory story = DemoStory.ThreeMonths, CancellationToken cancel = default)
    {
        clock ??= TimeProvider.System;
        // A file that is not there yet will be empty: its story begins while its tables are made.
        using var told = demo && story == DemoStory.SixYears && (await BenchDatabase.PlaceOfAsync(options ?? new())).File is { } file && !File.Exists(file)
            ? LeanTo.Tell(clock)
            : null;
        var database = await BenchDatabase.OpenAsync(options, cancel);
        if (demo)
        {
            await (told is null ? LeanTo.FillIfEmptyAsync(database, clock, story: story, cancel: cancel) : LeanTo.FillIfEmptyAsync(database, told, cancel));
        }

        return new BenchDesks(database, clock, device);
    }

    public ValueTask DisposeAsync()
    {
        _learning.Dispose();
        _canHistory.Dispose();
        _dates.Dispose();
        _causes.Dispose();
        _seasons.Dispose();
        _supply.Dispose();
        _waterYear.Dispose();
        return Database.DisposeAsync();
    }
}

/// <summary>The desks as services.</summary>
public static class BenchServices
{
    /// <summary>Adds an open bench and its desks; the container closes it.</summary>
    public static IServiceCollection AddBench(this IServiceCollection services, BenchDesks desks) => services
        .AddSingleton(_ => desks)
        .AddSingleton(_ => desks.Mixing)
        .AddSingleton(_ => desks.Cupboard)
        .AddSingleton(_ => desks.Water)
        .AddSingleton(_ => desks.Pots)
        .AddSingleton(_ => desks.Learning)
        .AddSingleton(_ => desks.Backups)
        .AddSingleton(_ => desks.Settings)
        .AddSingleton(_ => desks.Readings)
        .AddSingleton(_ => desks.Year)
        .AddSingleton(_ => desks.CanHistory)
        .AddSingleton(_ => desks.Pens)
        .AddSingleton(_ => desks.Time)
        .AddSingleton(_ => desks.Facts)
        .AddSingleton(_ => desks.Plants)
        .AddSingleton(_ => desks.Photos)
        .AddSingleton(_ => desks.Nutrients)
        .AddSingleton(_ => desks.Rounds)
        .AddSingleton(_ => desks.Evidence)
        .AddSingleton(_ => desks.Supply)
        .AddSingleton(_ => desks.Causes)
        .AddSingleton(_ => desks.Entries)
        .AddSingleton(_ => desks.Substitutes)
        .AddSingleton(_ => desks.WaterYear)
        .AddSingleton(_ => desks.Trials)
        .AddSingleton(_ => desks.Seasons)
        .AddSingleton(_ => desks.Tried)
        .AddSingleton(_ => desks.Exchange);
}
