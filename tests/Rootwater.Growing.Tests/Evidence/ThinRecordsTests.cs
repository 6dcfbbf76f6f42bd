using Rootwater.Growing.Evidence;
using Rootwater.Growing.Evidence.Methods;

namespace Rootwater.Growing.Tests.Evidence;

/// <summary>Records that cannot carry an answer get a sentence, never a NaN and never a p-value that means nothing.</summary>
public sealed class ThinRecordsTests
{
    private const string NoLoss = "time,event,group,x\n10,0,a,1\n12,0,a,2\n9,0,b,3\n14,0,b,5\n";
    private const string OneDay = "time,event,group,x\n30,1,a,1\n30,1,a,2\n30,1,b,3\n30,1,b,5\n30,0,b,4\n";
    private const string OneLeaf = "time,event,group,x\n30,1,a,1\n";
    private const string Separated = "time,event,group,x\n1,1,a,1\n2,1,a,1\n3,1,a,1\n4,1,a,1\n9,1,b,0\n10,1,b,0\n11,1,b,0\n12,0,b,0\n";

    [Theory]
    [InlineData("km", NoLoss, "", "How long they last cannot be told yet")]
    [InlineData("km", OneDay, "", "one happening, not a rate")]
    [InlineData("km", OneLeaf, "", "One life shows what happened once")]
    [InlineData("log-rank", NoLoss, "", "it says nothing yet about a difference")]
    [InlineData("log-rank", OneLeaf, "", "only one group")]
    [InlineData("cox", NoLoss, "--covariates x", "no hazard can be compared")]
    [InlineData("cox", OneLeaf, "--covariates x", "nothing can be compared")]
    [InlineData("cox", Separated, "--covariates x", "Perfectly separated")]
    [InlineData("cox", Separated, "--covariates x --ties exact", "Perfectly separated")]
    [InlineData("weibull", NoLoss, "", "Nothing was lost")]
    [InlineData("weibull", OneDay, "", "one age")]
    [InlineData("weibull", OneLeaf, "", "one age")]
    [InlineData("weibull", "time,event,x\n4,1,1\n6,1,1\n", "--covariates x", "never varies")]
    [InlineData("clogit", "case,stratum,x\n1,1,1\n0,1,0\n1,2,1\n0,2,0\n1,3,1\n0,3,0\n1,4,1\n0,4,0\n", "--covariates x", "Perfectly separated")]
    [InlineData("clogit", "case,stratum,x\n0,1,1\n0,1,0\n", "--covariates x", "Nothing was lost")]
    [InlineData("rates", "x1,T1,x2,T2\n0,10,0,12\n", "", "nothing can be said of their ratio")]
    [InlineData("counts", "count,x\n0,1\n0,2\n0,4\n0,5\n", "--covariates x", "Not one event")]
    [InlineData("counts", "count,x\n0,0\n0,0\n0,0\n3,1\n4,1\n5,1\n", "--covariates x", "runs away")]
    [InlineData("counts", "count,x\n2,1\n3,1\n4,1\n", "--covariates x", "never varies")]
    [InlineData("its", "value\n1\n2\n3\n4\n", "--change 2", "too few")]
    [InlineData("its", "value\n5\n5\n5\n5\n5\n5\n5\n5\n", "--change 4", "never changes")]
    [InlineData("its", "value\n1\n2\n3\n4\n9\n10\n11\n12\n", "--change 4", "goes through every point")]
    [InlineData("change-points", "value\n5\n5\n5\n5\n5\n5\n5\n5\n", "", "never changes")]
    [InlineData("change-points", "value\n5\n6\n", "", "too few")]
    [InlineData("trend", "time,value\n1,5\n2,5\n3,5\n4,5\n", "", "never changes")]
    [InlineData("trend", "time,value\n1,5\n1,6\n1,7\n1,8\n", "", "one time")]
    [InlineData("paired", "before,after\n1,3\n", "", "One pair")]
    [InlineData("paired", "before,after\n1,1\n2,2\n", "", "Not one pair differs")]
    [InlineData("paired", "before,after\n1,2\n2,3\n4,5\n", "", "same amount")]
    [InlineData("permutation", "value,group\n1,a\n2,b\n", "", "only 2 ways to fall")]
    [InlineData("circular", "angle\n40\n", "", "not yet a season")]
    [InlineData("circular", "angle\n0\n90\n180\n270\n", "", "Too scattered")]
    [InlineData("nls", "x,y\n1,2\n", "--formula a+b*x --start a=1,b=1", "cannot carry")]
    [InlineData("nls", "x,y\n1,2\n1,3\n1,4\n", "--formula a+b*x --start a=1,b=1", "do not fix all parameters")]
    [InlineData("nls-grouped", "x,y,group\n1,2,a\n2,3,a\n3,5,a\n", "--formula a+b*x --start a=1,b=1", "cannot show how groups differ")]
    [InlineData("lmm", "value,group\n1,a\n2,a\n3,a\n", "", "of one group")]
    [InlineData("lmm", "value,group\n1,a\n2,b\n3,c\n", "", "one value")]
    [InlineData("meta", "effect,se\n1,0.5\n", "", "nothing to pool")]
    public void What_cannot_be_told_is_said(string method, string csv, string options, string sentence)
    {
        var answer = Run(method, csv, options);
        string.Join(" ", answer.Says).ShouldContain(sentence, Case.Sensitive);
        foreach (var quantity in answer.Quantities)
        {
            (quantity.Value is { } value && double.IsNaN(value)).ShouldBeFalse($"{quantity.Group} {quantity.Quantity} is NaN");
        }
    }

