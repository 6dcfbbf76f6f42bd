namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Keeps potassium and magnesium out, and lifts the pH where it comes as lime.</summary>
internal sealed class CalciumExcess() : Excess("calcium-excess", "Ca");
