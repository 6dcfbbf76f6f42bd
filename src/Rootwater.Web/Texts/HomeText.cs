namespace Rootwater.Web.Texts;

/// <summary>Marks the words of HomeText.resx.</summary>
public sealed class HomeText;