    [Theory]
    [InlineData("log-rank", NoLoss, "")]
    [InlineData("cox", NoLoss, "--covariates x")]
    [InlineData("rates", "x1,T1,x2,T2\n0,10,0,12\n", "")]
    [InlineData("trend", "time,value\n1,5\n2,5\n3,5\n4,5\n", "")]
    [InlineData("paired", "before,after\n1,1\n2,2\n", "")]
    [InlineData("its", "value\n5\n5\n5\n5\n5\n5\n5\n5\n", "--change 4")]
    public void Nothing_to_test_gives_no_p(string method, string csv, string options)
    {
        var answer = Run(method, csv, options);
        answer.Quantities.Where(q => q.Quantity == "p" || q.Quantity.StartsWith("p_", StringComparison.Ordinal) || q.Quantity.EndsWith("_p", StringComparison.Ordinal)).ShouldAllBe(q => q.Value == null);
    }

    [Fact]
    public void A_separated_comparison_keeps_the_likelihood_ratio_test_and_nothing_else()
    {
        var answer = Run("cox", Separated, "--covariates x");
        Value(answer, "x", "coef").ShouldBeNull();
        Value(answer, "x", "p_wald").ShouldBeNull();
        Value(answer, "all", "Wald_chisq").ShouldBeNull();
        Value(answer, "all", "LR_p").ShouldNotBeNull().ShouldBeInRange(0.0005, 0.05);
    }

    [Fact]
    public void A_covariate_that_never_varies_is_left_out_by_name_and_the_others_stand()
    {
        const string csv = "time,event,x,same\n1,1,1,7\n4,1,0,7\n5,0,1,7\n6,1,1,7\n7,1,0,7\n";
        var alone = Run("cox", csv, "--covariates x");
        var both = Run("cox", csv, "--covariates x,same");
        Value(both, "x", "coef").ShouldBe(Value(alone, "x", "coef"));
        Value(both, "same", "coef").ShouldBeNull();
        both.Says.ShouldContain(sentence => sentence.StartsWith("same never varies in these records (7 throughout)", StringComparison.Ordinal));
    }

    [Fact]
    public void A_covariate_that_repeats_another_is_named()
    {
        var answer = Run("cox", "time,event,x,y\n1,1,1,2\n4,1,0,0\n5,0,1,2\n6,1,1,2\n7,1,0,0\n", "--covariates x,y");
        answer.Says.ShouldContain(sentence => sentence.StartsWith("y follows from the covariates before it", StringComparison.Ordinal));
    }

