using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Tests.Pots;

public sealed class PotRequestFileTests
{
    /// <summary>The very example the documents point to.</summary>
    private static string Example { get; } = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Pots", "pot-forecast.json"));

    [Fact]
    public void The_example_in_the_documents_reads_and_runs()
    {
        var request = PotRequestFile.Read(Example);
        request.Setup.Medium.ShouldBe(Media.Default);
        request.Setup.LeafAreaSquareMetres.ShouldBe(0.03, 1e-12);
        request.Events.ShouldHaveSingleItem().Hour.ShouldBe(96);
        request.Start.Medium.InMolPerKgWater().PH(21).ShouldBe(5.8, 1e-4);

        var forecast = PotForecaster.Run(request);
        forecast.Points[^1].Hours.ShouldBe(168);
        forecast.Points[0].Medium.MgPerLitre.TotalNitrogen.ShouldBe(74, 1);
    }

    [Theory]
    [InlineData("\"medium\": \"expanded-clay\"", "\"medium\": \"gravel\"", "pot.medium", "gravel")]
    [InlineData("\"mediumLitres\": 1.0", "\"mediumLitres\": -1", "pot.mediumLitres", "-1")]
    [InlineData("\"culture\": \"wicking\"", "\"culture\": \"hanging\"", "pot.culture", "hanging")]
    [InlineData("\"relativeHumidityPercent\": 65", "\"relativeHumidityPercent\": 165", "climate.relativeHumidityPercent", "165")]
    [InlineData("\"KNO3\": 1.5", "\"KNO3\": -1.5", "solutions.feed.reagents.KNO3", "-1.5")]
    [InlineData("\"KNO3\": 1.5", "\"KXO3\": 1.5", "solutions.feed.reagents.KXO3", "KXO3")]
    [InlineData("\"pH\": 5.8", "\"pH\": 15", "solutions.feed.pH", "15")]
    [InlineData("\"unit\": \"mmol\"", "\"unit\": \"oz\"", "solutions.feed.unit", "oz")]
    [InlineData("\"filledWith\": \"feed\"", "\"filledWith\": \"fed\"", "start.filledWith", "fed")]
    [InlineData("\"kind\": \"topUp\"", "\"kind\": \"spray\"", "events[0].kind", "spray")]
    [InlineData("\"day\": 4", "\"day\": 40", "events[0].hour", "960")]
    [InlineData("\"days\": 7", "\"days\": \"seven\"", "days", "seven")]
    [InlineData("\"days\": 7", "\"dais\": 7", "dais", "this field")]
    [InlineData("\"low\": 6.0", "\"low\": 7.0", "window", "7")]
    public void Bad_input_names_its_field_and_value(string good, string bad, string field, string value)
    {
        Example.ShouldContain(good);
        var problem = Should.Throw<PotInputException>(() => PotRequestFile.Read(Example.Replace(good, bad, StringComparison.Ordinal)));
        problem.Field.ShouldBe(field);
        problem.Message.ShouldContain(value);
        problem.Accepted.ShouldNotBeEmpty();
    }

    [Theory]
    [InlineData("")]
    [InlineData("{")]
    [InlineData("[]")]
    public void What_is_no_request_is_refused(string text) => Should.Throw<PotInputException>(() => PotRequestFile.Read(text)).Field.ShouldBe("request");

    [Fact]
    public void What_a_soak_of_one_s_own_clay_showed_takes_the_place_of_the_list()
    {
        var own = Example.Replace("\"mediumLitres\": 1.0", "\"mediumValues\": { \"restingPH\": 7.2, \"baseMeqPerLitre\": 0.4 }, \"mediumLitres\": 1.0", StringComparison.Ordinal);
        var medium = PotRequestFile.Read(own).Setup.Medium;
        medium.RestingPH.ShouldBe(7.2);
        medium.BaseMeqPerLitre.ShouldBe(0.4);
        medium.ExchangePerDay.ShouldBe(Media.Default.ExchangePerDay);
    }
}
