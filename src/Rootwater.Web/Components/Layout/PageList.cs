namespace Rootwater.Web.Components.Layout;

/// <summary>A page of the program as the navigation lists it.</summary>
/// <param name="Href">Where it is.</param>
/// <param name="Word">Key of its word in ShellText, and name of its sign.</param>
/// <param name="Under">Addresses that belong to it.</param>
public sealed record PageEntry(string Href, string Word, params string[] Under)
{
    /// <summary>Whether an address (from the first slash on, without query) is this page or one below it.</summary>
    public bool Holds(string path) => path == Href || Under.Any(under => path == under || path.StartsWith(under + "/", StringComparison.Ordinal));
}

/// <summary>All pages in the order of a day: the walk first, what is looked up now and then last.</summary>
public static class PageList
{
    /// <summary>At the thumb on a phone.</summary>
    public static IReadOnlyList<PageEntry> First { get; } =
    [
        new("/round", "Round", "/round", "/absence"),
        new("/bench", "Bench", "/bench", "/plants"),
        new("/mixing", "Mixing", "/mixing"),
        new("/readings", "Readings", "/readings"),
    ];

    /// <summary>One tap further on a phone.</summary>
    public static IReadOnlyList<PageEntry> Then { get; } =
    [
        new("/pots", "Pots", "/pots"),
        new("/cans", "Cans", "/cans", "/pens"),
        new("/cupboard", "Cupboard", "/cupboard"),
        new("/water", "Water", "/water"),
        new("/year", "Year", "/year"),
        new("/causes", "Causes", "/causes"),
        new("/evidence", "Evidence", "/evidence"),
        new("/trials", "Trials", "/trials"),
    ];

    /// <summary>One tap further everywhere: what no day of growing needs.</summary>
    public static IReadOnlyList<PageEntry> Last { get; } =
    [
        new("/exchange", "Exchange", "/exchange"),
        new("/settings", "Settings", "/settings"),
        new("/network", "Network", "/network", "/signin"),
    ];
}
