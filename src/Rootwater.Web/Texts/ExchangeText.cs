namespace Rootwater.Web.Texts;

/// <summary>Marks the words of ExchangeText.resx.</summary>
public sealed class ExchangeText;
