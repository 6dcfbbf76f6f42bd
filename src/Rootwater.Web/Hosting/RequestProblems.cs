using System.Text.Json;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Mvc;
using Rootwater.Ledger;

namespace Rootwater.Web.Hosting;

/// <summary>Answers a request that went wrong: problem+json that names the field for the API; the pages have their own words.</summary>
public sealed class RequestProblems(IProblemDetailsService answers) : IExceptionHandler
{
    public ValueTask<bool> TryHandleAsync(HttpContext context, Exception exception, CancellationToken cancel)
    {
        if (!context.Request.Path.StartsWithSegments("/api"))
            return ValueTask.FromResult(false);
        if (exception is OperationCanceledException && context.RequestAborted.IsCancellationRequested)
            return ValueTask.FromResult(true);
        var problem = exception switch
        {
            EntryException entry => Entry(entry.Problems),
            BadHttpRequestException { InnerException: JsonException json } => Entry([new EntryProblem(Field(json), null, "could not be read as what belongs there; see docs/guide/api.md.")]),
            BadHttpRequestException bad => new ProblemDetails { Status = bad.StatusCode, Title = "The request could not be read", Detail = bad.Message },
            LedgerProblem ledger => new ProblemDetails { Status = StatusCodes.Status503ServiceUnavailable, Title = "The bench's database cannot be used", Detail = ledger.Message, Extensions = { ["fault"] = ledger.Fault.ToString() } },
            _ => new ProblemDetails { Status = StatusCodes.Status500InternalServerError, Title = "The program could not finish this", Detail = "Nothing of it was saved. The log of the program says why." },
        };
        context.Response.StatusCode = problem.Status ?? StatusCodes.Status500InternalServerError;
        return answers.TryWriteAsync(new ProblemDetailsContext { HttpContext = context, ProblemDetails = problem });
    }

    private static ProblemDetails Entry(IReadOnlyList<EntryProblem> problems) => new()
    {
        Status = StatusCodes.Status400BadRequest,
        Title = "Something entered cannot be used",
        Detail = string.Join(' ', problems),
        Extensions = { ["problems"] = problems.Select(problem => new { field = problem.Field, value = problem.Value, accepted = problem.Accepted }).ToArray() },
    };

    private static string Field(JsonException json) => string.IsNullOrEmpty(json.Path) || json.Path == "$" ? "body" : json.Path.TrimStart('$', '.');
}
