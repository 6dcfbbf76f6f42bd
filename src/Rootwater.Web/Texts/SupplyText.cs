namespace Rootwater.Web.Texts;

/// <summary>Marks the words of SupplyText.resx.</summary>
public sealed class SupplyText;
