namespace Rootwater.Web.Tests; public sealed class Smoke { [Fact] public void Starts() => true.ShouldBeTrue(); }
