namespace Rootwater.Growing.Evidence.Causes;

/// <summary>A slow wilt with a purple-brown ring in the cut stem.</summary>
internal sealed class Fusarium() : Cause("fusarium");
