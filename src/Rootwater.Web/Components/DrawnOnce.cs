using System.Collections.Concurrent;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;

namespace Rootwater.Web.Components;

/// <summary>
/// Large parts of pages, drawn once from what a desk keeps in hand and shown again as they are until the desk has something new or the reader changes units.
/// One drawing of each part is kept.
/// </summary>
public sealed class DrawnOnce(IServiceProvider services, ILoggerFactory log)
{
    private readonly ConcurrentDictionary<Type, Drawing> _kept = new();

    /// <summary>The part as markup.</summary>
    /// <typeparam name="TPart">A component that shows nothing of the request it is drawn in.</typeparam>
    /// <param name="from">What it is drawn from: the very object a desk hands out again while nothing has changed.</param>
    /// <param name="how">Whatever else it depends on, compared by value: units, an order.</param>
    /// <param name="parameters">For the component; asked for only when it has to be drawn.</param>
    public async Task<MarkupString> OfAsync<TPart>(object from, object how, Func<Task<Dictionary<string, object?>>> parameters)
        where TPart : IComponent
    {
        if (_kept.TryGetValue(typeof(TPart), out var known) && ReferenceEquals(known.From, from) && known.How.Equals(how))
        {
            return known.Markup;
        }

        var given = ParameterView.FromDictionary(await parameters());
        await using var renderer = new HtmlRenderer(services, log);
        var markup = await renderer.Dispatcher.InvokeAsync(async () => (await renderer.RenderComponentAsync<TPart>(given)).ToHtmlString());
        return (_kept[typeof(TPart)] = new Drawing(from, how, new MarkupString(markup))).Markup;
    }

    private sealed record Drawing(object From, object How, MarkupString Markup);
}
