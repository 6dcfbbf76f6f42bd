using Rootwater.Growing.Evidence.Causes;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>
/// The cause sheet of an ailing plant: what the ledger knows is read first, only the rest is asked. It ranks guesses and names the next cheap check; it does not diagnose.
/// </summary>
public interface ICauseDesk
{
    /// <summary>The sheet of a plant or one of its leaves: the open one with what was seen, else a new one with what the ledger knows. Nothing is written.</summary>
    /// <param name="plantId">The plant.</param>
    /// <param name="leafId">The leaf; null for the one leaf that is marked, or the whole plant; empty for the whole plant.</param>
    /// <param name="seen">Looked at and not kept: value by clue. Goes before what was kept.</param>
    /// <param name="cancel">Stops reading.</param>
    /// <exception cref="EntryException">There is no such plant, leaf, clue or value.</exception>
    Task<CauseSheetView> SheetAsync(Guid plantId, Guid? leafId = null, IReadOnlyDictionary<string, string>? seen = null, CancellationToken cancel = default);

    /// <summary>Keeps what was looked at, with the ranking believed at that moment.</summary>
    /// <param name="look">What was looked at.</param>
    /// <param name="cancel">Cancels before anything is written.</param>
    /// <exception cref="EntryException">Names the field that cannot be.</exception>
    Task<CauseSheetView> SeeAsync(CauseLook look, CancellationToken cancel = default);

    /// <summary>Writes down what it proved to be.</summary>
    /// <param name="settling">What came out.</param>
    /// <param name="cancel">Cancels before anything is written.</param>
    /// <exception cref="EntryException">Names the field that cannot be.</exception>
    Task<CauseLine> SettleAsync(CauseSettling settling, CancellationToken cancel = default);

    /// <summary>Keeps the plant apart for the sheet's reason.</summary>
    /// <param name="plantId">The plant.</param>
    /// <param name="leafId">As in <see cref="SheetAsync"/>.</param>
    /// <param name="days">1 to 365.</param>
    /// <param name="id">The idempotency key.</param>
    /// <param name="cancel">Cancels before anything is written.</param>
    Task QuarantineAsync(Guid plantId, Guid? leafId = null, int days = CauseBook.QuarantineDays, Guid? id = null, CancellationToken cancel = default);

    /// <summary>All sheets: open, settled, and how often the first guess was right.</summary>
    Task<CauseBook> BookAsync(CancellationToken cancel = default);
}

/// <summary>What was looked at on a plant.</summary>
public sealed record CauseLook
{
    public required Guid PlantId { get; init; }
    public Guid? LeafId { get; init; }

    /// <summary>True where it is about the whole plant although one leaf is marked.</summary>
    public bool WholePlant { get; init; }

    /// <summary>Value by clue as in data/growing/clues.csv; null where an answer does not count any more.</summary>
    public required IReadOnlyDictionary<string, string?> Answers { get; init; }

    /// <summary>The idempotency key; made when null.</summary>
    public Guid? Id { get; init; }
    public FactWhen? When { get; init; }
}

/// <summary>What a sheet proved to be.</summary>
public sealed record CauseSettling
{
    public required Guid SheetId { get; init; }

    /// <summary>As in data/growing/causes.csv; null where it never came out or was none of them.</summary>
    public required string? Cause { get; init; }

    /// <summary>How it was known.</summary>
    public required string Evidence { get; init; }

    /// <summary>The idempotency key; made when null.</summary>
    public Guid? Id { get; init; }
    public FactWhen? When { get; init; }
}

/// <summary>A cause sheet as it stands.</summary>
public sealed record CauseSheetView
{
    public required PlantRef Plant { get; init; }
    public required string Kind { get; init; }

    /// <summary>The leaf it is about; null for the whole plant.</summary>
    public required Guid? LeafId { get; init; }

    /// <summary>"bulb 4, leaf 1"; null for the whole plant.</summary>
    public required string? Leaf { get; init; }

    /// <summary>Leaves it may be about: those that live, and those lost within half a year.</summary>
    public required IReadOnlyList<CauseLeaf> Leaves { get; init; }

    /// <summary>The sheet what is seen is kept under; null while nothing was kept.</summary>
    public required Guid? SheetId { get; init; }
    public required DateOnly? OpenedOn { get; init; }

    /// <summary>What the ledger said, in words.</summary>
    public required IReadOnlyList<string> Read { get; init; }

    /// <summary>Clues that are answered, by looking or by the ledger.</summary>
    public required IReadOnlyList<CauseAnswered> Answered { get; init; }
    public required CauseSheetResult Result { get; init; }

    /// <summary>True while the plant is kept apart.</summary>
    public required bool KeptApart { get; init; }
    public required int Photos { get; init; }

    /// <summary>Method, assumptions and n, in sentences.</summary>
    public required IReadOnlyList<string> Method { get; init; }
}

/// <summary>A leaf a sheet can be about.</summary>
public sealed record CauseLeaf(Guid Id, string Name, bool Marked, DateOnly? LostOn);

/// <summary>A clue with its answer.</summary>
/// <param name="Clue">The clue.</param>
/// <param name="Value">Id of what was found.</param>
/// <param name="Words">In words.</param>
/// <param name="FromLedger">True where the ledger said it.</param>
/// <param name="FactId">The fact that keeps it; null where the ledger said it or it was not kept.</param>
public sealed record CauseAnswered(CauseClue Clue, string Value, string Words, bool FromLedger, Guid? FactId);

/// <summary>A sheet in a line.</summary>
public sealed record CauseLine
{
    public required Guid SheetId { get; init; }
    public required PlantRef Plant { get; init; }
    public required Guid? LeafId { get; init; }
    public required string? Leaf { get; init; }
    public required DateOnly OpenedOn { get; init; }
    public required DateOnly LastSeenOn { get; init; }
    public required int Answers { get; init; }

    /// <summary>As believed when something was last looked at, likeliest first.</summary>
    public required IReadOnlyList<CauseBelieved> Ranked { get; init; }
    public DateOnly? SettledOn { get; init; }

    /// <summary>What it proved to be; null while open, or where it never came out.</summary>
    public string? Cause { get; init; }
    public string? Evidence { get; init; }

    /// <summary>Where the cause it proved to be stood in the ranking, 1 the first; null where it was not in it, or nothing came out.</summary>
    public int? Rank { get; init; }
}

/// <summary>All cause sheets.</summary>
public sealed record CauseBook
{
    /// <summary>Days a plant is kept apart on a suspicion: what separates two virus tests (four weeks, common practice, no source).</summary>
    public const int QuarantineDays = 28;

    /// <summary>Newest first.</summary>
    public required IReadOnlyList<CauseLine> Open { get; init; }

    /// <summary>Newest first.</summary>
    public required IReadOnlyList<CauseLine> Settled { get; init; }
    public required CauseHits Hits { get; init; }
}

/// <summary>How good the ranking was: settled sheets whose cause came out.</summary>
/// <param name="Judged">So many.</param>
/// <param name="First">Of them the first-ranked was right.</param>
/// <param name="FirstThree">It was among the first three.</param>
/// <param name="Low95">What that says of the true share of firsts, lower end, 95 % (Clopper and Pearson 1934); null with none judged.</param>
/// <param name="High95">Upper end.</param>
/// <param name="Words">In a sentence.</param>
public sealed record CauseHits(int Judged, int First, int FirstThree, double? Low95, double? High95, string Words);
