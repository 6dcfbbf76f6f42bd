using System.IO.Compression;
using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;

namespace Rootwater.Web.Tests;

/// <summary>Exchange and backups over HTTP, on the whole program with the demo bench.</summary>
public sealed class ExchangeApiTests : IDisposable
{
    private readonly WebProgram _program = new();
    private readonly HttpClient _client;

    public ExchangeApiTests() => _client = _program.CreateClient();

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Whatever_goes_out_has_its_own_type_and_name()
    {
        var plant = (await _client.GetFromJsonAsync<JsonElement>("/api/plants", Cancel))[0].GetProperty("number").GetInt32();
        var can = (await _client.GetFromJsonAsync<JsonElement>("/api/cans", Cancel))[0].GetProperty("id").GetGuid();
        foreach (var (address, type, head) in new[]
        {
            ("/api/exchange/csv/plants", "text/csv", "number,nameAsReceived"), ("/api/exchange/csv/plant.moved", "text/csv", "id,when"), ("/api/exchange/csv-set", "application/zip", "PK"),
            ("/api/exchange/archive", "application/zip", "PK"), ("/api/exchange/darwin-core", "application/zip", "PK"), ("/calendar.ics", "text/calendar", "BEGIN:VCALENDAR"),
            ($"/plants/{plant}/tag.pdf", "application/pdf", "%PDF"), ("/bench/tags.pdf", "application/pdf", "%PDF"), ($"/mixing/can/{can}/card.pdf", "application/pdf", "%PDF"),
            ($"/plants/{plant}/story.html", "text/html", "<!doctype html>"),
        })
        {
            var answer = await _client.GetAsync(address, Cancel);
            answer.StatusCode.ShouldBe(HttpStatusCode.OK, address);
            answer.Content.Headers.ContentType!.MediaType.ShouldBe(type, address);
            Encoding.UTF8.GetString(await answer.Content.ReadAsByteArrayAsync(Cancel)).ShouldStartWith(head, Case.Sensitive, address);
        }

        (await _client.GetAsync($"/plants/{plant}/story.html", Cancel)).Content.Headers.ContentDisposition!.DispositionType.ShouldBe("attachment");
        Ical.Net.Calendar.Load(await _client.GetStringAsync("/calendar.ics", Cancel))!.Events.Count.ShouldBeGreaterThan(5);
    }

    [Fact]
    public async Task The_code_on_a_tag_leads_to_its_plant()
    {
        var client = _program.CreateClient(new Microsoft.AspNetCore.Mvc.Testing.WebApplicationFactoryClientOptions { AllowAutoRedirect = false });
        (await client.GetAsync("/p/12", Cancel)).Headers.Location!.OriginalString.ShouldBe("/plants/12");
        (await client.GetAsync("/plants/12", Cancel)).StatusCode.ShouldBe(HttpStatusCode.OK);
        (await client.GetAsync("/plants/99999/tag.pdf", Cancel)).StatusCode.ShouldBe(HttpStatusCode.NotFound);
    }

    [Fact]
    public async Task A_file_is_shown_before_it_is_written_and_written_once()
    {
        const string Csv = "No.;When;pH\r\n1;2026-01-05;6,2\r\n2;2026-01-05;6.4\r\n";
        var mapping = """{"table":"reading.taken","columns":{"plantId":"No.","pH":"pH"},"fixed":{"of":"reservoir"}}""";
        var (shown, report) = await SendAsync(Csv, mapping, write: false);
        shown.ShouldBe(HttpStatusCode.OK, report.ToString());
        report.GetProperty("problems").GetArrayLength().ShouldBe(0, report.ToString());
        report.GetProperty("facts").GetInt32().ShouldBe(2);
        report.GetProperty("written").GetBoolean().ShouldBeFalse();
        (await SendAsync(Csv, mapping, write: true)).Report.GetProperty("written").GetBoolean().ShouldBeTrue();
        (await SendAsync(Csv, mapping, write: true)).Report.GetProperty("unchanged").GetInt32().ShouldBe(2);
    }

    [Fact]
    public async Task A_cell_that_would_run_is_named_with_its_row_and_nothing_is_written()
    {
        var (status, report) = await SendAsync("plantId,when,text\r\n1,2026-01-05,ok\r\n2,2026-01-06,=1+1\r\n", """{"table":"plant.noted"}""", write: true);
        status.ShouldBe(HttpStatusCode.OK, report.ToString());
        report.GetProperty("problems")[0].GetProperty("row").GetInt32().ShouldBe(3);
        report.GetProperty("problems")[0].GetProperty("field").GetString().ShouldBe("text");
        report.GetProperty("written").GetBoolean().ShouldBeFalse();
    }

    [Fact]
    public async Task An_archive_of_something_else_is_refused_with_the_reason()
    {
        using var stream = new MemoryStream();
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true))
        {
            using var entry = new StreamWriter(zip.CreateEntry("../evil.sh").Open());
            entry.Write("#!/bin/sh");
        }

        var answer = await _client.PostAsync("/api/exchange/archive", new ByteArrayContent(stream.ToArray()), Cancel);
        answer.StatusCode.ShouldBe(HttpStatusCode.BadRequest);
        (await answer.Content.ReadAsStringAsync(Cancel)).ShouldContain("../evil.sh");
    }

    [Fact]
    public async Task A_backup_is_made_listed_and_verified()
    {
        var made = await _client.PostAsync("/api/backups", null, Cancel);
        made.StatusCode.ShouldBe(HttpStatusCode.Created, await made.Content.ReadAsStringAsync(Cancel));
        var name = (await made.Content.ReadFromJsonAsync<JsonElement>(Cancel)).GetProperty("name").GetString();
        (await _client.GetFromJsonAsync<JsonElement>("/api/backups", Cancel)).GetProperty("backups")[0].GetProperty("name").GetString().ShouldBe(name);
        var verdict = await (await _client.PostAsync($"/api/backups/{name}/verify", null, Cancel)).Content.ReadFromJsonAsync<JsonElement>(Cancel);
        verdict.GetProperty("problems").GetArrayLength().ShouldBe(0);
        verdict.GetProperty("facts").GetInt64().ShouldBeGreaterThan(500);
    }

    private async Task<(HttpStatusCode Status, JsonElement Report)> SendAsync(string csv, string mapping, bool write)
    {
        using var form = new MultipartFormDataContent { { new StringContent(mapping), "mapping" }, { new StringContent(csv), "file", "mine.csv" } };
        var answer = await _client.PostAsync($"/api/exchange/csv?write={write}", form, Cancel);
        return (answer.StatusCode, await answer.Content.ReadFromJsonAsync<JsonElement>(Cancel));
    }

    public void Dispose() => _program.Dispose();
}
