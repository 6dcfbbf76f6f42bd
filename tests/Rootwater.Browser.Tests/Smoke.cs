namespace Rootwater.Browser.Tests; public sealed class Smoke { [Fact] public void Starts() => true.ShouldBeTrue(); }
