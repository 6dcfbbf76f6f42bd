using System.Globalization;
using BenchmarkDotNet.Running;
using Rootwater.Benchmarks.Scale;

if (args is ["scale", var plants, var years, .. var rest])
{
    await ScaleRun.RunAsync(int.Parse(plants, CultureInfo.InvariantCulture), int.Parse(years, CultureInfo.InvariantCulture), rest.FirstOrDefault());
}
else
{
    // The large bench is filled once for all its methods, each of which runs in a process of its own.
    var folder = Directory.CreateTempSubdirectory("rootwater-benchmark-").FullName;
    Environment.SetEnvironmentVariable(LargeBenchBenchmark.FolderVariable, folder);
    if (args.Contains("dry", StringComparer.OrdinalIgnoreCase))
    {
        Environment.SetEnvironmentVariable(LargeBenchBenchmark.SmallVariable, "true");
    }

    BenchmarkSwitcher.FromAssembly(typeof(Rootwater.Benchmarks.SolveBenchmark).Assembly).Run(args);
    Directory.Delete(folder, recursive: true);
}
