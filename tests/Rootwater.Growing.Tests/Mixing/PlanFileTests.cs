using System.Text.Json;
using System.Text.Json.Nodes;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Mixing.Files;

namespace Rootwater.Growing.Tests.Mixing;

/// <summary>The request file of the documents, the plan it gives, and the schema that describes the plan.</summary>
public sealed class PlanFileTests
{
    private static string Docs(string file)
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Rootwater.slnx")))
        {
            folder = folder.Parent;
        }

        return File.ReadAllText(Path.Combine(folder.ShouldNotBeNull().FullName, "docs", file));
    }

    // Time enough that a busy machine does not decide what is found.
    private static readonly Lazy<PlanOutcome> s_outcome = new(() =>
        Kitchen.Plan(PlanRequestFile.Read(Docs(Path.Combine("examples", "can-plan.json"))) with { TimeLimit = TimeSpan.FromMinutes(1) }));

    [Fact]
    public void The_example_of_the_documents_is_planned_with_every_want_met()
    {
        var outcome = s_outcome.Value;

        outcome.Unmet.ShouldBeEmpty();
        outcome.Plan.ShouldNotBeNull().Cans.SelectMany(can => can.Serves).SelectMany(served => served.Portions).Count().ShouldBe(12);
    }

    [Fact]
    public void What_is_written_keeps_to_the_schema_of_the_documents()
    {
        var schema = JsonNode.Parse(Docs("plan-schema.json"))!;

        foreach (var outcome in new[] { s_outcome.Value, Kitchen.Plan(Kitchen.Request(cupboard: [Kitchen.CitricAcid])), Kitchen.Plan(Kitchen.Request([Kitchen.Group("thirsty", Kitchen.Want(), plants: 99)])) })
        {
            Breaches(JsonNode.Parse(PlanJson.Write(outcome)), schema, schema, "").ShouldBeEmpty();
        }
    }

    [Fact]
    public void The_schema_check_sees_a_field_too_many_and_one_too_few()
    {
        var schema = JsonNode.Parse(Docs("plan-schema.json"))!;
        var plan = JsonNode.Parse(PlanJson.Write(s_outcome.Value))!;
        plan["plan"]!["cans"]![0]!["surprise"] = 1;
        plan["plan"]!["cans"]![0]!.AsObject().Remove("pH");

        Breaches(plan, schema, schema, "").Count().ShouldBe(2);
    }

    [Fact]
    public void A_can_is_read_back_as_it_was_for_a_check()
    {
        var can = s_outcome.Value.Plan!.Cans[0];

        var again = CanFile.Read(PlanJson.Write(s_outcome.Value), can.Letter);

        again.EcMicrosiemensPerCm.Value.ShouldBe(can.EcMicrosiemensPerCm.Value, 1e-5);
        again.Limits.ShouldBe(can.Limits with { Source = again.Limits.Source });
        CanCheck.Judge(again, new Tools(), can.EcOnPenMicrosiemensPerCm, can.PH.Value).Agrees.ShouldBeTrue();
        Should.Throw<PlanRequestException>(() => CanFile.Read(PlanJson.Write(s_outcome.Value), "Z")).Message.ShouldContain("one of A");
        Should.Throw<PlanRequestException>(() => CanFile.Read("{}")).Message.ShouldContain("can plan --json");
    }

    // The part of JSON Schema 2020-12 that the document uses.
    private static IEnumerable<string> Breaches(JsonNode? value, JsonNode schema, JsonNode root, string at)
    {
        if (schema["$ref"]?.GetValue<string>() is { } reference)
        {
            schema = root["$defs"]![reference.Split('/')[^1]]!;
        }

        if (schema["oneOf"] is JsonArray choices)
        {
            return choices.Any(choice => !Breaches(value, choice!, root, at).Any()) ? [] : [.. choices.Where(choice => choice!["type"]?.ToString() != "null").SelectMany(choice => Breaches(value, choice!, root, at))];
        }

        var found = new List<string>();
        if (schema["const"] is { } constant && !JsonNode.DeepEquals(constant, value))
        {
            found.Add($"{at} is not {constant}");
        }

        if (schema["enum"] is JsonArray allowed && !allowed.Any(each => JsonNode.DeepEquals(each, value)))
        {
            found.Add($"{at} is {value}, not one of {allowed}");
        }

        if (schema["type"] is { } type && !(type is JsonArray several ? several.Select(each => each!.ToString()) : [type.ToString()]).Any(name => IsOf(value, name)))
        {
            found.Add($"{at} is no {type}");
        }

        if (value is JsonArray items && schema["items"] is { } item)
        {
            found.AddRange(items.SelectMany((each, i) => Breaches(each, item, root, $"{at}[{i}]")));
        }

        if (value is JsonObject fields)
        {
            found.AddRange((schema["required"] as JsonArray ?? []).Select(name => name!.ToString()).Where(name => !fields.ContainsKey(name)).Select(name => $"{at}.{name} is missing"));
            foreach (var (name, child) in fields)
            {
                if (schema["properties"]?[name] is { } known)
                {
                    found.AddRange(Breaches(child, known, root, $"{at}.{name}"));
                }
                else if (schema["additionalProperties"] is JsonValue no && !no.GetValue<bool>())
                {
                    found.Add($"{at}.{name} is not in the schema");
                }
                else if (schema["additionalProperties"] is JsonObject other)
                {
                    found.AddRange(Breaches(child, other, root, $"{at}.{name}"));
                }
            }
        }

        return found;
    }

    private static bool IsOf(JsonNode? value, string type) => (value?.GetValueKind() ?? JsonValueKind.Null) switch
    {
        JsonValueKind.Null => type == "null",
        JsonValueKind.Object => type == "object",
        JsonValueKind.Array => type == "array",
        JsonValueKind.String => type == "string",
        JsonValueKind.Number => type == "number" || (type == "integer" && value!.GetValue<double>() % 1 == 0),
        _ => type == "boolean",
    };
}
