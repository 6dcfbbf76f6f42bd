using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;

namespace Rootwater.Web.Tests.Plant;

/// <summary>What a plant's page draws: the plant's own window behind its readings, and its photos side by side.</summary>
public sealed partial class PlantPageTests : IDisposable
{
    private readonly WebProgram _program = WebProgram.On(new FixtureBench());

    // As the fixture's want says: pH 6.0 to 6.6 at the root.
    private const double WindowLow = 6.0, WindowHigh = 6.6;

    [Fact]
    public async Task A_reading_of_the_root_lies_in_the_drawn_window_just_when_its_pH_is_within_what_the_plant_wants()
    {
        var plots = (await PageAsync()).Split("<svg").Where(svg => svg.Contains("p-window", StringComparison.Ordinal) && svg.Contains("p-point", StringComparison.Ordinal) && svg.Contains(">pH</text>", StringComparison.Ordinal)).ToList();
        plots.ShouldNotBeEmpty();
        var read = 0;
        foreach (var plot in plots)
        {
            var window = Window().Match(plot);
            var (top, tall) = (Number(window, 1), Number(window, 2));
            foreach (Match point in Points().Matches(plot))
            {
                var (y, value) = (Number(point, 1), Number(point, 2));
                (y >= top - 0.01 && y <= top + tall + 0.01).ShouldBe(value is >= WindowLow and <= WindowHigh, point.Value);
                read++;
            }
        }

        read.ShouldBeGreaterThan(5);
    }

    [Fact]
    public async Task Photos_stand_side_by_side_a_column_for_each_year_the_oldest_first()
    {
        var photos = (await PageAsync()).Split("<div class=\"photo-years\"")[1];

        Years().Matches(photos).Select(year => year.Groups[1].Value).Take(5).ShouldBe(["2021", "2022", "2023", "2024", "2025"]);
        photos.Split("<section").Skip(1).Take(5).ShouldAllBe(year => year.Contains("/thumbnail", StringComparison.Ordinal));
        photos.ShouldContain("as it came");
    }

    public void Dispose() => _program.Dispose();

    private async Task<string> PageAsync()
    {
        using var client = _program.CreateClient();
        return WebUtility.HtmlDecode(await client.GetStringAsync("/plants/17", TestContext.Current.CancellationToken));
    }

    private static double Number(Match match, int group) => double.Parse(match.Groups[group].Value, CultureInfo.InvariantCulture);

    [GeneratedRegex("class=\"p-window\"[^>]* y=\"([0-9.]+)\"[^>]* height=\"([0-9.]+)\"")]
    private static partial Regex Window();

    [GeneratedRegex("class=\"p-point\"[^>]* cy=\"([0-9.]+)\"[^>]*><title>[^<]*?pH ([0-9.]+)")]
    private static partial Regex Points();

    [GeneratedRegex("<h3 class=\"num\">([0-9]{4})</h3>")]
    private static partial Regex Years();
}
