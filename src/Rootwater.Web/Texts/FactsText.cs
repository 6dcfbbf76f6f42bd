namespace Rootwater.Web.Texts;

/// <summary>Marks the words of FactsText.resx.</summary>
public sealed class FactsText;
