using System.Globalization;
using Microsoft.Extensions.Localization;

namespace Rootwater.Web.Texts;

/// <summary>Counts in words: "1 plant", "9 plants".</summary>
public sealed class Counted(IStringLocalizer<ShellText> words)
{
    public string Plants(int count) => count == 1 ? words["OnePlant"] : words["Plants", count];

    /// <summary>Whole days.</summary>
    public string Days(double days)
    {
        var whole = Math.Round(days).ToString("0", CultureInfo.InvariantCulture);
        return whole == "1" ? words["OneDay"] : words["Days", whole];
    }
}
