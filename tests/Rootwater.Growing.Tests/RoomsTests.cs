using System.Reflection;
using System.Reflection.Emit;
using Rootwater.Growing.Cupboard;

namespace Rootwater.Growing.Tests;

/// <summary>Which room of the growing floor may know which other. Read from the compiled code, method bodies included.</summary>
public sealed class RoomsTests
{
    // Labels, Waters, Cupboard ← Mixing ← Rounds; Waters ← Pots ← Climate; Bench ← Rounds, Evidence. A product may come from a label, so Labels ← Cupboard.
    private static readonly Dictionary<string, string[]> s_mayKnow = new()
    {
        ["Labels"] = [],
        ["Waters"] = [],
        ["Bench"] = [],
        ["Cupboard"] = ["Labels"],
        ["Mixing"] = ["Labels", "Waters", "Cupboard"],
        ["Pots"] = ["Waters"],
        ["Climate"] = ["Pots"],
        ["Rounds"] = ["Labels", "Waters", "Cupboard", "Mixing", "Pots", "Bench"],
        ["Evidence"] = ["Bench"],
    };

    private static readonly Assembly s_growing = typeof(Product).Assembly;

    [Fact]
    public void No_room_knows_one_it_may_not() => WrongArrows(Arrows()).ShouldBeEmpty();

    [Fact]
    public void Bench_knows_no_chemistry() =>
        UsesOf(s_growing).Where(use => Room(use.From) == "Bench" && use.To.Namespace?.StartsWith("Rootwater.Chemistry", StringComparison.Ordinal) == true).Select(use => $"{use.From} → {use.To}").Distinct().ShouldBeEmpty();

    [Fact]
    public void Only_the_solvers_of_Mixing_know_the_integer_programs()
    {
        var users = UsesOf(s_growing).Where(use => use.To.Namespace?.StartsWith("Google", StringComparison.Ordinal) == true).Select(use => use.From.Namespace).Distinct().ToList();
        users.ShouldBe(["Rootwater.Growing.Mixing.Solvers"]);
    }

    // The judge has to be seen to catch what it is for: a wrong arrow named outright, and a real one found in method bodies.
    [Fact]
    public void A_wrong_arrow_is_caught()
    {
        WrongArrows([("Waters", "Mixing")]).ShouldBe(["Waters → Mixing"]);
        WrongArrows([("Labels", "Cupboard")]).ShouldBe(["Labels → Cupboard"]);
        WrongArrows([("Attic", "Labels")]).ShouldBe(["Attic → Labels"], "a new room has to be added to the list");
        Arrows().ShouldContain(("Cupboard", "Labels"), "ProductFactory calls LabelInversion in a method body");
        Arrows().ShouldContain(("Mixing", "Waters"));
    }

    private static List<string> WrongArrows(IEnumerable<(string From, string To)> arrows) =>
        [.. arrows.Where(arrow => !s_mayKnow.TryGetValue(arrow.From, out var known) || !known.Contains(arrow.To)).Select(arrow => $"{arrow.From} → {arrow.To}").Order()];

    private static List<(string From, string To)> Arrows() =>
        [.. UsesOf(s_growing).Select(use => (From: Room(use.From), To: Room(use.To))).Where(arrow => arrow.From is not null && arrow.To is not null && arrow.From != arrow.To).Select(arrow => (arrow.From!, arrow.To!)).Distinct()];

    private static string? Room(Type type) =>
        type.Namespace is { } name && name.StartsWith("Rootwater.Growing.", StringComparison.Ordinal) ? name.Split('.')[2] : null;

    private static IEnumerable<(Type From, Type To)> UsesOf(Assembly assembly) => assembly.GetTypes().SelectMany(type => UsesOf(type).SelectMany(Parts).Distinct().Select(to => (type, to)));

    private static IEnumerable<Type> UsesOf(Type type)
    {
        const BindingFlags all = BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.Static | BindingFlags.Instance | BindingFlags.DeclaredOnly;
        var methods = type.GetMethods(all).Cast<MethodBase>().Concat(type.GetConstructors(all)).ToList();
        return new[] { type.BaseType }.OfType<Type>()
            .Concat(type.GetInterfaces())
            .Concat(type.GetFields(all).Select(field => field.FieldType))
            .Concat(methods.OfType<MethodInfo>().Select(method => method.ReturnType))
            .Concat(methods.SelectMany(method => method.GetParameters()).Select(parameter => parameter.ParameterType))
            .Concat(methods.SelectMany(UsesInBody));
    }

    private static IEnumerable<Type> Parts(Type type)
    {
        if (type.HasElementType)
        {
            return Parts(type.GetElementType()!);
        }

        return type.IsGenericParameter ? [] : type.GetGenericArguments().SelectMany(Parts).Append(type);
    }

    private static IEnumerable<Type> UsesInBody(MethodBase method)
    {
        if (method.GetMethodBody() is not { } body)
        {
            return [];
        }

        return body.LocalVariables.Select(local => local.LocalType).Concat(Tokens(body.GetILAsByteArray()!).SelectMany(token => Resolve(method, token)));
    }

    private static IEnumerable<Type> Resolve(MethodBase method, int token)
    {
        var typeArguments = method.DeclaringType is { IsGenericType: true } declaring ? declaring.GetGenericArguments() : null;
        var methodArguments = method.IsGenericMethod ? method.GetGenericArguments() : null;
        return method.Module.ResolveMember(token, typeArguments, methodArguments) switch
        {
            Type type => [type],
            FieldInfo field => [field.DeclaringType!, field.FieldType],
            MethodInfo called => [called.DeclaringType!, called.ReturnType, .. called.IsGenericMethod ? called.GetGenericArguments() : []],
            MethodBase called => [called.DeclaringType!],
            _ => [],
        };
    }

    private static readonly Dictionary<short, OpCode> s_codes = typeof(OpCodes).GetFields(BindingFlags.Public | BindingFlags.Static).Select(field => (OpCode)field.GetValue(null)!).ToDictionary(code => code.Value);

    /// <summary>The metadata tokens in a method's instructions (ECMA-335, partition III).</summary>
    private static IEnumerable<int> Tokens(byte[] il)
    {
        for (var at = 0; at < il.Length;)
        {
            var code = il[at] == 0xfe ? s_codes[(short)(0xfe00 | il[at + 1])] : s_codes[il[at]];
            at += code.Size;
            switch (code.OperandType)
            {
                case OperandType.InlineField or OperandType.InlineMethod or OperandType.InlineTok or OperandType.InlineType:
                    yield return BitConverter.ToInt32(il, at);
                    at += 4;
                    break;
                case OperandType.InlineSwitch:
                    at += 4 + 4 * BitConverter.ToInt32(il, at);
                    break;
                case OperandType.InlineI8 or OperandType.InlineR:
                    at += 8;
                    break;
                case OperandType.InlineVar:
                    at += 2;
                    break;
                case OperandType.ShortInlineBrTarget or OperandType.ShortInlineI or OperandType.ShortInlineVar:
                    at += 1;
                    break;
                case OperandType.InlineNone:
                    break;
                default:
                    at += 4;
                    break;
            }
        }
    }
}
