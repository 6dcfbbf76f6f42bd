namespace Rootwater.Web.Texts;

/// <summary>Marks the words of NetworkText.resx.</summary>
public sealed class NetworkText;
