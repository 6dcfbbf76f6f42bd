using Rootwater.Growing.Bench;
using static Rootwater.Web.Components.Plots.Figures;

namespace Rootwater.Web.Components.Plots;

/// <summary>What a part of the drawing stands for.</summary>
public enum DrawnKind
{
    Growth,
    Leaf,
    Spike,
}

/// <summary>A part that can be tapped.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Id">Of the growth, leaf or spike.</param>
/// <param name="Growth">It belongs to.</param>
/// <param name="Path">Outline.</param>
/// <param name="X">Where its number stands.</param>
/// <param name="Y">Where its number stands.</param>
/// <param name="Text">Its number.</param>
/// <param name="Marked">Something was seen on it.</param>
public sealed record DrawnPart(DrawnKind Kind, Guid Id, Growth Growth, string Path, double X, double Y, string Text, bool Marked);

/// <summary>
/// A plant as it stands now, drawn for tapping: a monopodial as a fan seen from the front, the oldest leaf lowest, left and right in turn;
/// a sympodial as its row of bulbs or canes from the oldest to the youngest, each with its leaves. Not a portrait: parts are as large as a finger needs.
/// </summary>
public sealed class PlantDrawing
{
    public const double Width = 328;
    private const double LeafStep = 46, Column = 82;
    private const int PerRow = 4;

    private readonly List<DrawnPart> _parts = [];
    private readonly List<string> _ground = [];

    private PlantDrawing()
    {
    }

    public IReadOnlyList<DrawnPart> Parts => _parts;

    /// <summary>Lines that nobody taps: roots and rhizome.</summary>
    public IReadOnlyList<string> Ground => _ground;
    public double Height { get; private set; }

    public static PlantDrawing Of(IReadOnlyList<Growth> growths, Habit habit)
    {
        var drawing = new PlantDrawing();
        var living = growths.Where(growth => growth.Ended is null).OrderBy(growth => growth.Number).ToList();
        if (habit == Habit.Monopodial)
        {
            foreach (var growth in living)
                drawing.Fan(growth);
        }
        else
        {
            foreach (var row in living.Chunk(PerRow))
                drawing.Row(row);
        }

        drawing.Height += 8;
        return drawing;
    }

    private static List<Leaf> Living(Growth growth) => [.. growth.Leaves.Where(leaf => leaf.Lost is null).OrderBy(leaf => leaf.Position)];

    private static List<Spike> Blooming(Growth growth) => [.. growth.Spikes.Where(spike => spike.Ended is null)];

    private void Fan(Growth growth)
    {
        const double middle = Width / 2;
        var leaves = Living(growth);
        var spikes = Blooming(growth);
        var levels = Math.Max(1, (leaves.Count + 1) / 2);
        var top = Height + (spikes.Count > 0 ? 66 : 10);
        var foot = top + levels * LeafStep + 6;
        var longest = leaves.Select(Length).DefaultIfEmpty(1).Max();
        for (var i = 0; i < leaves.Count; i++)
        {
            // Oldest lowest; the youngest at the top, each pair left and right in turn.
            var (level, side) = (i / 2, i % 2 == 0 ? -1 : 1);
            var y = foot - 16 - level * LeafStep;
            var reach = (middle - 14) * (0.55 + 0.45 * Length(leaves[i]) / longest);
            var tip = middle + side * reach;
            _parts.Add(new DrawnPart(
                DrawnKind.Leaf, leaves[i].Id, growth,
                $"M{N(middle)} {N(y + 4)}C{N(middle + side * reach * 0.3)} {N(y - 34)} {N(middle + side * reach * 0.8)} {N(y - 30)} {N(tip)} {N(y - 8)}C{N(middle + side * reach * 0.8)} {N(y + 10)} {N(middle + side * reach * 0.3)} {N(y + 14)} {N(middle)} {N(y + 4)}Z",
                middle + side * reach * 0.6, y - 5, leaves[i].Position.ToString(System.Globalization.CultureInfo.InvariantCulture), Marked(leaves[i])));
        }

        for (var i = 0; i < spikes.Count; i++)
        {
            var x = middle + (i % 2 == 0 ? 1 : -1) * (26 + 16 * (i / 2));
            _parts.Add(SpikeAt(growth, spikes[i], middle, top + 14, x, top - 56));
        }

        var width = 13.0;
        _parts.Add(new DrawnPart(DrawnKind.Growth, growth.Id, growth, $"M{N(middle - width)} {N(foot + 26)}L{N(middle - 8)} {N(top + 8)}H{N(middle + 8)}L{N(middle + width)} {N(foot + 26)}Z", middle, foot + 18, "", false));
        _ground.Add($"M{N(middle - 8)} {N(foot + 24)}q-30 4-48 18M{N(middle)} {N(foot + 26)}q-6 10-14 18M{N(middle + 2)} {N(foot + 26)}q8 10 16 18M{N(middle + 8)} {N(foot + 24)}q30 4 52 16");
        Height = foot + 46;
    }

