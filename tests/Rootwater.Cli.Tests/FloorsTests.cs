using System.Xml.Linq;

namespace Rootwater.Cli.Tests;

/// <summary>Dependencies point down only: Web, Cli → Ledger → Growing → Chemistry. Read from the project files, so that Web is held to it too.</summary>
public sealed class FloorsTests
{
    private static readonly string[] s_fromTheGround = ["Chemistry", "Growing", "Ledger"];

    [Theory]
    [InlineData("Chemistry")]
    [InlineData("Growing")]
    [InlineData("Ledger")]
    [InlineData("Web")]
    [InlineData("Cli")]
    public void A_floor_leans_only_on_what_is_below(string floor) => WrongArrows(floor, References(floor)).ShouldBeEmpty();

    [Fact]
    public void An_arrow_that_points_up_is_seen()
    {
        WrongArrows("Growing", ["Rootwater.Ledger"]).ShouldBe(["Rootwater.Growing → Rootwater.Ledger"]);
        WrongArrows("Chemistry", ["Google.OrTools"]).ShouldBe(["Rootwater.Chemistry → Google.OrTools"]);
        WrongArrows("Web", ["Rootwater.Cli"]).ShouldBe(["Rootwater.Web → Rootwater.Cli"]);
        WrongArrows("Ledger", ["Rootwater.Growing", "Npgsql.EntityFrameworkCore.PostgreSQL"]).ShouldBeEmpty();
    }

    private static List<string> WrongArrows(string floor, IEnumerable<string> references)
    {
        var height = Array.IndexOf(s_fromTheGround, floor);
        var below = s_fromTheGround.Take(height < 0 ? s_fromTheGround.Length : height).Select(name => $"Rootwater.{name}").ToHashSet();
        return
        [
            .. references.Where(reference => reference.StartsWith("Rootwater.", StringComparison.Ordinal) ? !below.Contains(reference) : floor == "Chemistry")
                .Select(reference => $"Rootwater.{floor} → {reference}"),
        ];
    }

    private static IEnumerable<string> References(string floor)
    {
        var project = XDocument.Load(Path.Combine(RepositoryRoot(), "src", $"Rootwater.{floor}", $"Rootwater.{floor}.csproj"));
        return project.Descendants("ProjectReference").Select(reference => Path.GetFileNameWithoutExtension(reference.Attribute("Include")!.Value.Replace('\\', '/')))
            .Concat(project.Descendants("PackageReference").Select(reference => reference.Attribute("Include")!.Value));
    }

    private static string RepositoryRoot()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Rootwater.slnx")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new DirectoryNotFoundException("The tests run outside the repository.");
    }
}
