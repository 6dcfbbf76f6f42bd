namespace Rootwater.Web.Texts;

/// <summary>Marks the words of LoggerText.resx.</summary>
public sealed class LoggerText;
