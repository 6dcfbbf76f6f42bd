namespace Rootwater.Web.Texts;

/// <summary>Marks the words of TrialText.resx.</summary>
public sealed class TrialText;
