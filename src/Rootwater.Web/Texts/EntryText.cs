namespace Rootwater.Web.Texts;

/// <summary>Marks the words of EntryText.resx.</summary>
public sealed class EntryText;
