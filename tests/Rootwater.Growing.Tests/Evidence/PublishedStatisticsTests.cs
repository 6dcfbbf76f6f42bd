namespace Rootwater.Growing.Tests.Evidence;

/// <summary>Every published value of References/Statistics, one by one; sources in the README there.</summary>
public sealed class PublishedStatisticsTests
{
    public static TheoryData<string, string> Values
    {
        get
        {
            var data = new TheoryData<string, string>();
            foreach (var topic in Topics)
            {
                foreach (var row in PublishedStatistics.Rows(topic))
                {
                    data.Add(new TheoryDataRow<string, string>(topic, row.Id) { TestDisplayName = $"{row.Id}: {row.Method}, {row.Group}, {row.Quantity}" });
                }
            }

            return data;
        }
    }

    private static string[] Topics => [.. Directory.EnumerateFiles(PublishedStatistics.Folder, "expected_*.csv").Select(file => Path.GetFileNameWithoutExtension(file)["expected_".Length..]).Order()];

    [Theory]
    [MemberData(nameof(Values), DisableDiscoveryEnumeration = false)]
    public void A_published_value_is_met_within_its_tolerance(string topic, string id)
    {
        var row = PublishedStatistics.Rows(topic).First(row => row.Id == id);
        var ours = PublishedStatistics.Ours(topic, row).ShouldNotBeNull($"nothing answers {row.Method}, {row.Group}, {row.Quantity}");
        if (row.Value is not { } expected)
        {
            ours.Value.ShouldBeNull();
            return;
        }

        var value = ours.Value.ShouldNotBeNull(ours.Note);
        if (double.IsInfinity(expected))
        {
            value.ShouldBe(expected);
            return;
        }

        // Absolute for 0, and for the one printed p-value that is the rounding noise of its maker (README): -1.3e-15.
        var slack = Math.Abs(expected) < 1e-14 && expected <= 0 ? row.Tolerance : row.Tolerance * Math.Abs(expected);
        // The printed value itself is rounded to ten digits.
        value.ShouldBe(expected, slack + 5e-10 * Math.Abs(expected));
    }

    [Fact]
    public void All_tables_are_there() => Topics.Length.ShouldBe(20);
}
