using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Rendering;

namespace Rootwater.Web.Components.Plots;

/// <summary>A word in a plot. Razor keeps the tag "text" for itself, so it is built here.</summary>
public sealed class Label : ComponentBase
{
    [Parameter] public string X { get; set; } = "0";
    [Parameter] public string Y { get; set; } = "0";
    [Parameter] public string Anchor { get; set; } = "start";
    [Parameter] public string? Class { get; set; }
    [Parameter] public RenderFragment? ChildContent { get; set; }

    protected override void BuildRenderTree(RenderTreeBuilder builder)
    {
        builder.OpenElement(0, "text");
        builder.AddAttribute(1, "x", X);
        builder.AddAttribute(2, "y", Y);
        builder.AddAttribute(3, "text-anchor", Anchor);
        builder.AddAttribute(4, "class", Class);
        builder.AddContent(5, ChildContent);
        builder.CloseElement();
    }
}
