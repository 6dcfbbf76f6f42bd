namespace Rootwater.Growing.Labels;

/// <summary>What one word of a label says about a declaration.</summary>
/// <param name="Element">The element it names; null for a qualifier alone.</param>
/// <param name="Form">The form it names.</param>
/// <param name="Sureness">3 for a symbol or formula, 2 for a word that means an oxide or a form, 1 for the bare name of an element.</param>
internal sealed record WordMeaning(string? Element = null, DeclaredForm? Form = null, int Sureness = 0)
{
    public bool Total { get; init; }
    public bool Soluble { get; init; }
    public bool Oxide { get; init; }
    public Chelator Chelator { get; init; }
}

/// <summary>The English, German and French words and symbols that labels use for nutrients.</summary>
internal static class NutrientWords
{
    private static readonly Dictionary<string, WordMeaning> s_symbols = new()
    {
        ["N"] = new("N", DeclaredForm.TotalNitrogen, 1),
        ["P"] = new("P", DeclaredForm.Phosphorus, 3),
        ["K"] = new("K", DeclaredForm.Potassium, 3),
        ["S"] = new("S", DeclaredForm.Sulfur, 3),
        ["B"] = new("B", DeclaredForm.Boron, 3),
        ["Ca"] = new("Ca", DeclaredForm.Calcium, 3),
        ["Mg"] = new("Mg", DeclaredForm.Magnesium, 3),
        ["Fe"] = new("Fe", DeclaredForm.Iron, 3),
        ["Mn"] = new("Mn", DeclaredForm.Manganese, 3),
        ["Zn"] = new("Zn", DeclaredForm.Zinc, 3),
        ["Cu"] = new("Cu", DeclaredForm.Copper, 3),
        ["Mo"] = new("Mo", DeclaredForm.Molybdenum, 3),
        ["Na"] = new("Na", DeclaredForm.Sodium, 3),
        ["Cl"] = new("Cl", DeclaredForm.Chloride, 3),
        ["Si"] = new("Si", DeclaredForm.Silicon, 3),
        ["P2O5"] = new("P", DeclaredForm.PhosphorusPentoxide, 4),
        ["K2O"] = new("K", DeclaredForm.PotassiumOxide, 4),
        ["CAO"] = new("Ca", DeclaredForm.CalciumOxide, 4),
        ["MGO"] = new("Mg", DeclaredForm.MagnesiumOxide, 4),
        ["SO3"] = new("S", DeclaredForm.SulfurTrioxide, 4),
        ["SO4"] = new("S", DeclaredForm.Sulfate, 4),
        ["NA2O"] = new("Na", DeclaredForm.SodiumOxide, 4),
        ["SIO2"] = new("Si", DeclaredForm.SiliconDioxide, 4),
        ["NO3-N"] = Nitrate(4),
        ["N-NO3"] = Nitrate(4),
        ["NO3"] = Nitrate(3),
        ["NH4-N"] = Ammonium(4),
        ["N-NH4"] = Ammonium(4),
        ["NH4"] = Ammonium(3),
        ["NH2-N"] = Urea(4),
        ["N-NH2"] = Urea(4),
        ["NH2"] = Urea(3),
    };

    private static readonly Dictionary<string, WordMeaning> s_words = Words();

    /// <summary>What the word means; null when it says nothing here.</summary>
    public static WordMeaning? Meaning(string word)
    {
        if (s_symbols.TryGetValue(word, out var symbol))
        {
            return symbol;
        }

        // Small caps and cameras turn Fe into FE.
        if (word.Length == 2 && s_symbols.TryGetValue(word[0] + word[1..].ToLowerInvariant(), out symbol) && char.IsUpper(word[0]) && char.IsUpper(word[1]))
        {
            return symbol;
        }

        return s_words.GetValueOrDefault(PastedText.Fold(word));
    }

    private static WordMeaning Nitrate(int sureness) => new("N", DeclaredForm.NitrateNitrogen, sureness);

