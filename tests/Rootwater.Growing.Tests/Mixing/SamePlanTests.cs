using System.Globalization;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Mixing.Files;

namespace Rootwater.Growing.Tests.Mixing;

/// <summary>
/// A plan is what was asked for, not how busy the machine was: the search is cut off by work, and the wall clock is a guard only. On a house of 500 plants the integer
/// solver itself was seen to take another way in some runs (docs/science/mixing.md); these are benches of up to twelve groups.
/// </summary>
public sealed class SamePlanTests
{
    // Long enough that the guard of twice as much never comes in on a busy machine; the work these take is far below it.
    private static readonly TimeSpan s_patient = TimeSpan.FromMinutes(2);

    private static readonly Func<PlanRequest>[] s_requests =
    [
        () => PlanRequestFile.Read(File.ReadAllText(Example())) with { TimeLimit = s_patient },
        () => Groups(5, coarse: true) with { MostCans = 3, TimeLimit = s_patient },
        () => Groups(12, coarse: false) with { MostCans = 3, TimeLimit = s_patient },
    ];

    private static string Example()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Rootwater.slnx")))
        {
            folder = folder.Parent;
        }

        return Path.Combine(folder.ShouldNotBeNull().FullName, "docs", "examples", "can-plan.json");
    }

    private static PlanRequest Groups(int count, bool coarse) => Kitchen.Request(
        [.. Enumerable.Range(0, count).Select(i => Kitchen.Group($"group {i + 1}", Kitchen.Want(20 + 80.0 * i / count, 220 + 600.0 * i / count), plants: 2 + i % 3, millilitres: 150, firstNumber: 1 + 10 * i))],
        vessels: [new Vessel("2 L can", 2), new Vessel("5 L can", 5), new Vessel("10 L can", 10)]) with
    {
        Tools = coarse ? new Tools() : new Tools { ScaleStepGrams = 0.01, ScaleErrorGrams = 0.01 },
    };

    [Fact]
    public void The_same_request_is_planned_with_the_same_doses_alone_and_many_at_once_beside_other_work()
    {
        var alone = s_requests.Select(request => Doses(Kitchen.Plan(request()))).ToList();
        alone.ShouldAllBe(doses => doses.Contains("rain water"));

        // Every request four times on four times as many threads as cores, beside threads that do nothing but keep the cores busy.
        using var done = new CancellationTokenSource();
        var busy = Enumerable.Range(0, 2 * Environment.ProcessorCount).Select(_ => new Thread(() => KeepBusy(done.Token)) { IsBackground = true }).ToList();
        busy.ForEach(thread => thread.Start());
        var jobs = Enumerable.Range(0, 4 * s_requests.Length).ToList();
        var found = new string[jobs.Count];
        var planners = jobs.Select(i => new Thread(() => found[i] = Doses(CanPlanner.Plan(s_requests[i % s_requests.Length]())))).ToList();
        planners.ForEach(thread => thread.Start());
        planners.ForEach(thread => thread.Join());
        done.Cancel();
        busy.ForEach(thread => thread.Join());

        foreach (var i in jobs)
        {
            found[i].ShouldBe(alone[i % s_requests.Length]);
        }
    }

    [Fact]
    public void A_search_cut_short_by_its_work_ends_at_the_same_doses_each_time()
    {
        // So little work that the search ends before it has looked at everything; the guard stays away. With the limit of two minutes the doses are others.
        var request = Groups(12, coarse: false) with { MostCans = 3, TimeLimit = s_patient };
        string Cut() => Doses(new PlanSession(request with { TimeLimit = TimeSpan.FromMilliseconds(60) }, null, TestContext.Current.CancellationToken, guard: s_patient).Run());

        var first = Cut();

        first.ShouldNotBe(Doses(Kitchen.Plan(request)));
        Enumerable.Range(0, 5).AsParallel().WithDegreeOfParallelism(5).Select(_ => Cut()).ShouldAllBe(doses => doses == first);
    }

    private static void KeepBusy(CancellationToken until)
    {
        for (var x = 0.5; !until.IsCancellationRequested;)
        {
            x = 3.9 * x * (1 - x);
        }
    }

    private static string Doses(PlanOutcome outcome) => string.Join('\n', outcome.Plan.ShouldNotBeNull().Cans.Select(can => string.Create(CultureInfo.InvariantCulture,
        $"{can.Letter}, {can.Vessel}, {can.Litres} L for {string.Join(" + ", can.Serves.Select(served => served.Group))}: {string.Join(", ", can.Steps.Select(step => string.Create(CultureInfo.InvariantCulture, $"{step.What} {step.Amount}")))}, pH {can.PH.Value:0.000}")));
}
