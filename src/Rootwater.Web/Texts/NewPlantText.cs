namespace Rootwater.Web.Texts;

/// <summary>Marks the words of NewPlantText.resx.</summary>
public sealed class NewPlantText;
