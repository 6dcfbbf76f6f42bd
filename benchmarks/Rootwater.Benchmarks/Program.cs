using System.Globalization;
using BenchmarkDotNet.Running;
using Rootwater.Benchmarks.Scale;

if (args is ["scale", var plants, var years, .. var rest])
{
    await ScaleRun.RunAsync(int.Parse(plants, CultureInfo.InvariantCulture), int.Parse(years, CultureInfo.InvariantCulture), rest.FirstOrDefault());
}
else
{
    BenchmarkSwitcher.FromAssembly(typeof(Rootwater.Benchmarks.SolveBenchmark).Assembly).Run(args);
}
