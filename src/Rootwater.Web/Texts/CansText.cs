namespace Rootwater.Web.Texts;

/// <summary>Marks the words of CansText.resx.</summary>
public sealed class CansText;
