using BenchmarkDotNet.Running;

BenchmarkSwitcher.FromAssembly(typeof(Rootwater.Benchmarks.SolveBenchmark).Assembly).Run(args);
