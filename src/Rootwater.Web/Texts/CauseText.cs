namespace Rootwater.Web.Texts;

/// <summary>Marks the words of CauseText.resx.</summary>
public sealed class CauseText;
