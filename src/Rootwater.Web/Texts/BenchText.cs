namespace Rootwater.Web.Texts;

/// <summary>Marks the words of BenchText.resx.</summary>
public sealed class BenchText;
