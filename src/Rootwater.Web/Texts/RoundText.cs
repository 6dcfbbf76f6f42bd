namespace Rootwater.Web.Texts;

/// <summary>Marks the words of RoundText.resx.</summary>
public sealed class RoundText;
