namespace Rootwater.Cli.Tests; public sealed class Smoke { [Fact] public void Starts() => true.ShouldBeTrue(); }
