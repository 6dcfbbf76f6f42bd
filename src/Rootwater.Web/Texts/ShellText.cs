namespace Rootwater.Web.Texts;

/// <summary>Marks the words of ShellText.resx.</summary>
public sealed class ShellText;
