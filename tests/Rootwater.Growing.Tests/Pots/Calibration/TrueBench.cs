using Rootwater.Chemistry.Species;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Growing.Tests.Pots.Calibration;

/// <summary>A pot whose truth is known, with the readings a grower would have taken and some kept back.</summary>
internal sealed record KnownPot(PotHistory History, IReadOnlyList<PotReading> HeldBack, Truth Truth, double BaseLeftShare);

/// <summary>Draws benches of pots whose truth is known.</summary>
internal static class TrueBench
{
    private static readonly double[] s_mediumOff = [0.5, 0.25, 0.4, 0.25, 0.35, 0.5];

    // Not the fit's own stated spreads, so that it has something to learn.
    private static readonly double[] s_potOff = [0.35, 0.15, 0.45, 0.15, 0.4, 0.3];

    private static readonly ComponentAmounts[] s_feeds =
    [
        .. from feed in new[] { Samples.MixedFeed, Samples.NitrateFeed, Samples.MixedFeed.Scaled(0.6).PlusScaled(Samples.Rain, 0.4) }
           from ph in new[] { 5.5, 5.8, 6.2 }
           select feed.PouredAt(ph),
    ];

    public static List<KnownPot> Draw(Medium medium, int pots, int seed, bool richer = false, double days = 42, double outliers = 0.02, double noise = 1, bool inTheLight = false)
    {
        var random = new Random(seed);
        var mean = s_mediumOff.Select(sd => sd * Normal(random)).ToArray();
        // Algae by chance of their own, so that the draws of dark reservoirs stay what they were.
        var algae = new Random(seed + 4242);
        var green = 0.7 * Normal(algae);
        return [.. Enumerable.Range(0, pots).Select(i =>
        {
            // Factors within what pots differ by: a draw three spreads off is another medium.
            double[] theta = [.. mean.Select((m, k) => m + s_potOff[k] * Math.Clamp(Normal(random), -2.5, 2.5)), green + 0.4 * Math.Clamp(Normal(algae), -2.5, 2.5)];
            return Pot(medium, new Truth { Theta = theta, Richer = richer, InTheLight = inTheLight, Seed = seed * 10007 + i }, days, outliers, noise: noise);
        })];
    }

    public static KnownPot Pot(Medium medium, Truth truth, double days = 42, double outliers = 0.02, int? visits = null, double noise = 1)
    {
        var random = new Random(truth.Seed + 17);
        double Between(double low, double high) => low + (high - low) * random.NextDouble();
        var litres = Between(0.4, 2);
        var setup = new PotSetup
        {
            Id = new Guid(truth.Seed, 0, 0x7000, [0x80, 0, 0, 0, 0, 0, 0, 1]),
            Medium = medium,
            MediumLitres = litres,
            ReservoirLitres = Math.Round(litres * Between(0.35, 0.5), 2),
            Culture = Culture.Wicking,
            LeafAreaSquareMetres = 0.03 * litres * Between(0.4, 1.6),
        };
        var climate = new PotClimate { AirTemperatureCelsius = Between(17, 25), RelativeHumidityPercent = Between(55, 78) };
        var feeds = Enumerable.Range(0, 2).Select(_ => s_feeds[random.Next(s_feeds.Length)]).ToArray();
        var events = new List<PotEvent>();
        for (var day = 7.0; day < days; day += 7)
        {
            var hour = day * 24 + Math.Round(Between(-20, 20));
            var pours = setup.ReservoirLitres + 0.5 * setup.HeldLitres;
            switch (random.NextDouble())
            {
                case < 0.15:
                    break;
                case < 0.30:
                    events.Add(new PotEvent(PotEventKind.TopUp, hour, setup.ReservoirLitres * 0.5, feeds[random.Next(2)]));
                    break;
                case < 0.42:
                    events.Add(new PotEvent(PotEventKind.Leach, hour, 2 * setup.MediumLitres, Samples.Rain));
                    events.Add(new PotEvent(PotEventKind.Refill, hour + 1, pours, feeds[random.Next(2)]));
                    break;
                default:
                    events.Add(new PotEvent(PotEventKind.Refill, hour, pours, feeds[random.Next(2)]));
                    break;
            }
        }

        var times = Enumerable.Range(0, visits ?? random.Next(7, 20)).Select(_ => Math.Round(Between(12, days * 24))).Distinct().Order().ToList();
        var pot = new TruePot(setup, climate, truth, feeds[0]);
        var errors = new Random(truth.Seed + 31);
        var (kept, held) = (new List<PotReading>(), new List<PotReading>());
        var next = 0;
        for (var visit = 0; visit < times.Count; visit++)
        {
            for (; next < events.Count && events[next].Hour < times[visit]; next++)
            {
                pot.GoTo(events[next].Hour);
                pot.Do(events[next]);
            }

            pot.GoTo(times[visit]);
            var holds = visit % 4 == 3 || visit == times.Count - 1;
            var (ph, ec) = pot.Look();
            void Read(ReadingKind kind, double value, double chance)
            {
                if (errors.NextDouble() > chance)
                {
                    return;
                }

                var sigma = PotReading.UsualSigma(kind, value, setup.ReservoirLitres);
                var off = noise * Normal(errors) * sigma;
                off += !holds && errors.NextDouble() < outliers ? (errors.NextDouble() < 0.5 ? -1 : 1) * (6 + 8 * errors.NextDouble()) * sigma : 0;
                var read = kind == ReadingKind.ReservoirLitres ? Math.Clamp(value + off, 0, setup.ReservoirLitres * 1.1) : kind == ReadingKind.ReservoirPH ? Math.Clamp(value + off, 2, 12) : Math.Max(5, value + off);
                (holds ? held : kept).Add(new PotReading(times[visit], kind, read));
            }

            // A syringe draws nothing from the last drops.
            if (pot.ReservoirLitres > 0.06 * setup.ReservoirLitres)
            {
                Read(ReadingKind.ReservoirEc, ec, 0.95);
                Read(ReadingKind.ReservoirPH, ph, 0.8);
            }

            Read(ReadingKind.ReservoirLitres, pot.ReservoirLitres, 0.7);
        }

        return new KnownPot(new PotHistory { Setup = setup, Climate = climate, Start = PotState.FilledWith(setup, feeds[0]), Events = events, Readings = kept, Parameters = truth.Parameters }, held, truth, pot.BaseLeftShare);
    }

    public static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
