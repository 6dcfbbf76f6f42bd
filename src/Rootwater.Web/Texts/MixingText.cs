namespace Rootwater.Web.Texts;

/// <summary>Marks the words of MixingText.resx.</summary>
public sealed class MixingText;
