using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Pots;

/// <summary>Forecasts the water at the root from one feed to the next.</summary>
/// <remarks>
/// Bands: the run is repeated with each of <see cref="Uncertain.All"/> at its low and its high edge, one at a time (eight runs beside the
/// middle one); deviations upwards and downwards are added in quadrature. That is about two chances in three if the spreads are right,
/// which nothing has shown yet: it is a forecast, fitted to no reading.
/// </remarks>
public static class PotForecaster
{
    private const double FarthestLeachDays = 120;

    /// <summary>Makes the forecast.</summary>
    /// <exception cref="PotInputException">Something given cannot be used; it names the field.</exception>
    public static PotForecast Run(PotForecastRequest request)
    {
        request.Check();
        var hours = request.Days * 24;
        var stops = PotSchedule.Of(request.Events, hours, request.SpacingHours);
        var middle = new Series(stops.Length);
        var waters = new (PotWater Medium, PotWater Reservoir)[stops.Length];
        var rests = new RestingBase[stops.Length];
        var at = 0;
        var run = PotSchedule.Follow(stops, request.Parameters, request.Setup, request.Climate, request.Start, (run, _, looks) =>
        {
            waters[at] = (new PotWater(run.MediumLitres, ComponentAmounts.FromSpan(run.MediumMol)), new PotWater(run.ReservoirLitres, ComponentAmounts.FromSpan(run.ReservoirMol)));
            rests[at] = run.Rest;
            middle.Set(at++, looks);
        });

        var coarse = CoarseIndices(stops);
        var coarseStops = coarse.Select(index => stops[index] with { Renews = true }).ToArray();
        var coarseRests = coarse.Select(index => rests[index]).ToArray();
        var variants = new List<Series>(2 * request.Spreads.Count);
        foreach (var one in request.Spreads)
        {
            foreach (var change in (Func<PotParameters, PotParameters>[])[one.Low, one.High])
            {
                var series = new Series(stops.Length);
                var i = 0;
                var parameters = change(request.Parameters);

                // Under the same carbon dioxide the medium rests at the same base, apart from what drifts with the totals, which the linear form follows.
                var lent = new Lent(parameters.Log10PCO2Shift == request.Parameters.Log10PCO2Shift && parameters.RestingPHShift == request.Parameters.RestingPHShift ? coarseRests : null, run.TraceProtons);
                PotSchedule.Follow(coarseStops, parameters, request.Setup, request.Climate, request.Start, (_, _, looks) => series.Set(coarse[i++], looks), lent);
                series.FillFrom(middle, coarse, stops);
                variants.Add(series);
            }
        }

        var times = stops.Select(stop => stop.Hours).ToArray();
        var points = new PotPoint[stops.Length];
        for (var i = 0; i < points.Length; i++)
        {
            var (medium, reservoir) = waters[i];
            points[i] = new PotPoint(stops[i].Hours, stops[i].AfterEvent,
                Water(medium, ToldPH(Spread(middle.MediumPH, variants, s => s.MediumPH, i)), ToldEc(Spread(middle.MediumEc, variants, s => s.MediumEc, i, 0))),
                reservoir.Litres > 0 ? Water(reservoir, Spread(middle.ReservoirPH, variants, s => s.ReservoirPH, i), Spread(middle.ReservoirEc, variants, s => s.ReservoirEc, i, 0)) : null);

            Expected ToldPH(Expected own) => request.Told?.PH(stops[i].Hours, own) ?? own;
            Expected ToldEc(Expected own) => request.Told?.EcMicrosiemensPerCm(stops[i].Hours, own) ?? own;
        }

        double Share(Series series) => TimeShare.Inside(times, series.MediumPH, request.RootPH);
        double Creep(Series series) => EcCreep(stops, series.MediumEc);
        // What is told is a band without variants of its own.
        var share = request.Told is null ? Spread(Share(middle), variants.Select(Share)) : TimeShare.Inside(times, [.. points.Select(point => point.Medium.PH)], request.RootPH);
        var creep = request.Told is null ? Spread(Creep(middle), variants.Select(Creep)) : ToldCreep(stops, [.. points.Select(point => point.Medium.EcMicrosiemensPerCm)]);
        var leach = LeachDay(times, points, point => point.Medium.EcMicrosiemensPerCm.Value, creep.Value, request.LeachAtEcMicrosiemensPerCm);
        var earliest = LeachDay(times, points, point => point.Medium.EcMicrosiemensPerCm.High, creep.High, request.LeachAtEcMicrosiemensPerCm);
        var forecast = new PotForecast
        {
            Points = points,
            ShareInWindow = new Expected(Math.Max(0, share.Low), share.Value, Math.Min(1, share.High)),
            EcCreepMicrosiemensPerCmPerWeek = creep,
            LeachDueDay = leach,
            LeachDueEarliestDay = earliest,
            ReservoirEmptyDay = EmptyDay(request, times, points, run.Loss),
            WaterLoss = run.Loss,
            End = run.State,
            Budget = PotSimulator.BudgetOf(run),
            Notes = [],
        };
        return forecast with { Notes = PotNotes.Of(request, forecast, run.BrushiteIndex()) };
    }