    private static WordMeaning Ammonium(int sureness) => new("N", DeclaredForm.AmmoniacalNitrogen, sureness);

    private static WordMeaning Urea(int sureness) => new("N", DeclaredForm.UreaNitrogen, sureness);

    private static Dictionary<string, WordMeaning> Words()
    {
        var words = new Dictionary<string, WordMeaning>();
        void Add(string all, WordMeaning meaning)
        {
            foreach (var word in all.Split(' '))
            {
                words.Add(word, meaning);
            }
        }

        Add("nitrogen stickstoff azote", new("N", DeclaredForm.TotalNitrogen, 1));
        Add("gesamtstickstoff", new("N", DeclaredForm.TotalNitrogen, 1) { Total = true });
        Add("nitrate nitric nitrique nitrat nitratstickstoff", Nitrate(2));
        Add("ammoniacal ammonium ammonia ammoniumstickstoff ammoniakstickstoff ammoniak", Ammonium(2));
        Add("urea ureic ureique uree harnstoff harnstoffstickstoff carbamid carbamidstickstoff amidstickstoff amide amidic", Urea(2));
        Add("phosphorus phosphor phosphore", new("P", DeclaredForm.PhosphorusPentoxide, 1));
        Add("phosphate phosphat phosphoric phosphorique phosphorpentoxid", new("P", DeclaredForm.PhosphorusPentoxide, 2));
        Add("potassium kalium", new("K", DeclaredForm.PotassiumOxide, 1));
        Add("potash kali potasse kaliumoxid", new("K", DeclaredForm.PotassiumOxide, 2));
        Add("calcium kalzium", new("Ca", DeclaredForm.Calcium, 1));
        Add("calciumoxid kalziumoxid", new("Ca", DeclaredForm.CalciumOxide, 2));
        Add("magnesium", new("Mg", DeclaredForm.Magnesium, 1));
        Add("magnesiumoxid magnesia magnesie", new("Mg", DeclaredForm.MagnesiumOxide, 2));
        Add("sulfur sulphur schwefel soufre", new("S", DeclaredForm.Sulfur, 1));
        Add("schwefeltrioxid", new("S", DeclaredForm.SulfurTrioxide, 2));
        Add("sulfate sulphate sulfat", new("S", DeclaredForm.Sulfate, 2));
        Add("sodium natrium", new("Na", DeclaredForm.Sodium, 1));
        Add("chloride chlorine chlorid chlor chlore chlorure", new("Cl", DeclaredForm.Chloride, 2));
        Add("silicon silicium silizium", new("Si", DeclaredForm.Silicon, 1));
        Add("silica silice kieselsaure siliciumdioxid", new("Si", DeclaredForm.SiliconDioxide, 2));
        Add("boron bor bore", new("B", DeclaredForm.Boron, 2));
        Add("iron eisen fer", new("Fe", DeclaredForm.Iron, 2));
        Add("manganese mangan", new("Mn", DeclaredForm.Manganese, 2));
        Add("zinc zink", new("Zn", DeclaredForm.Zinc, 2));
        Add("copper kupfer cuivre", new("Cu", DeclaredForm.Copper, 2));
        Add("molybdenum molybdan molybdene", new("Mo", DeclaredForm.Molybdenum, 2));
        Add("total totale gesamt tot totaler totales", new() { Total = true });
        Add("soluble solubles loslich wasserloslich wasserlosliches wasserlosliche", new() { Soluble = true });
        Add("oxide oxyde oxid pentoxide pentoxyde pentoxid trioxide trioxyde trioxid dioxide dioxyde dioxid anhydride", new() { Oxide = true });
        Add("edta", new() { Chelator = Chelator.Edta });
        Add("dtpa", new() { Chelator = Chelator.Dtpa });
        Add("hedta heedta", new() { Chelator = Chelator.Hedta });
        Add("eddha", new() { Chelator = Chelator.Eddha });
        Add("chelated chelate chelates chelat chelatiert chelatisiert chelatee", new() { Chelator = Chelator.Unnamed });
        return words;
    }
}
