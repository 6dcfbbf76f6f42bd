namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Ties up iron, zinc and copper: new leaves pale between the veins.</summary>
internal sealed class PhosphorusExcess() : Excess("phosphorus-excess", "P");
