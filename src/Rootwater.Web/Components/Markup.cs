using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.Localization;

namespace Rootwater.Web.Components;

/// <summary>Words of the program's own that carry markup.</summary>
public static class Markup
{
    /// <summary>For words whose every argument was written by the program, never by a reader.</summary>
    public static MarkupString AsMarkup(this LocalizedString words) => new(words.Value);
}
