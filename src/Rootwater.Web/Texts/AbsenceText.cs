namespace Rootwater.Web.Texts;

/// <summary>Marks the words of AbsenceText.resx.</summary>
public sealed class AbsenceText;
