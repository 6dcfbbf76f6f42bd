namespace Rootwater.Web.Texts;

/// <summary>Marks the words of WaterYearText.resx.</summary>
public sealed class WaterYearText;
