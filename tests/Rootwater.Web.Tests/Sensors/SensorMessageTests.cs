using Rootwater.Ledger.Facts;
using Rootwater.Web.Sensors;

namespace Rootwater.Web.Tests.Sensors;

/// <summary>What a probe sends is read as docs/guide/sensors.md says, or refused with the reason.</summary>
public sealed class SensorMessageTests
{
    [Fact]
    public void A_pot_reading_is_an_object_under_the_number_of_its_plant()
    {
        var (read, why) = SensorMessage.Read("rootwater", "rootwater/plant/17/reservoir", "{\"ec_us_cm\":1100,\"ph\":6.4,\"level_percent\":60,\"at\":\"2026-03-14T08:05:00+01:00\"}");
        why.ShouldBeNull();
        read!.Of.ShouldBe(ReadingOf.Reservoir);
        read.PlantNumber.ShouldBe(17);
        read["ec_us_cm"].ShouldBe(1100);
        read["celsius"].ShouldBeNull();
        read.At.ShouldBe(new DateTimeOffset(2026, 3, 14, 8, 5, 0, TimeSpan.FromHours(1)));
    }

    [Fact]
    public void One_value_may_come_by_itself_under_its_own_name()
    {
        var (read, _) = SensorMessage.Read("house/glass", "house/glass/place/shelf-2/air/celsius", " 17.25 ");
        read!.Place.ShouldBe("shelf-2");
        read["celsius"].ShouldBe(17.25);
    }

    [Fact]
    public void A_place_is_named_without_spaces() => SensorMessage.TopicName("Window, apart").ShouldBe("window-apart");

    [Theory]
    [InlineData("rootwater/plant/17/reservoir", "{\"ph\":64}", "ph 64 is not between 0 and 14.")]
    [InlineData("rootwater/plant/17/reservoir", "{\"pH\":6.4}", "\"pH\" is no field of a pot.")]
    [InlineData("rootwater/plant/17/reservoir", "{\"lux\":640}", "\"lux\" is no field of a pot.")]
    [InlineData("rootwater/plant/17/reservoir", "{\"ph\":\"6.4\"}", "\"ph\" is no number.")]
    [InlineData("rootwater/plant/17/reservoir", "6.4", "the payload is no JSON object.")]
    [InlineData("rootwater/plant/17/reservoir", "{}", "nothing was read.")]
    [InlineData("rootwater/plant/seventeen/reservoir", "{\"ph\":6.4}", "\"seventeen\" is no number of a plant.")]
    [InlineData("rootwater/plant/17/root", "{\"ph\":6.4}", "\"root\" is none of reservoir, runoff, soak.")]
    [InlineData("rootwater/place/shelf-2/air/celsius", "warm", "\"warm\" is no number.")]
    [InlineData("rootwater/place/shelf-2", "{}", "a topic has three levels behind its prefix, or four with a field.")]
    [InlineData("rootwater/plant/17/reservoir", "{\"ph\":6.4,\"at\":\"yesterday\"}", "\"at\" is no ISO 8601 time with its offset.")]
    public void What_is_wrong_is_said(string topic, string payload, string why) => SensorMessage.Read("rootwater", topic, payload).Why.ShouldBe(why);
}
