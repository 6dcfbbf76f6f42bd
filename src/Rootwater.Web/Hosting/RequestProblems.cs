using System.Text.Json;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Mvc;
using Rootwater.Ledger;

namespace Rootwater.Web.Hosting;

/// <summary>Answers a request that went wrong: problem+json that names the field for the API; the pages have their own words.</summary>
public sealed class RequestProblems : IExceptionHandler
{
    public async ValueTask<bool> TryHandleAsync(HttpContext context, Exception exception, CancellationToken cancel)
    {
        // By now the path is that of the error page; what was asked for stands in the feature.
        var asked = new PathString(context.Features.Get<IExceptionHandlerPathFeature>()?.Path ?? context.Request.Path);
        if (!asked.StartsWithSegments("/api") && exception is not BadHttpRequestException)
            return false;
        if (exception is OperationCanceledException && context.RequestAborted.IsCancellationRequested)
            return true;
        var problem = exception switch
        {
            EntryException entry => Entry(entry.Problems),
            BadHttpRequestException { InnerException: JsonException json } => Entry([new EntryProblem(Field(json), null, "could not be read as what belongs there; see docs/guide/api.md.")]),
            BadHttpRequestException bad => new ProblemDetails { Status = bad.StatusCode, Title = "The request could not be read", Detail = bad.Message },
            LedgerProblem ledger => new ProblemDetails { Status = StatusCodes.Status503ServiceUnavailable, Title = "The bench's database cannot be used", Detail = ledger.Message, Extensions = { ["fault"] = ledger.Fault.ToString() } },
            _ => new ProblemDetails { Status = StatusCodes.Status500InternalServerError, Title = "The program could not finish this", Detail = "Nothing of it was saved. The log of the program says why." },
        };
        await Results.Problem(problem).ExecuteAsync(context);
        return true;
    }

    private static ProblemDetails Entry(IReadOnlyList<EntryProblem> problems) => new()
    {
        Status = StatusCodes.Status400BadRequest,
        Title = "Something entered cannot be used",
        Detail = string.Join(' ', problems),
        Extensions = { ["problems"] = problems.Select(problem => new { field = problem.Field, value = problem.Value, accepted = problem.Accepted, factId = problem.FactId }).ToArray() },
    };

    private static string Field(JsonException json) => string.IsNullOrEmpty(json.Path) || json.Path == "$" ? "body" : json.Path.TrimStart('$', '.');
}
