using System.Text.Json;
using System.Text.Json.Nodes;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Tests.Facts;

/// <summary>Facts are kept for ever: what was written once must be read by every later program.</summary>
public sealed class FactKindsTests
{
    private static readonly JsonObject s_asWritten = Read();

    public static TheoryData<string> Kinds => [.. s_asWritten.Select(pair => pair.Key)];

    [Fact]
    public void Every_kind_has_a_payload_as_it_was_first_written()
    {
        FactKinds.All.Keys.Order().ShouldBe(s_asWritten.Select(pair => pair.Key).Order());
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_payload_as_it_was_first_written_is_still_read_and_means_the_same(string kind)
    {
        var version = (int)s_asWritten[kind]!["version"]!;
        var written = s_asWritten[kind]!["payload"]!;

        var payload = FactKinds.Read(kind, version, written.ToJsonString());
        var (sameKind, _, json) = FactKinds.Write(payload);

        sameKind.ShouldBe(kind);
        // Later shapes may add what is new; nothing that was written may be lost.
        Missing(written, JsonNode.Parse(json)!, kind).ShouldBeEmpty();
    }

    [Fact]
    public void A_newer_version_of_a_kind_is_refused_by_name()
    {
        var problem = Should.Throw<LedgerProblem>(() => FactKinds.Read("lot.weighed", 99, "{}"));

        problem.Fault.ShouldBe(LedgerFault.NewerThanProgram);
        problem.Message.ShouldContain("lot.weighed");
    }

    [Theory]
    [InlineData("not json")]
    [InlineData("{}")]
    [InlineData("{\"product\":{\"molPerKg\":{\"Unobtainium\":1}}}")]
    public void A_payload_that_cannot_be_read_names_its_kind(string json)
    {
        var problem = Should.Throw<LedgerProblem>(() => FactKinds.Read("product.set", 1, json == "{}" ? "{\"product\":{}}" : json));

        problem.Fault.ShouldBe(LedgerFault.Corrupt);
        problem.Message.ShouldContain("product.set");
    }

    private static IEnumerable<string> Missing(JsonNode written, JsonNode? now, string path)
    {
        switch (written)
        {
            case JsonObject from:
                return from.SelectMany(pair => pair.Value is null ? [] : Missing(pair.Value, (now as JsonObject)?[pair.Key], $"{path}.{pair.Key}"));
            case JsonArray from:
                return from.SelectMany((item, i) => item is null ? [] : Missing(item, now is JsonArray to && i < to.Count ? to[i] : null, $"{path}[{i}]"));
            default:
                return now is not null && Same(written, now) ? [] : [$"{path}: {written.ToJsonString()} became {now?.ToJsonString() ?? "nothing"}"];
        }
    }

    private static bool Same(JsonNode a, JsonNode b) => a.GetValueKind() == JsonValueKind.Number && b.GetValueKind() == JsonValueKind.Number
        ? a.GetValue<double>() == b.GetValue<double>()
        : a.ToJsonString() == b.ToJsonString();

    private static JsonObject Read()
    {
        using var stream = typeof(FactKindsTests).Assembly.GetManifestResourceStream("FactKindsTests.AsWritten.json")!;
        return JsonNode.Parse(stream)!.AsObject();
    }
}
