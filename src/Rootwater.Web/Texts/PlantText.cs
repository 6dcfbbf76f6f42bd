namespace Rootwater.Web.Texts;

/// <summary>Marks the words of PlantText.resx.</summary>
public sealed class PlantText;