    private void Row(IReadOnlyList<Growth> growths)
    {
        var tall = growths.Max(Tall);
        var baseline = Height + 10 + tall;
        _ground.Add($"M8 {N(baseline + 6)}H{N(Math.Min(Width - 8, growths.Count * Column + 8))}");
        for (var i = 0; i < growths.Count; i++)
        {
            var growth = growths[i];
            var x = Column * i + Column / 2;
            var leaves = Living(growth);
            var cane = growth.Form is GrowthForm.Cane;
            var levels = (leaves.Count + 1) / 2;
            var body = Body(growth, leaves.Count);
            var top = baseline - body;
            // The body first: leaves lie over it and stay easy to hit.
            _parts.Add(new DrawnPart(
                DrawnKind.Growth, growth.Id, growth,
                growth.Form switch
                {
                    GrowthForm.Bulb => $"M{N(x)} {N(baseline + 6)}C{N(x - 24)} {N(baseline + 4)} {N(x - 20)} {N(top + 12)} {N(x)} {N(top)}C{N(x + 20)} {N(top + 12)} {N(x + 24)} {N(baseline + 4)} {N(x)} {N(baseline + 6)}Z",
                    GrowthForm.Cane => $"M{N(x - 12)} {N(baseline + 6)}L{N(x - 9)} {N(top)}H{N(x + 9)}L{N(x + 12)} {N(baseline + 6)}Z",
                    _ => $"M{N(x - 15)} {N(baseline + 6)}L{N(x - 9)} {N(top)}H{N(x + 9)}L{N(x + 15)} {N(baseline + 6)}Z",
                },
                x, baseline - 8, growth.Number.ToString(System.Globalization.CultureInfo.InvariantCulture), false));
            if (leaves.Count == 1)
            {
                _parts.Add(new DrawnPart(DrawnKind.Leaf, leaves[0].Id, growth, $"M{N(x)} {N(top + 4)}C{N(x - 22)} {N(top - 18)} {N(x - 16)} {N(top - 62)} {N(x)} {N(top - 70)}C{N(x + 16)} {N(top - 62)} {N(x + 22)} {N(top - 18)} {N(x)} {N(top + 4)}Z", x, top - 28, Number(leaves[0]), Marked(leaves[0])));
            }
            else
            {
                for (var k = 0; k < leaves.Count; k++)
                {
                    var (level, side) = (k / 2, k % 2 == 0 ? -1 : 1);
                    var y = cane ? baseline - 40 - level * 28 : top + 4 - level * 28;
                    var tip = x + side * 38;
                    _parts.Add(new DrawnPart(DrawnKind.Leaf, leaves[k].Id, growth, $"M{N(x + side * 3)} {N(y + 4)}C{N(x + side * 8)} {N(y - 16)} {N(x + side * 28)} {N(y - 24)} {N(tip)} {N(y - 18)}C{N(x + side * 36)} {N(y - 2)} {N(x + side * 20)} {N(y + 8)} {N(x + side * 3)} {N(y + 4)}Z", x + side * 22, y - 3, Number(leaves[k]), Marked(leaves[k])));
                }
            }

            var crown = leaves.Count switch { 0 => top, 1 => top - 70, _ => (cane ? baseline - 40 : top + 4) - (levels - 1) * 28 - 20 };
            foreach (var spike in Blooming(growth))
                _parts.Add(SpikeAt(growth, spike, x, crown + 6, x, crown - 44));
        }

        Height = baseline + 14;
    }

    private static DrawnPart SpikeAt(Growth growth, Spike spike, double x0, double y0, double x1, double y1) => new(
        DrawnKind.Spike, spike.Id, growth,
        $"M{N(x0 - 2)} {N(y0)}Q{N(x0)} {N((y0 + y1) / 2)} {N(x1 - 3)} {N(y1 + 14)}A13 13 0 1 1 {N(x1 + 4)} {N(y1 + 15)}Q{N(x0 + 5)} {N((y0 + y1) / 2)} {N(x0 + 3)} {N(y0)}Z", x1, y1 + 6, "", false);

    private static double Tall(Growth growth)
    {
        var leaves = Living(growth).Count;
        var levels = (leaves + 1) / 2;
        var above = leaves switch { 0 => 6, 1 => 76, _ => growth.Form == GrowthForm.Cane ? 0 : levels * 28 + 4 };
        return Body(growth, leaves) + above + (Blooming(growth).Count > 0 ? 58 : 0);
    }

    private static double Body(Growth growth, int leaves) => growth.Form switch
    {
        GrowthForm.Cane => Math.Max(56, 40 + (leaves + 1) / 2 * 28),
        GrowthForm.Bulb => 52,
        _ => 28,
    };

    private static double Length(Leaf leaf) => leaf.Measures.Select(measure => measure.LengthMillimetres).OfType<double>().DefaultIfEmpty(100).Max();

    private static bool Marked(Leaf leaf) => leaf.Marks.Count > 0;

    private static string Number(Leaf leaf) => leaf.Position.ToString(System.Globalization.CultureInfo.InvariantCulture);
}
