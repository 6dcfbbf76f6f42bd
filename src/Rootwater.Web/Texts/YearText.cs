namespace Rootwater.Web.Texts;

/// <summary>Marks the words of YearText.resx.</summary>
public sealed class YearText;
