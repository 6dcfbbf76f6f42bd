namespace Rootwater.Growing.Waters;

/// <summary>The words and abbreviations that reports use for quantities and units (English, German, French).</summary>
public static class WaterWords
{
    private static readonly Dictionary<string, WaterQuantity> s_quantities = Quantities();

    /// <summary>All words, longest first, for searching a text.</summary>
    internal static IReadOnlyList<string> QuantityWords { get; } = [.. s_quantities.Keys.OrderByDescending(word => word.Length)];

    /// <summary>Reads the name of a quantity: "Ca", "calcium", "KH", "Gesamthärte". False when it is none.</summary>
    public static bool TryQuantity(string word, out WaterQuantity quantity) => s_quantities.TryGetValue(Fold(word), out quantity);

    /// <summary>Reads a unit for a quantity. A bare "ppm" or no unit at all is refused where it could mean more than one thing.</summary>
    /// <param name="text">"mg/L", "°dH", "mg/L as CaCO3", "ppm 0.5".</param>
    /// <param name="quantity">What it is the unit of; "ppm" of calcium is mg/L, "ppm" of EC is not.</param>
    /// <param name="unit">The unit.</param>
    /// <param name="problem">Why it cannot be used, and what can.</param>
    public static bool TryUnit(string text, WaterQuantity quantity, out WaterUnit unit, out InputProblem? problem)
    {
        var plain = Fold(text).Replace(" ", string.Empty, StringComparison.Ordinal).Replace("(", string.Empty, StringComparison.Ordinal).Replace(")", string.Empty, StringComparison.Ordinal);
        var found = Unit(plain, quantity);
        if (found is null && quantity == WaterQuantity.Conductivity && (plain.Contains("ppm", StringComparison.Ordinal) || plain.Contains("tds", StringComparison.Ordinal)))
        {
            unit = default;
            problem = InputProblem.Error("EC unit", text, "Meters show EC as ppm on three scales. Say which: ppm 0.5, ppm 0.64 or ppm 0.7 (the meter's manual tells), or give µS/cm.");
            return false;
        }

        if (found is not { } known || !WaterUnits.Fits(quantity, known))
        {
            unit = default;
            problem = InputProblem.Error($"{quantity} unit", text, $"{quantity} can be given in {WaterUnits.Accepted(quantity)}.");
            return false;
        }

        (unit, problem) = (known, null);
        return true;
    }

    private static WaterUnit? Unit(string plain, WaterQuantity quantity) => plain switch
    {
        "" => quantity switch
        {
            WaterQuantity.PH => WaterUnit.None,
            WaterQuantity.Temperature => WaterUnit.Celsius,
            _ => null,
        },
        "mg/l" or "ppm" or "g/m3" or "mgl" or "mg/lion" when quantity is not WaterQuantity.Conductivity and not WaterQuantity.Hardness and not WaterQuantity.Alkalinity => WaterUnit.MgPerLitre,
        "µg/l" or "ug/l" or "ppb" => WaterUnit.MicrogramsPerLitre,
        "mg/lasn" or "mg/ln" or "mg/lasp" or "mg/lp" or "mg/lass" or "mg/ls" or "mg/lassi" or "mg/lsi" or "mgn/l" or "mgp/l" or "ppmn" or "mg/l-n" => WaterUnit.MgPerLitreAsElement,
        "mg/lcaco3" or "mg/lascaco3" or "ppmcaco3" or "ppmascaco3" or "mgcaco3/l" => WaterUnit.MgPerLitreAsCaCO3,
        "mmol/l" or "mmol" or "mm" => WaterUnit.MmolPerLitre,
        "meq/l" or "meq" or "mval/l" or "mval" or "me/l" => WaterUnit.MeqPerLitre,
        "°dh" or "dh" or "dgh" or "dkh" or "°d" or "°kh" or "°gh" or "°dkh" or "°dgh" or "grad" or "gradddh" => WaterUnit.GermanDegrees,
        "°" when quantity is WaterQuantity.Hardness or WaterQuantity.Alkalinity => WaterUnit.GermanDegrees,
        "°fh" or "°f" or "fh" or "tac" or "th" when quantity != WaterQuantity.Temperature => WaterUnit.FrenchDegrees,
        "°e" or "°clark" or "clark" or "°eh" => WaterUnit.EnglishDegrees,
        "gpg" or "gr/gal" or "grains/usgal" or "grains/gal" or "grainspergallon" or "grains" => WaterUnit.GrainsPerUsGallon,
        "µs/cm" or "us/cm" or "µs" or "us" => WaterUnit.MicrosiemensPerCm,
        "ms/cm" or "ds/m" or "mmho/cm" or "ms" => WaterUnit.MillisiemensPerCm,
        "ms/m" => null,
        "ppm0.5" or "ppm500" or "ppm0,5" => WaterUnit.MeterPpm500,
        "ppm0.64" or "ppm640" or "ppm0,64" => WaterUnit.MeterPpm640,
        "ppm0.7" or "ppm700" or "ppm0,7" => WaterUnit.MeterPpm700,
        "°c" or "c" => WaterUnit.Celsius,
        "°f" or "f" => WaterUnit.Fahrenheit,
        _ => null,
    };

