namespace Rootwater.Web.Texts;

/// <summary>Marks the words of ForgetText.resx.</summary>
public sealed class ForgetText;
