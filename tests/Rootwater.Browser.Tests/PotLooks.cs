namespace Rootwater.Browser.Tests;

/// <summary>The program with two pots read.</summary>
public sealed class ReadPotsProgram : IDisposable
{
    private readonly WebProgram _program = new();
    private readonly Lazy<Task<(string Address, ReadPots Pots)>> _served;

    public ReadPotsProgram() => _served = new(async () =>
    {
        var address = _program.Serve();
        return (address, await ReadPots.WriteAsync(_program.Services, CancellationToken.None));
    });

    public Task<(string Address, ReadPots Pots)> ServedAsync() => _served.Value;

    public void Dispose() => _program.Dispose();
}

/// <summary>What pots have taught, on a phone and a laptop, in light and dark: the list, a pot with a reading that went wrong, one that was never read, and a reading that cannot be.</summary>
public sealed class PotLooks(Browsers browsers, ReadPotsProgram program) : IClassFixture<ReadPotsProgram>
{
    [Theory]
    [InlineData("pots")]
    [InlineData("read")]
    [InlineData("unread")]
    [InlineData("refused")]
    public async Task A_page_is_accessible_legible_and_inside_its_width(string what)
    {
        var (address, pots) = await program.ServedAsync();
        var page = await browsers.OpenAsync(address, Screen.Phone);
        switch (what)
        {
            case "pots":
                await page.GotoAsync("/pots");
                await page.Locator($"#pot-{pots.Read}", new() { HasText = "probably went wrong" }).WaitForAsync();
                break;
            case "unread":
                await page.GotoAsync($"/pots/{pots.Unread}");
                await page.Locator("#known", new() { HasText = "No reading of this pot yet" }).WaitForAsync();
                break;
            default:
                await page.GotoAsync($"/pots/{pots.Read}");
                await page.Locator("#tracks svg").First.WaitForAsync();
                break;
        }

        if (what == "refused")
        {
            await page.Locator("#read button[type=submit]:enabled").WaitForAsync();
            await page.Locator("#read-ph").FillAsync("65");
            await page.Locator("#read button[type=submit]").ClickAsync();
            await page.Locator("#read .wrong", new() { HasText = "6.5 was probably meant" }).WaitForAsync();
        }

        await Looks.JudgeBothAsync(page, $"pots-{what}");
    }
}
