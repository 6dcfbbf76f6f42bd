namespace Rootwater.Web.Texts;

/// <summary>Marks the words of CupboardText.resx.</summary>
public sealed class CupboardText;