    /// <summary>The stops at which the bands are solved: around events, after a day and two, then at ever longer distances, and at the end. A test compares them with bands solved everywhere.</summary>
    private static int[] CoarseIndices(PotStop[] stops)
    {
        var chosen = new List<int>();
        var (last, lastEvent) = (-24.0, 0.0);
        for (var i = 0; i < stops.Length; i++)
        {
            var aroundEvent = stops[i].Event is not null || (i + 1 < stops.Length && stops[i + 1].Event is not null);
            var gap = Math.Max(24, 0.6 * (last - lastEvent));
            if (aroundEvent || i == stops.Length - 1 || stops[i].Hours >= last + gap - 1e-9)
            {
                chosen.Add(i);
                last = stops[i].Hours;
            }

            lastEvent = stops[i].Event is null ? lastEvent : stops[i].Hours;
        }

        return [.. chosen];
    }

    private static ForecastWater Water(PotWater water, Expected ph, Expected ec) => new()
    {
        PH = ph,
        EcMicrosiemensPerCm = ec,
        Litres = water.Litres,
        MgPerLitre = Nutrients.MilligramsIn(water.InMolPerKgWater()),
    };

    private static Expected Spread(double[] middle, List<Series> variants, Func<Series, double[]> of, int i, double lowest = double.NegativeInfinity)
    {
        double up = 0, down = 0;
        foreach (var variant in variants)
        {
            Deviate(of(variant)[i] - middle[i], ref up, ref down);
        }

        return new Expected(Math.Max(lowest, middle[i] - Math.Sqrt(down)), middle[i], middle[i] + Math.Sqrt(up));
    }

    private static Expected Spread(double middle, IEnumerable<double> variants)
    {
        double up = 0, down = 0;
        foreach (var value in variants)
        {
            Deviate(value - middle, ref up, ref down);
        }

        return new Expected(middle - Math.Sqrt(down), middle, middle + Math.Sqrt(up));
    }

    private static void Deviate(double deviation, ref double up, ref double down)
    {
        // A variant whose reservoir has run dry has nothing to compare there.
        if (double.IsNaN(deviation))
        {
            return;
        }

        up += deviation > 0 ? deviation * deviation : 0;
        down += deviation < 0 ? deviation * deviation : 0;
    }

    /// <summary>Slope of EC from the last pour (or the start) to the end, µS/cm per week; over the whole when less than a day is left after it.</summary>
    private static double EcCreep(PotStop[] stops, double[] ec)
    {
        var last = stops.Length - 1;
        var from = Array.FindLastIndex(stops, stop => stop.Event is not null);
        if (from < 0 || stops[last].Hours - stops[from].Hours < 24)
        {
            from = 0;
        }

        return (ec[last] - ec[from]) / (stops[last].Hours - stops[from].Hours) * 24 * 7;
    }

