using Rootwater.Growing.Evidence.Fitting;

namespace Rootwater.Growing.Tests.Evidence.Fitting;

/// <summary>NIST Statistical Reference Datasets, non-linear regression: data and certified values from memory, from the far start of each.</summary>
public sealed class CurveFitTests
{
    [Fact]
    public void BoxBOD_from_its_far_start() => Fit(
        "b1*(1-exp(-b2*x))", "b1=1,b2=1",
        [1, 2, 3, 5, 7, 10], [109, 149, 149, 191, 213, 224],
        [213.80940889, 0.54723748542], 1168.0088766);

    [Fact]
    public void DanWood_from_its_far_start() => Fit(
        "b1*x^b2", "b1=1,b2=5",
        [1.309, 1.471, 1.490, 1.565, 1.611, 1.680], [2.138, 3.421, 3.597, 4.340, 4.882, 5.660],
        [0.76886226176, 3.8604055871], 0.0043173084083);

    [Fact]
    public void MGH09_from_its_far_start() => Fit(
        "b1*(x^2+x*b2)/(x^2+x*b3+b4)", "b1=25,b2=39,b3=41.5,b4=39",
        [4, 2, 1, 0.5, 0.25, 0.167, 0.125, 0.1, 0.0833, 0.0714, 0.0625],
        [0.1957, 0.1947, 0.1735, 0.1600, 0.0844, 0.0627, 0.0456, 0.0342, 0.0323, 0.0235, 0.0246],
        [0.19280693458, 0.19128232873, 0.12305650693, 0.13606233068], 3.0750560385e-4);

    private static void Fit(string formula, string start, double[] x, double[] y, double[] certified, double rss)
    {
        var fit = CurveFit.Fit(new CurveRequest
        {
            Formula = CurveFormula.Parse(formula),
            Parameters = [.. start.Split(',').Select(part => part.Split('=')).Select(part => (part[0], double.Parse(part[1], System.Globalization.CultureInfo.InvariantCulture)))],
            Columns = new Dictionary<string, double[]> { ["x"] = x },
            Values = y,
        });
        fit.ResidualSumOfSquares.ShouldBe(rss, 1e-9 * rss);
        for (var j = 0; j < certified.Length; j++)
        {
            fit.Coefficients![j].ShouldBe(certified[j], 1e-8 * Math.Abs(certified[j]));
        }
    }
}
