using System.Collections.Concurrent;
using System.Text;
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
    public async Task<RenderFragment> OfAsync<TPart>(object from, object how, Func<Task<Dictionary<string, object?>>> parameters)
        where TPart : IComponent
    {
        if (_kept.TryGetValue(typeof(TPart), out var known) && ReferenceEquals(known.From, from) && known.How.Equals(how))
        {
            return known.Markup;
        }

        var given = ParameterView.FromDictionary(await parameters());
        await using var renderer = new HtmlRenderer(services, log);
        await using var sheets = new Sheets();
        await renderer.Dispatcher.InvokeAsync(async () => (await renderer.RenderComponentAsync<TPart>(given)).WriteHtmlTo(sheets));
        return (_kept[typeof(TPart)] = new Drawing(from, how, Shown(sheets.All()))).Markup;
    }

    private static RenderFragment Shown(IReadOnlyList<string> sheets) => builder =>
    {
        foreach (var sheet in sheets)
        {
            builder.AddMarkupContent(0, sheet);
        }
    };

    private sealed record Drawing(object From, object How, RenderFragment Markup);

    /// <summary>What is written, in pieces small enough for the heap that is tidied: one text of megabytes would lie where holes stay holes.</summary>
    private sealed class Sheets : TextWriter
    {
        private const int Characters = 32_000;
        private readonly StringBuilder _sheet = new();
        private readonly List<string> _full = [];

        public override Encoding Encoding => Encoding.Unicode;

        public override void Write(char value) => Write([value]);

        public override void Write(char[] buffer, int index, int count) => Write(buffer.AsSpan(index, count));

        public override void Write(string? value) => Write(value.AsSpan());

        public override void Write(ReadOnlySpan<char> buffer)
        {
            while (_sheet.Length + buffer.Length > Characters)
            {
                var fits = Characters - _sheet.Length;
                _sheet.Append(buffer[..fits]);
                buffer = buffer[fits..];
                Turn();
            }

            _sheet.Append(buffer);
        }

        public IReadOnlyList<string> All()
        {
            Turn();
            return _full;
        }

        private void Turn()
        {
            _full.Add(_sheet.ToString());
            _sheet.Clear();
        }
    }
}
