namespace Rootwater.Web.Texts;

/// <summary>Marks the words of EvidenceText.resx.</summary>
public sealed class EvidenceText;
