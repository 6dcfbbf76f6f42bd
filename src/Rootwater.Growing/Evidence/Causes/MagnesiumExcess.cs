namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Keeps calcium and potassium out.</summary>
internal sealed class MagnesiumExcess() : Excess("magnesium-excess", "Mg");
