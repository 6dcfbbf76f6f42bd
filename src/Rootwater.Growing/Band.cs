namespace Rootwater.Growing;

/// <summary>Low, ideal and high of one quantity, in the unit of whatever holds it.</summary>
/// <param name="Low">Below this the want is not met.</param>
/// <param name="Ideal">Where it would best be.</param>
/// <param name="High">Above this the want is not met.</param>
public readonly record struct Band(double Low, double Ideal, double High)
{
    public bool Holds(double value) => value >= Low && value <= High;
}
