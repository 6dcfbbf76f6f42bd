namespace Rootwater.Web.Texts;

/// <summary>Marks the words of PensText.resx.</summary>
public sealed class PensText;
