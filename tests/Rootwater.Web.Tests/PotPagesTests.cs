using System.Net;
using System.Net.Http.Json;
using System.Text.Json;

namespace Rootwater.Web.Tests;

/// <summary>The pots' pages and addresses on the three-month demo.</summary>
public sealed class PotPagesTests : IDisposable
{
    private readonly WebProgram _program = new();

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_list_of_pots_does_not_wait_for_the_fit_and_says_how_far_it_is()
    {
        using var client = _program.CreateClient();
        var html = await client.GetStringAsync("/pots", Cancel);

        html.ShouldContain("<h1>Pots</h1>");
        html.ShouldContain("id=\"pot-1\"");
        html.ShouldContain("class=\"fit-state\"");
        (await client.GetStringAsync("/pots/1", Cancel)).ShouldContain("How to pour");
        (await client.GetStringAsync("/pots/9999", Cancel)).ShouldContain("No plant of that number stands in a pot.");
        (await client.PostAsync("/api/pots/fit/stop", null, Cancel)).StatusCode.ShouldBe(HttpStatusCode.NoContent);
    }

    [Fact]
    public async Task What_the_root_gets_from_a_kept_can_says_how_its_bands_are_corrected()
    {
        using var client = _program.CreateClient();
        var can = (await client.GetFromJsonAsync<JsonElement>("/api/cans/history?most=1", Cancel)).GetProperty("lines")[0].GetProperty("canId").GetGuid();
        var plant = (await client.GetFromJsonAsync<JsonElement>($"/api/cans/{can}", Cancel)).GetProperty("card").GetProperty("serves")[0].GetProperty("portions")[0].GetProperty("plantId").GetGuid();
        var pot = (await client.GetFromJsonAsync<JsonElement>("/api/pots", Cancel)).EnumerateArray().Single(each => each.GetProperty("plantId").GetGuid() == plant).GetProperty("id").GetGuid();

        var forecast = await client.GetFromJsonAsync<JsonElement>($"/api/pots/{pot}/forecast?can={can}&days=14", Cancel);
        forecast.GetProperty("corrected").GetString()!.ShouldContain("times as wide");

        // As it was recorded when the can was poured.
        var recorded = (await client.GetFromJsonAsync<JsonElement>($"/api/plants/{plant}/believed", Cancel)).EnumerateArray().Select(each => each.GetProperty("forecast")).Single(each => each.GetProperty("canId").GetGuid() == can);
        var (shown, believed) = (forecast.GetProperty("moments").EnumerateArray().Last().GetProperty("rootPH"), recorded.GetProperty("believed").EnumerateArray().Last().GetProperty("pH"));
        shown.GetProperty("high").GetDouble().ShouldBe(believed.GetProperty("high").GetDouble(), 0.01);
    }

    [Fact]
    public async Task A_soak_in_the_wrong_unit_is_offered_back_and_a_good_one_is_listed()
    {
        using var client = _program.CreateClient();
        var soak = new { id = Guid.CreateVersion7(), medium = "expanded clay, rinsed and in use", mediumLitres = 1.0, waterLitres = 1.0, ecMicrosiemensPerCm = 0.21, alkalinityMeqPerLitre = 0.6 };

        var refused = await client.PostAsJsonAsync("/api/pots/soaks", soak, Cancel);
        refused.StatusCode.ShouldBe(HttpStatusCode.BadRequest);
        (await refused.Content.ReadAsStringAsync(Cancel)).ShouldContain("probably meant");

        (await client.PostAsJsonAsync("/api/pots/soaks", soak with { ecMicrosiemensPerCm = 210 }, Cancel)).EnsureSuccessStatusCode();
        var soaks = (await client.GetFromJsonAsync<JsonElement>("/api/pots/fit", Cancel)).GetProperty("soaks");
        soaks.EnumerateArray().ShouldContain(line => line.GetProperty("gained").GetString()!.Contains("+0.60 meq base"));
    }

    [Fact]
    public async Task A_reading_that_went_wrong_is_on_the_pots_page_with_what_it_weighs_and_a_pot_never_read_says_whose_forecast_it_shows()
    {
        using var client = _program.CreateClient();
        var pots = await Fixtures.ReadPots.WriteAsync(_program.Services, Cancel);

        var list = WebUtility.HtmlDecode(await client.GetStringAsync("/pots", Cancel));
        list.ShouldContain("1 of its 18 latest values probably went wrong; weighed down, not left out.");

        var page = WebUtility.HtmlDecode(await client.GetStringAsync($"/pots/{pots.Read}", Cancel));
        page.ShouldContain("One of the readings lies so far off that it probably went wrong; it is shown, and weighed down.");
        // The table beside the plot has it, with its weight.
        var row = page.Split("<tr").Single(row => row.Contains((pots.Slip / 1000).ToString("0.00", System.Globalization.CultureInfo.InvariantCulture), StringComparison.Ordinal));
        row.ShouldContain(">2 %<");

        WebUtility.HtmlDecode(await client.GetStringAsync($"/pots/{pots.Unread}", Cancel)).ShouldContain("No reading of this pot yet: the forecast is that of its 2 siblings");
    }

    public void Dispose() => _program.Dispose();
}
