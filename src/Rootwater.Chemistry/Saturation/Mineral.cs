namespace Rootwater.Chemistry.Saturation;

/// <summary>Solids that can fall out of a feed or a concentrate.</summary>
public enum Mineral
{
    /// <summary>CaSO4·2H2O.</summary>
    Gypsum,
    /// <summary>CaSO4.</summary>
    Anhydrite,
    /// <summary>CaCO3.</summary>
    Calcite,
    /// <summary>CaHPO4·2H2O, the phosphate that falls out first in a can.</summary>
    Brushite,
    /// <summary>Ca5(PO4)3OH: nearly always oversaturated where brushite is close, and slow; a warning only.</summary>
    Hydroxyapatite,
    /// <summary>MgNH4PO4·6H2O.</summary>
    Struvite,
    /// <summary>Fe(OH)3, fresh.</summary>
    Ferrihydrite,
    /// <summary>FePO4·2H2O.</summary>
    Strengite,
    /// <summary>Amorphous SiO2.</summary>
    Silica,
}
