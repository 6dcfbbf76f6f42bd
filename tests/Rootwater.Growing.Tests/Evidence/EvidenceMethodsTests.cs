using Rootwater.Growing.Evidence.Methods;

namespace Rootwater.Growing.Tests.Evidence;

public sealed class EvidenceMethodsTests
{
    [Fact]
    public void Every_method_and_every_option_stands_in_the_documents()
    {
        var page = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "evidence-methods.md"));
        foreach (var method in EvidenceMethods.All)
        {
            page.ShouldContain($"| `{method.Name}` |");
            foreach (var option in method.Options)
            {
                page.ShouldContain("--" + option.Name);
            }
        }
    }

    [Theory]
    [InlineData("age", 50.0)]
    [InlineData("a=age-48", 2.0)]
    [InlineData("a=log(age)/2", 1.9560115027140728)]
    [InlineData("s=sort:big", 1.0)]
    [InlineData("s=sort:small", 0.0)]
    [InlineData("sort", 0.0)]
    public void A_covariate_is_a_column_a_level_or_a_formula(string covariate, double first)
    {
        var run = new MethodRun(EvidenceMethods.All[0], EvidenceTable.Parse("age,sort\n50,big\n60,small\n"), new Dictionary<string, string> { ["covariates"] = covariate });
        run.Covariates("covariates").Columns.ShouldHaveSingleItem()[0].ShouldBe(first, 1e-12);
    }

    [Theory]
    [InlineData("feed=old", 2)]
    [InlineData("feed!=old", 1)]
    [InlineData("feed=old|new; days<15", 2)]
    [InlineData("days>=10", 3)]
    [InlineData("days=10.0", 1)]
    public void Conditions_choose_rows(string where, int rows) =>
        EvidenceTable.Parse("days,feed\n10,old\n20,old\n12,new\n").Where(where).Count.ShouldBe(rows);
}
