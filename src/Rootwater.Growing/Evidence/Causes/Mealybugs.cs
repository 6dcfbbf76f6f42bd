namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Wool in axils and at roots.</summary>
internal sealed class Mealybugs() : Cause("mealybugs");
