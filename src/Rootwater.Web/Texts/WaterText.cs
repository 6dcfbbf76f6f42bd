namespace Rootwater.Web.Texts;

/// <summary>Marks the words of WaterText.resx.</summary>
public sealed class WaterText;
