namespace Rootwater.Growing.Evidence.Survival;

/// <summary>Rows of a Cox model laid out for summing: within each stratum by falling exit, covariates centred and scaled, row after row.</summary>
internal sealed class CoxData : CoxLayout
{
    public required double[] Entry { get; init; }

    public required double[] Exit { get; init; }

    public required bool[] Ended { get; init; }

    /// <summary>First row of each stratum, and one past the last.</summary>
    public required int[] StratumStarts { get; init; }

    /// <summary>Rows by falling entry, stratum by stratum; null where all were watched from the start.</summary>
    public required int[]? ByEntry { get; init; }

    /// <summary>The caller's row of each row here.</summary>
    public required int[] Source { get; init; }

    /// <summary>Cluster of each of the caller's rows; null for none.</summary>
    public required int[]? Clusters { get; init; }

    public override int Strata => StratumStarts.Length - 1;

    public override (int From, int To) ProfilesOf(int stratum) => (StratumStarts[stratum], StratumStarts[stratum + 1]);

    public override IEnumerable<CoxChange> Falling(int stratum)
    {
        var (from, to) = ProfilesOf(stratum);
        var taken = from;
        for (var at = from; at < to;)
        {
            var t = Exit[at];
            for (; at < to && Exit[at] == t; at++)
            {
                yield return new CoxChange(t, at, false, Ended[at]);
            }

            if (ByEntry is { } byEntry)
            {
                for (; taken < to && Entry[byEntry[taken]] >= t; taken++)
                {
                    yield return new CoxChange(t, byEntry[taken], true, false);
                }
            }
        }
    }

    public override IEnumerable<CoxRow> RowsOf(int stratum)
    {
        var (from, to) = ProfilesOf(stratum);
        for (var i = from; i < to; i++)
        {
            yield return new CoxRow(Entry[i], Exit[i], Ended[i], i, Clusters?[Source[i]] ?? 0);
        }
    }

    public static CoxData From(CoxRequest request, int[] columns)
    {
        var n = request.Exit.Length;
        var p = columns.Length;
        var order = new int[n];
        for (var i = 0; i < n; i++)
        {
            order[i] = i;
        }

        if (request.Strata is { } strata)
        {
            Array.Sort(order, (a, b) => strata[a] != strata[b] ? strata[a].CompareTo(strata[b]) : request.Exit[b].CompareTo(request.Exit[a]));
        }
        else
        {
            var keys = new double[n];
            for (var i = 0; i < n; i++)
            {
                keys[i] = -request.Exit[i];
            }

            Array.Sort(keys, order);
        }

        var starts = new List<int> { 0 };
        for (var i = 1; i < n; i++)
        {
            if (request.Strata is { } s && s[order[i]] != s[order[i - 1]])
            {
                starts.Add(i);
            }
        }

        starts.Add(n);
        var (z, scale) = Scaled([.. columns.Select(j => request.Covariates[j]).Select(column => Array.ConvertAll(order, i => column[i]))], null);
        var entry = new double[n];
        var exit = new double[n];
        var ended = new bool[n];
        for (var i = 0; i < n; i++)
        {
            entry[i] = request.Entry is null ? double.NegativeInfinity : request.Entry[order[i]];
            exit[i] = request.Exit[order[i]];
            ended[i] = request.Ended[order[i]];
        }

        return new CoxData
        {
            P = p,
            Entry = entry,
            Exit = exit,
            Ended = ended,
            Z = z,
            StratumStarts = [.. starts],
            ByEntry = request.Entry is null ? null : EntryOrder(entry, starts),
            Source = order,
            Scale = scale,
            Clusters = request.Clusters,
        };
    }

    private static int[] EntryOrder(double[] entry, List<int> starts)
    {
        var order = new int[entry.Length];
        var keys = new double[entry.Length];
        for (var i = 0; i < order.Length; i++)
        {
            order[i] = i;
            keys[i] = -entry[i];
        }

        for (var s = 0; s + 1 < starts.Count; s++)
        {
            Array.Sort(keys, order, starts[s], starts[s + 1] - starts[s]);
        }

        return order;
    }
}