    private static string Fold(string word) => PastedText.Fold(PastedText.Plain(word).Trim());

    private static Dictionary<string, WaterQuantity> Quantities()
    {
        var words = new Dictionary<string, WaterQuantity>();
        void Add(WaterQuantity quantity, string all)
        {
            foreach (var word in all.Split(';'))
            {
                words.Add(word, quantity);
            }
        }

        Add(WaterQuantity.Calcium, "ca;calcium;kalzium;ca2+;ca++");
        Add(WaterQuantity.Magnesium, "mg;magnesium;mg2+;mg++");
        Add(WaterQuantity.Sodium, "na;sodium;natrium;na+");
        Add(WaterQuantity.Potassium, "k;potassium;kalium;k+");
        Add(WaterQuantity.Ammonium, "nh4;ammonium;nh4+;nh4-n;ammonia");
        Add(WaterQuantity.Nitrate, "no3;nitrate;nitrat;no3-;no3-n;nitrates");
        Add(WaterQuantity.Chloride, "cl;chloride;chlorid;chlorure;cl-;chlorures");
        Add(WaterQuantity.Sulfate, "so4;sulfate;sulphate;sulfat;sulfates;so42-");
        Add(WaterQuantity.Phosphate, "po4;phosphate;phosphat;po43-;po4-p");
        Add(WaterQuantity.Silica, "sio2;silica;silicate;silikat;kieselsaure;silice");
        Add(WaterQuantity.Boron, "b;boron;bor;bore");
        Add(WaterQuantity.Iron, "fe;iron;eisen;fer");
        Add(WaterQuantity.Manganese, "mn;manganese;mangan");
        Add(WaterQuantity.Zinc, "zn;zinc;zink");
        Add(WaterQuantity.Copper, "cu;copper;kupfer;cuivre");
        Add(WaterQuantity.Bicarbonate, "hco3;bicarbonate;hydrogen carbonate;hydrogencarbonat;hydrogenkarbonat;bicarbonates;hydrogenocarbonates;hco3-");
        Add(WaterQuantity.Alkalinity, "alkalinity;total alkalinity;kh;carbonate hardness;karbonatharte;carbonatharte;acid capacity;saurekapazitat;saurekapazitat bis ph 4,3;alk;tac;alcalinite;ks 4.3;ks4.3;ks4,3");
        Add(WaterQuantity.Hardness, "hardness;total hardness;general hardness;gh;gesamtharte;wasserharte;harte;durete;durete totale;th");
        Add(WaterQuantity.PH, "ph;ph value;ph-wert;ph-value");
        Add(WaterQuantity.Conductivity, "ec;conductivity;electrical conductivity;leitfahigkeit;elektrische leitfahigkeit;conductivite;tds");
        Add(WaterQuantity.Temperature, "temperature;temp;temperatur;water temperature;wassertemperatur");
        return words;
    }
}
