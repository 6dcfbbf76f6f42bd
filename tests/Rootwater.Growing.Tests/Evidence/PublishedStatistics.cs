using System.Globalization;
using Rootwater.Growing.Evidence;
using Rootwater.Growing.Evidence.Methods;

namespace Rootwater.Growing.Tests.Evidence;

/// <summary>Published tables of values, and how each is asked of <see cref="EvidenceMethods"/>: the same options a terminal would give.</summary>
internal static class PublishedStatistics
{
    public sealed record Row(string Id, string Dataset, string Method, string Group, string Quantity, double? Value, double Tolerance);

    /// <summary>A call that answers part of a table: method, data, options, and the words our answer uses where the table's own contain more.</summary>
    public sealed record Call(string Method, string Data, string Options);

    public static string Folder => Path.Combine(AppContext.BaseDirectory, "References", "Statistics");

    // Per table and dataset as printed there.
    private static readonly Dictionary<(string Topic, string Dataset), Call[]> s_calls = new()
    {
        [("km", "gehan")] = [new("km", "gehan", "--group treat --at 6,7,10,13,16,22,23,35 --tau 20,23")],
        [("lefttrunc", "heart[transplant==1]")] = [new("km", "heart", "--where transplant=1 --label transplanted --at 30,100,365,730,1386 --tau 365,1000")],
        [("logrank", "gehan")] = [new("log-rank", "gehan", "--group treat --strata pair")],
        [("logrank", "veteran")] = [new("log-rank", "veteran", "--group celltype")],
        [("cox", "gehan")] = [new("cox", "gehan", "--covariates trt6=treat:6-MP --ties all")],
        [("cox", "veteran")] = [new("cox", "veteran", "--covariates trt2=trt:2,adeno=celltype:adeno,large=celltype:large,small=celltype:smallcell,karno,age --ties all")],
        [("cox_timevarying", "heart")] = [new("cox", "heart", "--covariates age,year,surgery,tx=transplant --ties all")],
        [("weibull", "gehan")] = [new("weibull", "gehan", "--covariates trt6=treat:6-MP")],
        [("clogit", "infert")] = [new("clogit", "infert", "--covariates spontaneous,induced")],
        [("rates", "rates")] = [new("rates", "rates", ""), new("rate", "one-rate", "")],
        [("binomial", "binomial")] = [new("binomial", "binomial", "")],
        [("negbin", "quine")] = [new("counts", "quine", "--count Days --covariates eth=Eth:N,sexM=Sex:M,f1=Age:F1,f2=Age:F2,f3=Age:F3,lrn=Lrn:SL")],
        [("its", "nile")] = [new("its", "nile", "--value flow --covariates t,step,t_after"), new("its", "nile", "--value flow --covariates step")],
        [("changepoint", "nile")] = [new("change-points", "nile", "--value flow --label flow_1871-1970 --min-segment 15 --max-breaks 3")],
        [("trend", "nile")] = [new("trend", "nile", "--value flow --where year<=1900 --label years_1871-1900")],
        [("trend", "lakehuron")] = [new("trend", "lakehuron", "--value level --where year<=1914 --label years_1875-1914")],
        [("trend", "airmiles")] = [new("trend", "airmiles", "--value miles")],
        [("beforeafter", "sleep")] = [new("paired", "sleep", "--before drug1 --after drug2")],
        [("permutation", "plantgrowth")] = [new("permutation", "plantgrowth", "--value weight --where group=ctrl|trt1")],
        [("permutation", "sleep")] = [new("permutation", "sleep", "--before drug1 --after drug2")],
        [("multiple", "bh1995")] = [new("multiple", "bh1995", "")],
        [("circular", "fisherB3")] = [new("circular", "fisherB3", "--angle deg")],
        [("circular", "turtles")] = [new("circular", "turtles", "--angle arrival")],
        [("circular", "usaccdeaths1973")] = [new("circular", "usaccdeaths1973", "--angle month --unit months --weight deaths --label equal_months,_mid-month_angle")],
        [("nls", "misra1a")] = [new("nls", "misra1a", "--formula b1*(1-exp(-b2*x)) --start b1=500,b2=0.0001")],
        [("nls", "rat42")] = [new("nls", "rat42", "--formula b1/(1+exp(b2-b3*x)) --start b1=100,b2=1,b3=0.1")],
        [("nls", "puromycin")] = [new("nls", "puromycin", "--y rate --formula Vm*conc/(K+conc) --start Vm=200,K=0.05 --group state")],
        [("nls_grouped", "orange")] = [new("nls-grouped", "orange", "--y circumference --formula Asym/(1+exp((xmid-age)/scal)) --start Asym=170,xmid=700,scal=350 --group Tree")],
        [("pooling", "dyestuff")] = [new("lmm", "dyestuff", "--value Yield --group Batch")],
        [("pooling", "orthodont")] = [new("lmm", "orthodont", "--value distance --group Subject --fixed age")],
        [("pooling", "bcg")] = [new("meta", "bcg", "--counts tpos,tneg,cpos,cneg")],
    };

    private static readonly Dictionary<Call, EvidenceAnswer> s_answers = [];

    public static IEnumerable<Row> Rows(string topic)
    {
        var table = EvidenceTable.Parse(File.ReadAllText(Path.Combine(Folder, $"expected_{topic}.csv")));
        var columns = table.Columns.ToDictionary(column => column, table.Texts);
        for (var i = 0; i < table.Count; i++)
        {
            double? value = columns["value"][i] switch
            {
                "NA" => null,
                "Inf" => double.PositiveInfinity,
                var text => double.Parse(text, CultureInfo.InvariantCulture),
            };
            yield return new Row(columns["id"][i], columns["dataset"][i], columns["method"][i], columns["group"][i], columns["quantity"][i], value, double.Parse(columns["rel_tol"][i], CultureInfo.InvariantCulture));
        }
    }

    /// <summary>The quantity of our answers that a row asks for.</summary>
    public static EvidenceQuantity? Ours(string topic, Row row)
    {
        lock (s_answers)
        {
            return s_calls[(topic, row.Dataset)].SelectMany(call => Answer(call).Quantities)
                .Where(q => q.Group == row.Group && q.Quantity == row.Quantity && Means(row.Method, q.Method))
                .MaxBy(q => q.Method.Length);
        }
    }

    // The tables add the model to the method's name: "Cox efron | …", "Poisson eth=1 for N, …", the formula of a curve.
    private static bool Means(string printed, string ours) =>
        printed == ours || printed.StartsWith(ours + " ", StringComparison.Ordinal) || ours == "nls";

    private static EvidenceAnswer Answer(Call call)
    {
        if (!s_answers.TryGetValue(call, out var answer))
        {
            // The two single rates of the table are among no data; their inputs are rows of the table itself.
            var text = call.Data == "one-rate" ? "label,x,T,r0\neba1977-style,137,24.19893,1\nzero,0,12,0.25\n" : File.ReadAllText(Path.Combine(Folder, $"data_{call.Data}.csv"));
            answer = s_answers[call] = EvidenceMethods.Run(call.Method, EvidenceTable.Parse(text), Options(call.Options));
        }

        return answer;
    }

    private static Dictionary<string, string> Options(string text)
    {
        var parts = text.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return Enumerable.Range(0, parts.Length / 2).ToDictionary(i => parts[2 * i][2..], i => parts[2 * i] == "--label" ? parts[2 * i + 1].Replace('_', ' ') : parts[2 * i + 1]);
    }
}
