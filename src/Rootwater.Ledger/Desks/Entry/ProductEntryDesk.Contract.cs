using Rootwater.Growing;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Cupboard.Entry;

namespace Rootwater.Ledger.Desks;

/// <summary>A new product on its guided way into the cupboard: label, test can, a day's look, a few plants, decision. Resumable; every step is a fact.</summary>
public interface IProductEntryDesk
{
    /// <summary>Reads a label without keeping it: what it must be made of, what is odd, whether a known product's label has changed.</summary>
    Task<EntryPreview> PreviewAsync(NewProduct entry, CancellationToken cancel = default);

    /// <summary>All that were begun, those still open first, newest first.</summary>
    Task<IReadOnlyList<ProductEntrySheet>> ListAsync(CancellationToken cancel = default);

    /// <summary>One; null when there is none of that id.</summary>
    Task<ProductEntrySheet?> GetAsync(Guid entryId, CancellationToken cancel = default);

    /// <summary>Begins. The product's id is the entry's and the idempotency key.</summary>
    /// <exception cref="EntryException">The label cannot be read; names the field.</exception>
    Task<ProductEntrySheet> BeginAsync(NewProduct entry, CancellationToken cancel = default);

    /// <summary>Plans a test can in the grower's own water.</summary>
    Task<ProductEntrySheet> PlanTestAsync(Guid entryId, TestCanChoice choice, Guid? idempotencyKey = null, CancellationToken cancel = default);

    /// <summary>What the pens read in it: µS/cm at 25 °C, pH, or both. What cannot be is refused with what was probably meant.</summary>
    Task<ProductEntrySheet> ReadTestAsync(Guid entryId, double? ecMicrosiemensPerCm, double? ph, Guid? idempotencyKey = null, CancellationToken cancel = default);

    /// <summary>The look against the light; clear only after a day.</summary>
    Task<ProductEntrySheet> LookAsync(Guid entryId, bool clear, string? note = null, Guid? idempotencyKey = null, CancellationToken cancel = default);

    /// <summary>Puts plants of little value on it beside matched ones. From then on the product is in the cupboard, provisional: only where it is chosen by name.</summary>
    Task<ProductEntrySheet> BeginTrialAsync(Guid entryId, IReadOnlyList<TrialPair> pairs, string outcome, Guid? idempotencyKey = null, CancellationToken cancel = default);

    /// <summary>How many pairs did worse and better on it; before three months only harm counts.</summary>
    Task<ProductEntrySheet> JudgeTrialAsync(Guid entryId, int worse, int better, string? note = null, Guid? idempotencyKey = null, CancellationToken cancel = default);

    /// <summary>Accepts it, corrected only where the test can read outside its band, or rejects it.</summary>
    Task<ProductEntrySheet> DecideAsync(Guid entryId, bool accept, string why, Guid? idempotencyKey = null, CancellationToken cancel = default);
}

/// <summary>A label as read, beside what is known.</summary>
/// <param name="Read">What it would become.</param>
/// <param name="KnownAs">A product in the cupboard of the same name; null where there is none.</param>
/// <param name="Changes">What its label says otherwise, largest share first.</param>
/// <param name="Words">In a sentence; null where no such product is known.</param>
public sealed record EntryPreview(ProductPreview Read, Guid? KnownAs, IReadOnlyList<LabelDifference> Changes, string? Words);

/// <summary>A test can.</summary>
/// <param name="WaterId">Which water.</param>
/// <param name="GramsPerLitre">0.05 to 20; about the strength of a feed.</param>
/// <param name="Litres">0.1 to 100.</param>
/// <param name="TemperatureCelsius">2 to 40 °C.</param>
public sealed record TestCanChoice(Guid WaterId, double GramsPerLitre = 1, double Litres = 2, double TemperatureCelsius = 20);

/// <summary>Where a product stands on its way.</summary>
public sealed record ProductEntrySheet
{
    /// <summary>Of the entry and of the product.</summary>
    public required Guid Id { get; init; }

    /// <summary>As its label says.</summary>
    public required Product Product { get; init; }
    public required IReadOnlyList<string> MadeOf { get; init; }
    public required EntryStage Stage { get; init; }

    /// <summary>On trial: only where it is chosen by name.</summary>
    public required bool IsProvisional { get; init; }

    /// <summary>What comes next, in a sentence; null at the end.</summary>
    public required string? Next { get; init; }

    /// <summary>Not before this minute of the bench's own clock; null when it can be done now.</summary>
    public required DateTime? NotBefore { get; init; }

    /// <summary>A known product whose label has changed, in a sentence; null where none is known.</summary>
    public required string? LabelChange { get; init; }
    public required TestSheet? Test { get; init; }

    /// <summary>What would be corrected, and why; empty while the readings are inside their bands.</summary>
    public required IReadOnlyList<string> Corrections { get; init; }
    public required IReadOnlyList<EntryLine> Steps { get; init; }
    public required IReadOnlyList<PairLine> Pairs { get; init; }

    /// <summary>Fixed before the trial; null before it.</summary>
    public required string? Outcome { get; init; }

    /// <summary>Pairs that match by want, medium and culture, offered while one is to be chosen; small plants with many sisters first.</summary>
    public required IReadOnlyList<PairLine> Offered { get; init; }

    /// <summary>What no EC pen can see in it, in sentences.</summary>
    public required IReadOnlyList<string> Unseen { get; init; }
}

/// <summary>The test can.</summary>
/// <param name="Water">In which water.</param>
/// <param name="GramsPerLitre">How strong.</param>
/// <param name="Litres">How much.</param>
/// <param name="Grams">To weigh.</param>
/// <param name="Ec">What it should read, µS/cm at 25 °C, 95 % band.</param>
/// <param name="PH">The same.</param>
/// <param name="MeasuredEc">Null when not read.</param>
/// <param name="MeasuredPH">Null when not read.</param>
/// <param name="EcAgrees">Inside its band, or not read.</param>
/// <param name="PHAgrees">Likewise.</param>
public sealed record TestSheet(string Water, double GramsPerLitre, double Litres, double Grams, Expected Ec, Expected PH, double? MeasuredEc, double? MeasuredPH, bool EcAgrees, bool PHAgrees);

/// <summary>A step that was taken.</summary>
/// <param name="FactId">The fact; it can be taken back for an hour.</param>
/// <param name="At">On the bench's own clock.</param>
/// <param name="Words">What was said.</param>
/// <param name="Counts">False for one that does not follow the others (after one before it was taken back): take it again.</param>
public sealed record EntryLine(Guid FactId, DateTime At, string Words, bool Counts);

/// <summary>Two matched plants.</summary>
public sealed record PairLine(Guid New, string NewName, Guid Old, string OldName);
