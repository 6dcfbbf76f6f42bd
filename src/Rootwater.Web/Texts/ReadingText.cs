namespace Rootwater.Web.Texts;

/// <summary>Marks the words of ReadingText.resx.</summary>
public sealed class ReadingText;
