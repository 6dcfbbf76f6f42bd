using System.Collections.Concurrent;
using Microsoft.Playwright;

namespace Rootwater.Browser.Tests;

/// <summary>What a page fetched until it came to rest, compressed as it came over the line, without what the service worker had at hand.</summary>
internal sealed record FirstLoad(IReadOnlyList<(Uri Address, int Bytes)> Answers, IReadOnlyList<string> Complaints)
{
    public int Bytes => Answers.Sum(answer => answer.Bytes);

    public IEnumerable<string> Authorities => Answers.Select(answer => answer.Address.Authority).Distinct();

    public override string ToString() => $"{Bytes / 1024.0:0.0} KiB in {Answers.Count} answers: {string.Join(", ", Answers.Select(answer => $"{answer.Address.AbsolutePath} {answer.Bytes}"))}";

    public static async Task<FirstLoad> OfAsync(IPage page, string address)
    {
        // Told from Playwright's own thread, and on after the page has come to rest (a live link, a service worker's install): what had come by then is what is weighed.
        var answers = new ConcurrentQueue<IResponse>();
        var complaints = new ConcurrentQueue<string>();
        page.Response += (_, answer) => answers.Enqueue(answer);
        page.Console += (_, message) =>
        {
            if (message.Type == "error")
            {
                complaints.Enqueue(message.Text);
            }
        };
        page.PageError += (_, error) => complaints.Enqueue(error);
        await page.GotoAsync(address, new() { WaitUntil = WaitUntilState.NetworkIdle });
        var loaded = await Task.WhenAll(answers.ToArray().Where(answer => !answer.FromServiceWorker).Select(async answer =>
        {
            var size = await answer.Request.SizesAsync();
            return (new Uri(answer.Url), size.ResponseBodySize + size.ResponseHeadersSize);
        }));
        return new FirstLoad(loaded, [.. complaints]);
    }
}
