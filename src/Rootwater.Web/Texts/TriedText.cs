namespace Rootwater.Web.Texts;

/// <summary>Marks the words of TriedText.resx.</summary>
public sealed class TriedText;
