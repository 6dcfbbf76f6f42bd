namespace Rootwater.Web.Components;

/// <summary>Light or dark: what the reader chose, kept in a cookie; without a choice the page follows the device.</summary>
public static class Theme
{
    public const string Cookie = "rootwater-theme";

    /// <summary>"light", "dark", or null to follow the device.</summary>
    public static string? Chosen(HttpContext? context) => context?.Request.Cookies[Cookie] is "light" or "dark" ? context.Request.Cookies[Cookie] : null;

    /// <summary>The other one of the two; from no choice to dark, because light is what most devices start with.</summary>
    public static string Other(string? chosen) => chosen == "dark" ? "light" : "dark";
}
