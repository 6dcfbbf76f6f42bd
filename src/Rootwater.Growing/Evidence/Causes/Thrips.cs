namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Silvery specks, marked flowers.</summary>
internal sealed class Thrips() : Cause("thrips");
