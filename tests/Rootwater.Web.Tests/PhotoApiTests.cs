using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.PixelFormats;

namespace Rootwater.Web.Tests;

/// <summary>Photos over HTTP, on the whole program with the demo bench.</summary>
public sealed class PhotoApiTests : IDisposable
{
    private readonly WebProgram _program = new();
    private readonly HttpClient _client;

    public PhotoApiTests() => _client = _program.CreateClient();

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Several_photos_come_in_at_once_are_listed_and_go_out_as_jpeg_that_runs_nothing()
    {
        var plant = await PlantAsync();
        var ids = new[] { Guid.CreateVersion7(), Guid.CreateVersion7() };
        var form = Form(plant, ids, ("a.jpg", Picture(40)), ("b.png", Picture(60)));
        form.Add(new StringContent("2026-01-02T03:04"), "takenAt");
        form.Add(new StringContent("the new bulb"), "caption");

        var answer = await _client.PostAsync("/api/photos", form, Cancel);

        answer.StatusCode.ShouldBe(HttpStatusCode.Created, await answer.Content.ReadAsStringAsync(Cancel));
        var listed = await _client.GetFromJsonAsync<JsonElement>($"/api/plants/{plant}/photos", Cancel);
        listed.EnumerateArray().Select(photo => photo.GetProperty("id").GetGuid()).ShouldBe(ids, ignoreOrder: true);
        listed[0].GetProperty("takenAt").GetDateTime().ShouldBe(new DateTime(2026, 1, 2, 3, 4, 0));
        listed[1].GetProperty("caption").GetString().ShouldBe("the new bulb");

        foreach (var address in new[] { $"/api/photos/{ids[0]}", $"/api/photos/{ids[0]}/thumbnail" })
        {
            var picture = await _client.GetAsync(address, Cancel);
            picture.Content.Headers.ContentType!.MediaType.ShouldBe("image/jpeg");
            picture.Headers.GetValues("X-Content-Type-Options").ShouldBe(["nosniff"]);
            picture.Headers.CacheControl!.ToString().ShouldContain("immutable");
            picture.Headers.CacheControl.Private.ShouldBeTrue();
            Image.Identify(await picture.Content.ReadAsStreamAsync(Cancel)).Width.ShouldBe(40);
            using var again = new HttpRequestMessage(HttpMethod.Get, address) { Headers = { IfNoneMatch = { picture.Headers.ETag! } } };
            (await _client.SendAsync(again, Cancel)).StatusCode.ShouldBe(HttpStatusCode.NotModified);
        }
    }

    [Fact]
    public async Task A_photo_sent_twice_is_kept_once()
    {
        var (plant, id) = (await PlantAsync(), Guid.CreateVersion7());
        for (var i = 0; i < 2; i++)
        {
            (await _client.PostAsync("/api/photos", Form(plant, [id], ("a.jpg", Picture(40))), Cancel)).StatusCode.ShouldBe(HttpStatusCode.Created);
        }

        (await _client.GetFromJsonAsync<JsonElement>($"/api/plants/{plant}/photos", Cancel)).GetArrayLength().ShouldBe(1);
    }

    [Fact]
    public async Task A_page_called_jpg_is_refused_by_name_and_nothing_of_it_is_kept()
    {
        var plant = await PlantAsync();
        var answer = await _client.PostAsync("/api/photos", Form(plant, [], ("leaf.jpg", Encoding.ASCII.GetBytes("<!doctype html><script>alert(1)</script>"))), Cancel);

        answer.StatusCode.ShouldBe(HttpStatusCode.BadRequest);
        (await answer.Content.ReadFromJsonAsync<JsonElement>(Cancel)).GetProperty("problems")[0].GetProperty("field").GetString().ShouldBe("photo");
        (await _client.GetFromJsonAsync<JsonElement>($"/api/plants/{plant}/photos", Cancel)).GetArrayLength().ShouldBe(0);
    }

    [Fact]
    public async Task A_plant_that_is_not_here_has_no_photos_taken() =>
        (await _client.PostAsync("/api/photos", Form(Guid.CreateVersion7(), [], ("a.jpg", Picture(40))), Cancel)).StatusCode.ShouldBe(HttpStatusCode.BadRequest);

    [Theory]
    [InlineData("/api/photos/01900000-0000-7000-8000-00000000dead")]
    [InlineData("/api/photos/01900000-0000-7000-8000-00000000dead/thumbnail")]
    [InlineData("/api/photos/..%2f..%2fbench.db")]
    public async Task What_is_no_photo_is_not_found(string address) => (await _client.GetAsync(address, Cancel)).StatusCode.ShouldBe(HttpStatusCode.NotFound);

    private async Task<Guid> PlantAsync() => (await _client.GetFromJsonAsync<JsonElement>("/api/plants", Cancel))[0].GetProperty("id").GetGuid();

    private static MultipartFormDataContent Form(Guid plant, IEnumerable<Guid> ids, params (string Name, byte[] Bytes)[] files)
    {
        var form = new MultipartFormDataContent { { new StringContent(plant.ToString()), "plantId" } };
        foreach (var id in ids)
        {
            form.Add(new StringContent(id.ToString()), "id");
        }

        foreach (var (name, bytes) in files)
        {
            form.Add(new ByteArrayContent(bytes), "files", name);
        }

        return form;
    }

    private static byte[] Picture(int width)
    {
        using var image = new Image<Rgb24>(width, 30, new Rgb24(40, 120, 60));
        using var stream = new MemoryStream();
        image.SaveAsPng(stream);
        return stream.ToArray();
    }

    public void Dispose() => _program.Dispose();
}
