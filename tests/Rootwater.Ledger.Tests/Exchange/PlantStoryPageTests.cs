using System.Text.RegularExpressions;
using Rootwater.Ledger.Exchange.Story;

namespace Rootwater.Ledger.Tests.Exchange;

/// <summary>A story is one file that loads nothing, runs nothing and tells nothing private.</summary>
public sealed partial class PlantStoryPageTests
{
    private static readonly DateOnly s_today = new(2026, 3, 14);

    [Fact]
    public void Nothing_private_is_told_unless_it_is_ticked()
    {
        var story = Story(new StoryOptions());
        story.ShouldNotContain("secret");
        story.ShouldNotContain("4711");
        story.ShouldContain("<i>Cattleya</i><i> walkeriana</i>");
        story.ShouldContain("2022-04-02");
    }

    [Fact]
    public void Each_tick_lets_out_its_own_thing_and_no_other()
    {
        Secrets(Story(new StoryOptions { Source = true })).ShouldBe(["secret seller"]);
        Secrets(Story(new StoryOptions { Place = true })).ShouldBe(["secret shelf"]);
        Secrets(Story(new StoryOptions { WildLocality = true })).ShouldBe(["secret valley"]);
        Secrets(Story(new StoryOptions { Notes = true })).ShouldBe(["secret words"]);
        Story(new StoryOptions { Price = true }).ShouldContain("4711.11 EUR");
    }

    [Fact]
    public void Pictures_are_within_and_nothing_is_loaded_or_run()
    {
        var story = Story(new StoryOptions(), new StoryPhoto(new DateOnly(2022, 4, 2), "\"onload=alert(1)", [0xFF, 0xD8, 0xFF, 0xD9]));
        story.ShouldContain("src=\"data:image/jpeg;base64,/9j/2Q==\"");
        story.ShouldContain("default-src 'none'");
        story.ShouldNotContain("<script");
        story.ShouldNotContain("\"onload");
        Addresses().Matches(story).Select(match => match.Groups[1].Value).ShouldAllBe(address => address.StartsWith("data:image/jpeg"));
    }

    [Fact]
    public void Words_of_the_grower_are_text_and_never_markup() => Story(new StoryOptions()).ShouldContain("flower &lt;b&gt;white&lt;/b&gt;");

    [Fact]
    public void Every_leaf_is_a_bar_and_a_row_of_the_table()
    {
        var story = Story(new StoryOptions());
        Bars().Count(story).ShouldBe(2);
        story.ShouldContain("bulb 1, leaf 2");
        story.ShouldContain("on arrival");
    }

    private static string Story(StoryOptions options, params StoryPhoto[] photos) => PlantStoryPage.Write(Lives.Full, photos, options, s_today);

    private static List<string> Secrets(string story) => [.. Secret().Matches(story).Select(match => match.Value).Distinct()];

    [GeneratedRegex("(?:src|href|action)=\"([^\"]*)\"")]
    private static partial Regex Addresses();

    [GeneratedRegex("secret \\w+")]
    private static partial Regex Secret();

    [GeneratedRegex("<rect ")]
    private static partial Regex Bars();
}
