using Rootwater.Growing.Evidence.Fitting;

namespace Rootwater.Growing.Tests.Evidence.Fitting;

public sealed class CurveFormulaTests
{
    [Theory]
    [InlineData("2+3*4", 14)]
    [InlineData("-2^2", -4)]
    [InlineData("2^-1", 0.5)]
    [InlineData("2^3^2", 512)]
    [InlineData("2**3", 8)]
    [InlineData("(1+2)*3-4/8", 8.5)]
    [InlineData("exp[0]+log(exp(1))+sqrt(9)", 5)]
    [InlineData("1.5e-1*10", 1.5)]
    [InlineData("10-3-2", 5)]
    [InlineData("atan(1)*4-arctan(1)*4", 0)]
    public void Arithmetic_is_read_as_it_is_written(string text, double value) => CurveFormula.Parse(text).Evaluate([], []).ShouldBe(value, 1e-12);

    [Theory]
    [InlineData("b1*(1-exp(-b2*3))")]
    [InlineData("b1/(1+exp(b2-b1*0.3))")]
    [InlineData("b1^b2+b2^3-sqrt(b1)*log(b2)")]
    [InlineData("sin(b1)*cos(b2)+tan(b1/4)+atan(b2)+abs(-b1)+log10(b1)")]
    public void Derivatives_agree_with_differences(string text)
    {
        var formula = CurveFormula.Parse(text);
        double[] at = [1.3, 0.7];
        var gradient = new double[2];
        formula.Evaluate(at, gradient);
        for (var j = 0; j < 2; j++)
        {
            double At(double d) => formula.Evaluate([at[0] + (j == 0 ? d : 0), at[1] + (j == 1 ? d : 0)], []);
            gradient[j].ShouldBe((At(1e-5) - At(-1e-5)) / 2e-5, 1e-8);
        }
    }
}
