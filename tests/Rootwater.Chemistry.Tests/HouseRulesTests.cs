using System.Reflection;
using Rootwater.Chemistry.Species;

namespace Rootwater.Chemistry.Tests;

/// <summary>Rules of the house over the whole floor.</summary>
public sealed class HouseRulesTests
{
    private static readonly Assembly s_floor = typeof(Component).Assembly;

    [Fact]
    public void The_chemistry_floor_leans_on_nothing_but_the_framework() => s_floor.GetReferencedAssemblies()
        .Select(name => name.Name!)
        .ShouldAllBe(name => name.StartsWith("System", StringComparison.Ordinal));

    [Fact]
    public void Every_public_value_type_is_readonly_and_equatable()
    {
        foreach (var type in s_floor.GetExportedTypes().Where(type => type.IsValueType && !type.IsEnum))
        {
            type.GetCustomAttributes().ShouldContain(attribute => attribute.GetType().Name == "IsReadOnlyAttribute", type.Name);
            type.GetInterfaces().ShouldContain(typeof(IEquatable<>).MakeGenericType(type), type.Name);
        }
    }

    [Fact]
    public void Every_row_of_every_constants_table_names_its_source()
    {
        var tables = s_floor.GetManifestResourceNames().Where(name => name.EndsWith(".csv", StringComparison.Ordinal)).ToArray();
        tables.Length.ShouldBeGreaterThanOrEqualTo(5);
        foreach (var table in tables)
        {
            using var csv = new CsvHelper.CsvDataReader(CsvHelper.CsvReader.Create(s_floor.GetManifestResourceStream(table)!));
            while (csv.Read())
            {
                csv.GetString(csv.GetOrdinal("source")).Trim().ShouldNotBeEmpty($"{table}, row {csv.GetString(0)}");
            }
        }
    }
}
