using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.Localization;
using Rootwater.Ledger;
using Rootwater.Web.Texts;

namespace Rootwater.Web.Components;

/// <summary>A page that works with a desk: it turns whatever goes wrong there into words with a way out, and stops its work when the reader leaves.</summary>
public abstract class DeskPage : ComponentBase, IDisposable
{
    private readonly CancellationTokenSource _leaving = new();
    private bool _working;

    [Inject] private ILogger<DeskPage> Log { get; set; } = null!;

    [Inject] private IStringLocalizer<ShellText> Shell { get; set; } = null!;

    /// <summary>Cancelled when the reader leaves the page.</summary>
    protected CancellationToken Leaving => _leaving.Token;

    /// <summary>What went wrong, in a sentence with the way out; null when nothing did.</summary>
    protected string? Trouble { get; private set; }

    /// <summary>What was entered and cannot be kept.</summary>
    protected IReadOnlyList<EntryProblem> Problems { get; set; } = [];

    /// <summary>Working, or drawn by the server and not yet tied to its circuit: a button would do nothing.</summary>
    protected bool Busy => _working || !RendererInfo.IsInteractive;

    /// <summary>Runs a piece of work. True when it was done; otherwise <see cref="Problems"/> or <see cref="Trouble"/> say why.</summary>
    protected async Task<bool> AttemptAsync(Func<Task> work)
    {
        if (_working)
            return false;
        (Trouble, Problems, _working) = (null, [], true);
        try
        {
            await work();
            return true;
        }
        catch (EntryException entry)
        {
            Problems = entry.Problems;
        }
        catch (LedgerProblem problem)
        {
            Trouble = problem.Message;
        }
        catch (OperationCanceledException)
        {
            // The reader cancelled or left; nothing to say.
        }
        catch (Exception fault)
        {
            // The last stop before the reader: a sentence for them, the trace for the log.
            DeskPageLog.Failed(Log, fault);
            Trouble = Shell["Unexpected"];
        }
        finally
        {
            _working = false;
        }

        return false;
    }

    /// <summary>For a part of a page that the rest can do without: what went wrong, in words, with the trace in the log.</summary>
    protected string Explain(Exception fault)
    {
        if (fault is LedgerProblem or EntryException)
            return fault.Message;
        DeskPageLog.Failed(Log, fault);
        return Shell["UnexpectedPart"];
    }

    /// <summary>"true" for a field that was refused, for aria-invalid.</summary>
    protected string? Invalid(params string[] fields) => Problems.Any(problem => fields.Contains(problem.Field, StringComparer.OrdinalIgnoreCase)) ? "true" : null;

    public void Dispose()
    {
        _leaving.Cancel();
        _leaving.Dispose();
        GC.SuppressFinalize(this);
    }
}

internal static partial class DeskPageLog
{
    [LoggerMessage(Level = LogLevel.Error, Message = "A page's work failed.")]
    public static partial void Failed(ILogger log, Exception fault);
}
