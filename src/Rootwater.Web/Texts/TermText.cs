namespace Rootwater.Web.Texts;

/// <summary>Marks the words of TermText.resx: the trade's terms, the same on every page.</summary>
public sealed class TermText;
