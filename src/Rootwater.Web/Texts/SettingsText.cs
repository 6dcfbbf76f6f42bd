namespace Rootwater.Web.Texts;

/// <summary>Marks the words of SettingsText.resx.</summary>
public sealed class SettingsText;
