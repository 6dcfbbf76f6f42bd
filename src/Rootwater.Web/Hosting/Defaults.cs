namespace Rootwater.Web.Hosting;

/// <summary>What holds unless it is set from outside (command line or environment).</summary>
public static class Defaults
{
    /// <summary>This machine only.</summary>
    public const string Url = "http://localhost:5210";

    /// <summary>Names this server answers to: a page elsewhere that points a name of its own at this machine gets no answer.</summary>
    public const string Hosts = "localhost;127.0.0.1;[::1]";

    /// <summary>The defaults for whatever the configuration leaves open.</summary>
    public static IEnumerable<KeyValuePair<string, string?>> Under(IConfiguration configuration)
    {
        if (string.IsNullOrEmpty(configuration["urls"]))
            yield return new("urls", Url);
        if (string.IsNullOrEmpty(configuration["AllowedHosts"]))
            yield return new("AllowedHosts", Hosts);

        // Started by dotnet run, the framework would watch the assets and send changed ones in gzip's wrapping but uncompressed.
        if (string.IsNullOrEmpty(configuration["ReloadStaticAssetsAtRuntime"]))
            yield return new("ReloadStaticAssetsAtRuntime", "false");
    }
}
