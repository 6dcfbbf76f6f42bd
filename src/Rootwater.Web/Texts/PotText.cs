namespace Rootwater.Web.Texts;

/// <summary>Marks the words of PotText.resx.</summary>
public sealed class PotText;
