using Rootwater.Ledger.Desks;
using Rootwater.Web.Hosting;

namespace Rootwater.Web.Api;

/// <summary>Backups of the running bench. Restoring closes it and is the terminal's: <c>rootwater backup restore</c>.</summary>
internal static class BackupApi
{
    public static void MapBackups(this ApiRoutes api)
    {
        api.MapGet("/backups", async (IBackupDesk desk, BackupSchedule schedule, CancellationToken cancel) => new { folder = desk.Folder, schedule.LastProblem, everyHours = schedule.Every.TotalHours, backups = await desk.ListAsync(cancel) });
        api.MapPost("/backups", async (IBackupDesk desk, BackupSchedule schedule, CancellationToken cancel) =>
        {
            var made = await desk.NowAsync(schedule.Retention, cancel: cancel);
            return Results.Created($"/api/backups/{made.Name}/verify", made);
        });
        api.MapPost("/backups/{name}/verify", (string name, IBackupDesk desk, CancellationToken cancel) => desk.VerifyAsync(name, cancel));
    }
}
