using System.Text;
using System.Text.Encodings.Web;
using System.Text.Unicode;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.Localization;

namespace Rootwater.Web.Components;

/// <summary>Words as markup, for parts of pages that are written straight into text.</summary>
public static class Markup
{
    private static readonly HtmlEncoder s_encoder = HtmlEncoder.Create(UnicodeRanges.All);

    /// <summary>For words whose every argument was written by the program, never by a reader.</summary>
    public static MarkupString AsMarkup(this LocalizedString words) => new(words.Value);

    /// <summary>Any words, with what would be markup escaped.</summary>
    public static string Encode(string text) => s_encoder.Encode(text);

    /// <summary>A plant's name, as <see cref="NameWords"/> draws it.</summary>
    public static StringBuilder Name(this StringBuilder html, string name)
    {
        foreach (var (text, italic) in PlantNameParts.Of(name))
        {
            html.Append(italic ? "<i>" : "").Append(Encode(text)).Append(italic ? "</i>" : "");
        }

        return html;
    }

    /// <summary>A short word with a colour, as <see cref="TagPill"/> draws it.</summary>
    public static StringBuilder Pill(this StringBuilder html, string tone, string? sign, string text) =>
        html.Append("<span class=\"tag ").Append(tone).Append("\">").Append(sign is null ? "" : $"<span aria-hidden=\"true\">{sign}</span> ").Append(Encode(text)).Append("</span>");
}