    private static Expected ToldCreep(PotStop[] stops, Expected[] ec)
    {
        double Of(Func<Expected, double> edge) => EcCreep(stops, [.. ec.Select(edge)]);
        var (low, middle, high) = (Of(each => each.Low), Of(each => each.Value), Of(each => each.High));
        return new Expected(Math.Min(middle, Math.Min(low, high)), middle, Math.Max(middle, Math.Max(low, high)));
    }

    private static double? LeachDay(double[] times, PotPoint[] points, Func<PotPoint, double> ec, double creepPerWeek, double limit)
    {
        for (var i = 0; i < points.Length; i++)
        {
            if (ec(points[i]) < limit)
            {
                continue;
            }

            if (i == 0 || times[i] == times[i - 1])
            {
                return times[i] / 24;
            }

            var before = ec(points[i - 1]);
            return (times[i - 1] + (times[i] - times[i - 1]) * (limit - before) / (ec(points[i]) - before)) / 24;
        }

        var left = limit - ec(points[^1]);
        var day = times[^1] / 24 + left / (creepPerWeek / 7);
        return creepPerWeek > 0 && day <= FarthestLeachDays ? day : null;
    }

    private static double? EmptyDay(PotForecastRequest request, double[] times, PotPoint[] points, WaterLoss loss)
    {
        if (request.Setup.Culture != Culture.Wicking)
        {
            return null;
        }

        // The first time counts: that is when somebody has to come with a can.
        for (var i = 1; i < points.Length; i++)
        {
            if (points[i].Reservoir is null && points[i - 1].Reservoir is { } before && loss.LitresPerDay > 0)
            {
                return Math.Min(times[i], times[i - 1] + before.Litres / loss.LitresPerDay * 24) / 24;
            }
        }

        return points[^1].Reservoir is { } left && loss.LitresPerDay > 0 ? times[^1] / 24 + left.Litres / loss.LitresPerDay : points[^1].Reservoir is null ? 0 : null;
    }

    /// <summary>pH and EC along the stops; NaN where there is no water.</summary>
    private sealed class Series(int count)
    {
        public readonly double[] MediumPH = Empty(count);
        public readonly double[] MediumEc = Empty(count);
        public readonly double[] ReservoirPH = Empty(count);
        public readonly double[] ReservoirEc = Empty(count);

        private static double[] Empty(int count)
        {
            var values = new double[count];
            Array.Fill(values, double.NaN);
            return values;
        }

        public void Set(int i, (WaterLook Medium, WaterLook? Reservoir) looks)
        {
            MediumPH[i] = looks.Medium.PH;
            MediumEc[i] = looks.Medium.Ec25MicrosiemensPerCm;
            ReservoirPH[i] = looks.Reservoir?.PH ?? double.NaN;
            ReservoirEc[i] = looks.Reservoir?.Ec25MicrosiemensPerCm ?? double.NaN;
        }

        /// <summary>Between its own stops a variant keeps its deviation from the middle run, on a straight line.</summary>
        public void FillFrom(Series middle, int[] known, PotStop[] stops)
        {
            Fill(MediumPH, middle.MediumPH, known, stops);
            Fill(MediumEc, middle.MediumEc, known, stops);
            Fill(ReservoirPH, middle.ReservoirPH, known, stops);
            Fill(ReservoirEc, middle.ReservoirEc, known, stops);
        }

        private static void Fill(double[] values, double[] middle, int[] known, PotStop[] stops)
        {
            for (var k = 1; k < known.Length; k++)
            {
                var (a, b) = (known[k - 1], known[k]);
                var (from, to) = (values[a] - middle[a], values[b] - middle[b]);
                for (var i = a + 1; i < b; i++)
                {
                    var share = (stops[i].Hours - stops[a].Hours) / (stops[b].Hours - stops[a].Hours);
                    values[i] = middle[i] + from + (to - from) * share;
                }
            }
        }
    }
}