    [Fact]
    public void Dates_known_only_to_the_year_say_how_far_off_a_life_may_be()
    {
        const string csv = "born,gone,lost\n2020,2023,1\n2020-05-01,2022-06-01,1\n2021,2021,1\n2019-03,2023-01-10,1\n";
        var answer = Run("km", csv, "--from-date born --to-date gone --event lost");
        answer.N.ShouldBe(3);
        answer.Says.ShouldContain(sentence => sentence.StartsWith("1 of 4 lives begin and end within what their dates leave open", StringComparison.Ordinal));
        answer.Says.ShouldContain(sentence => sentence.StartsWith("2 of 3 lives are dated only to the month or year: the middle was taken, and each may be off by up to 364 days", StringComparison.Ordinal)
            || sentence.StartsWith("2 of 3 lives are dated only to the month or year: the middle was taken, and each may be off by up to 365 days", StringComparison.Ordinal));
    }

    [Fact]
    public void When_no_date_fixes_a_length_that_is_an_error_that_says_what_would_do()
    {
        var problem = Should.Throw<EvidenceInputException>(() => Run("km", "born,gone,lost\n2021,2021,1\n", "--from-date born --to-date gone --event lost"));
        problem.Accepted.ShouldContain("dates at least to the month");
    }

    [Theory]
    [InlineData("km", "time,event\n3,x\n", "", "event, row 1")]
    [InlineData("km", "time,event\n3,4\n", "", "event")]
    [InlineData("km", "time,event,e\n3,1,5\n", "--entry e", "entry")]
    [InlineData("km", "time,event\n3,1\n", "--group leaf", "--group")]
    [InlineData("km", "time,event\n3,1\n", "--colour red", "option")]
    [InlineData("kaplan", "time,event\n3,1\n", "", "method")]
    [InlineData("cox", "time,event,x\n3,1,2\n", "", "--covariates")]
    [InlineData("nls", "x,y\n1,2\n", "--formula a*(x --start a=1", "formula")]
    [InlineData("nls", "x,y\n1,2\n", "--formula a*z --start a=1", "--formula")]
    [InlineData("binomial", "x,n,p0\n3,2,0.5\n", "", "x")]
    [InlineData("rates", "x1,T1,x2,T2\n1,0,1,2\n", "", "first time")]
    [InlineData("multiple", "p\n1.2\n", "", "p")]
    [InlineData("km", "time,event\n3,1,7\n", "", "line 2")]
    [InlineData("km", "time,event\n", "", "table")]
    [InlineData("circular", "angle\n2024\n", "--unit date", "angle")]
    public void Bad_input_names_the_field(string method, string csv, string options, string field) =>
        Should.Throw<EvidenceInputException>(() => Run(method, csv, options)).Field.ShouldBe(field);

    [Fact]
    public void Rows_with_a_gap_are_left_out_and_counted()
    {
        var answer = Run("km", "time,event\n3,1\nNA,1\n5,0\n", "");
        answer.N.ShouldBe(2);
        answer.Says.ShouldContain("1 of 3 rows were left out because a value was missing.");
    }

    [Fact]
    public void Semicolons_and_decimal_commas_are_read() =>
        Value(Run("paired", "before;after\n1,5;2,5\n2,5;4,0\n", ""), "after-before", "mean_diff").ShouldBe(1.25);

    private static double? Value(EvidenceAnswer answer, string group, string quantity) =>
        answer.Quantities.First(q => q.Group == group && q.Quantity == quantity).Value;

    private static EvidenceAnswer Run(string method, string csv, string options)
    {
        var parts = options.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return EvidenceMethods.Run(method, EvidenceTable.Parse(csv), Enumerable.Range(0, parts.Length / 2).ToDictionary(i => parts[2 * i][2..], i => parts[2 * i + 1]));
    }
}
