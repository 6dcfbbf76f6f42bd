using System.Resources;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Cupboard;

/// <summary>The cautions shown wherever a product is handled; their words are in SafetyTexts.resx. Labels and local rules prevail, and the texts say so.</summary>
public static class SafetyTexts
{
    private static readonly ResourceManager s_words = new("Rootwater.Growing.Cupboard.SafetyTexts", typeof(SafetyTexts).Assembly);

    /// <summary>"The product's label, its safety data sheet and local rules prevail …", the last line wherever cautions stand.</summary>
    public static SafetyText LabelPrevails => Text("LabelPrevails");

    /// <summary>For hazards alone; ends with <see cref="LabelPrevails"/> unless there are none.</summary>
    public static IReadOnlyList<SafetyText> For(Hazards hazards)
    {
        var keys = new List<string>();
        if (hazards.HasFlag(Hazards.CorrosiveAcid))
        {
            keys.AddRange(["Acid", "AcidBleach"]);
        }

        if (hazards.HasFlag(Hazards.CorrosiveBase))
        {
            keys.Add("Base");
        }

        if (hazards.HasFlag(Hazards.Oxidiser))
        {
            keys.Add("Oxidiser");
        }

        if (hazards.HasFlag(Hazards.Irritant))
        {
            keys.Add("Irritant");
        }

        return WithLast(keys);
    }

    /// <summary>For a product: its hazards, and what follows from what is in it (a weak acid goes into water too; ammonium and urea never meet bleach).</summary>
    public static IReadOnlyList<SafetyText> For(Product product)
    {
        var keys = For(product.Hazards).Select(text => text.Key).Where(key => key != "LabelPrevails").ToList();
        if (product.Kind == ProductKind.Acid)
        {
            keys.InsertRange(0, keys.Contains("Acid") ? [] : ["Acid", "AcidBleach"]);
        }

        if (product.MolPerKg[Component.Ammonium] > 0.05 || product.MolPerKg[Component.Urea] > 0.05)
        {
            keys.Add("AmmoniumBleach");
        }

        return WithLast(keys);
    }

    /// <summary>For making a concentrate of these products: their own cautions, those of any concentrate, and that calcium stands apart where there is calcium.</summary>
    public static IReadOnlyList<SafetyText> ForConcentrate(IReadOnlyList<Product> products)
    {
        var keys = products.SelectMany(For).Select(text => text.Key).Where(key => key != "LabelPrevails").Distinct().ToList();
        keys.Insert(0, "Concentrate");
        if (products.Any(product => product.MolPerKg[Component.Calcium] > 0))
        {
            keys.Insert(0, "CalciumClash");
        }

        return WithLast(keys);
    }

    /// <summary>One line each, for a step of the card.</summary>
    public static IReadOnlyList<string> ShortFor(Product product) => [.. For(product).Select(text => text.Short)];

    /// <summary>One line each, for a concentrate's recipe.</summary>
    public static IReadOnlyList<string> ShortForConcentrate(IReadOnlyList<Product> products) => [.. ForConcentrate(products).Select(text => text.Short)];

    private static List<SafetyText> WithLast(List<string> keys) => keys.Count == 0 ? [] : [.. keys.Distinct().Select(Text), LabelPrevails];

    private static SafetyText Text(string key) => new(key, Word(key + ".Short"), Word(key + ".Full"));

    private static string Word(string key) => s_words.GetString(key) ?? throw new InvalidOperationException($"SafetyTexts.resx has no \"{key}\".");
}
