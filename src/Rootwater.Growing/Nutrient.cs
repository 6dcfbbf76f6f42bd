namespace Rootwater.Growing;

/// <summary>What a plant is fed and what a label declares, each counted as the element (urea nitrogen as N, sulfate as S).</summary>
public enum Nutrient
{
    NitrateNitrogen,
    AmmoniumNitrogen,
    UreaNitrogen,
    Phosphorus,
    Potassium,
    Calcium,
    Magnesium,
    Sulfur,
    Iron,
    Manganese,
    Zinc,
    Copper,
    Boron,
    Molybdenum,
    Sodium,
    Chloride,
    Silicon,
}
