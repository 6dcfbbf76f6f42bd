using System.Net;

namespace Rootwater.Web.Hosting;

/// <summary>Plain HTTP is for this machine alone: an address that others could reach is refused before anything listens.</summary>
public static class LoopbackOnly
{
    /// <summary>The first address that reaches beyond this machine; null when all stay inside.</summary>
    public static string? Beyond(IConfiguration configuration) => (configuration["urls"] ?? "").Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)
        .Concat(configuration.GetSection("Kestrel:Endpoints").GetChildren().Select(endpoint => endpoint["Url"] ?? "").Where(url => url.Length > 0))
        .FirstOrDefault(url => !StaysHere(url));

    private static bool StaysHere(string url)
    {
        var host = BindingAddress.Parse(url).Host;
        return host.Equals("localhost", StringComparison.OrdinalIgnoreCase) || (IPAddress.TryParse(host.Trim('[', ']'), out var address) && IPAddress.IsLoopback(address));
    }
}
