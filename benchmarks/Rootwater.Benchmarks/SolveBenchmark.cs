using BenchmarkDotNet.Attributes;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Species;

namespace Rootwater.Benchmarks;

/// <summary>1,000 distinct feeds, each solved from nothing: no guess is carried over from one to the next.</summary>
[MemoryDiagnoser]
public class SolveBenchmark
{
    private const int Feeds = 1000;
    private readonly EquilibriumWorkspace _workspace = new();
    private double[][] _macro = [];
    private double[][] _micro = [];

    [GlobalSetup]
    public void Setup()
    {
        var random = new Random(20261125);
        double Between(double low, double high) => low + (high - low) * random.NextDouble();
        _macro = new double[Feeds][];
        _micro = new double[Feeds][];
        for (var i = 0; i < Feeds; i++)
        {
            // Ca, Mg, K, NH4, NO3, PO4, SO4, CO3 in a feed's range (mmol/kg), neutral by nitrate, some acid in it.
            var feed = new double[ComponentAmounts.Count];
            void Add(Component component, double mmol) => feed[(int)component] += mmol / 1000;
            Add(Component.Calcium, Between(0.3, 5));
            Add(Component.Magnesium, Between(0.1, 2));
            Add(Component.Potassium, Between(0.2, 6));
            Add(Component.Ammonium, Between(0.05, 1.5));
            Add(Component.Sulfate, Between(0.05, 0.3));
            var phosphate = Between(0.05, 1);
            Add(Component.Phosphate, phosphate);
            var carbonate = Between(0.2, 3);
            Add(Component.Carbonate, carbonate);
            Add(Component.Hydrogen, 2 * phosphate + Between(1.1, 1.9) * carbonate);
            var charge = 0.0;
            foreach (var component in Components.All)
            {
                charge += component.Charge() * feed[(int)component];
            }

            feed[(int)Component.Nitrate] = charge;
            _macro[i] = feed;

            var full = (double[])feed.Clone();
            void Micro(Component component, double micromol) => full[(int)component] += micromol / 1e6;
            Micro(Component.Sodium, Between(50, 1000));
            Micro(Component.Chloride, Between(10, 500));
            Micro(Component.Borate, Between(5, 40));
            Micro(Component.Molybdate, Between(0.05, 0.5));
            Micro(Component.IronIII, Between(5, 50));
            Micro(Component.Manganese, Between(1, 15));
            Micro(Component.Zinc, Between(0.5, 8));
            Micro(Component.Copper, Between(0.1, 2));
            Micro(Component.Edta, Between(5, 60));
            charge = 0;
            foreach (var component in Components.All)
            {
                charge += component.Charge() * full[(int)component];
            }

            full[(int)Component.Nitrate] += charge;
            _micro[i] = full;
        }

        foreach (var feed in _macro.Concat(_micro))
        {
            if (!_workspace.Solve(feed, SolveConditions.Default, SolveOptions.Default).Converged)
            {
                throw new InvalidOperationException("A feed of the benchmark does not converge.");
            }
        }
    }

    [Benchmark(OperationsPerInvoke = Feeds)]
    public double Macronutrients() => SolveAll(_macro);

    [Benchmark(OperationsPerInvoke = Feeds)]
    public double WithMicronutrientsAndEdta() => SolveAll(_micro);

    private double SolveAll(double[][] feeds)
    {
        var sum = 0.0;
        foreach (var feed in feeds)
        {
            _workspace.Solve(feed, SolveConditions.Default, SolveOptions.Default);
            sum += _workspace.PH;
        }

        return sum;
    }
}
