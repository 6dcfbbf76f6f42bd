namespace Rootwater.Chemistry.Species;

/// <summary>
/// The building blocks every solution is written in. A total of a component counts it in all its species.
/// Hydrogen may be negative: a base takes protons away. Water is the solvent and is not counted.
/// </summary>
/// <remarks>Ammonium and nitrate are separate: there is no redox between them. DTPA, HEDTA and EDDHA are known only
/// as their iron(III) chelates, which never come apart here; the range in which that holds is stated with them.</remarks>
public enum Component
{
    /// <summary>H+ (a base counts negative: OH- is minus one).</summary>
    Hydrogen,
    /// <summary>Na+.</summary>
    Sodium,
    /// <summary>K+.</summary>
    Potassium,
    /// <summary>Ca+2.</summary>
    Calcium,
    /// <summary>Mg+2.</summary>
    Magnesium,
    /// <summary>NH4+ (ammonia is ammonium less a proton).</summary>
    Ammonium,
    /// <summary>NO3-.</summary>
    Nitrate,
    /// <summary>Cl-.</summary>
    Chloride,
    /// <summary>SO4-2.</summary>
    Sulfate,
    /// <summary>PO4-3.</summary>
    Phosphate,
    /// <summary>CO3-2.</summary>
    Carbonate,
    /// <summary>H3BO3.</summary>
    Borate,
    /// <summary>H4SiO4.</summary>
    Silicate,
    /// <summary>MoO4-2.</summary>
    Molybdate,
    /// <summary>Citrate-3.</summary>
    Citrate,
    /// <summary>Acetate-.</summary>
    Acetate,
    /// <summary>Fe+2.</summary>
    IronII,
    /// <summary>Fe+3.</summary>
    IronIII,
    /// <summary>Mn+2.</summary>
    Manganese,
    /// <summary>Zn+2.</summary>
    Zinc,
    /// <summary>Cu+2.</summary>
    Copper,
    /// <summary>EDTA-4.</summary>
    Edta,
    /// <summary>The iron(III) chelate Fe(DTPA)-2.</summary>
    IronDtpa,
    /// <summary>The iron(III) chelate Fe(HEDTA).</summary>
    IronHedta,
    /// <summary>The iron(III) chelate Fe(EDDHA)-.</summary>
    IronEddha,
    /// <summary>CO(NH2)2, neutral.</summary>
    Urea,
}
