namespace Rootwater.Web.Texts;

/// <summary>Marks the words of SubstituteText.resx.</summary>
public sealed class SubstituteText;
