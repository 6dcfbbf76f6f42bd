namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Keeps magnesium and calcium out: old leaves pale between the veins.</summary>
internal sealed class PotassiumExcess() : Excess("potassium-excess", "K");
