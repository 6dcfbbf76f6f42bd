using System.Globalization;
using System.Text.RegularExpressions;

namespace Rootwater.Growing.Cupboard;

/// <summary>Biuret: what urea turns into where it is made too hot. It harms roots and leaf tips, and some labels say how much there is.</summary>
public static partial class Biuret
{
    /// <summary>Where there is urea and the label is silent.</summary>
    public static InputProblem Undeclared => InputProblem.Note("biuret", null, "It brings urea, and its label does not say how much biuret comes with it, so no limit can be kept: ask its maker, or use it sparingly.");

    /// <summary>Percent by weight that a label's text declares ("Biuret 0.9 %", "max. 1,2 % biuret"); null where it says nothing.</summary>
    public static double? DeclaredIn(string? text)
    {
        var found = Declared().Match(text ?? "");
        return found.Success && double.TryParse((found.Groups[1].Success ? found.Groups[1] : found.Groups[2]).Value.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out var percent) && percent is >= 0 and <= 100
            ? percent
            : null;
    }

    [GeneratedRegex(@"biuret[^\d%\n]{0,20}(\d+(?:[.,]\d+)?)\s*%|(\d+(?:[.,]\d+)?)\s*%[^\d%\n]{0,2}biuret", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Declared();
}
