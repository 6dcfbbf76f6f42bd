using System.Globalization;
using Rootwater.Growing.Bench;

namespace Rootwater.Growing.Rounds;

/// <summary>
/// Who is due, for what and why. The calendar of the plan says when to look; a rest, what was seen on the last walk, the water reckoned in
/// the pot and the EC at its root say what is given. A reading decides; a reckoning alone decides only where even the near edge of its band does.
/// </summary>
public static class RoundRules
{
    /// <summary>Judges one plant.</summary>
    /// <param name="plant">The plant with its pot and what is known of it.</param>
    /// <param name="asOf">The day of the walk.</param>
    /// <param name="options">The lines that are drawn.</param>
    public static Duty Judge(PlantOnRound plant, DateOnly asOf, RoundOptions? options = null) => new Case(plant, asOf, options ?? RoundOptions.Default).Judge();

    /// <summary>EC at the root at which this plant is leached, µS/cm.</summary>
    public static double LeachAt(PlantOnRound plant, RoundOptions options) => plant.FeedEcMicrosiemensPerCm is { } feed
        ? Math.Clamp(options.LeachAtTimesFeed * feed.High, options.LeachAtLeastMicrosiemensPerCm, options.LeachAtMostMicrosiemensPerCm)
        : options.LeachAtMostMicrosiemensPerCm;

    /// <summary>The rest a plant keeps by its states; null where it keeps none.</summary>
    /// <param name="kind">As on its tag.</param>
    /// <param name="states">As last seen.</param>
    public static Rest? RestOf(string kind, IReadOnlyList<PlantState> states)
    {
        var resting = states.Where(state => state is PlantState.DryRest or PlantState.CoolRest).Select(state => (PlantState?)state).FirstOrDefault();
        if (resting is not { } state)
        {
            return null;
        }

        if (Kinds.Find(kind)?.Rest is { } known && known.State == state)
        {
            return known;
        }

        // A rest the kind's habits do not tell of: dry means dry; a cool rest goes on as usual, only more slowly.
        return new Rest
        {
            State = state,
            FromMonth = 1,
            ToMonth = 12,
            BeginsAt = [],
            EndsAt = [],
            Water = state == PlantState.DryRest ? RestRation.None : RestRation.Less,
            Feed = state == PlantState.DryRest ? RestRation.None : RestRation.Less,
        };
    }

    private sealed class Case
    {
        private readonly PlantOnRound _plant;
        private readonly DateOnly _today;
        private readonly RoundOptions _options;
        private readonly PotNow? _now;
        private readonly int? _over;
        private readonly Rest? _rest;
        private readonly EcSeen? _read;

        public Case(PlantOnRound plant, DateOnly today, RoundOptions options)
        {
            (_plant, _today, _options) = (plant, today, options);
            _now = plant.Setup is { } setup ? PotAccount.On(setup, plant.Climate, plant.Entries, today, plant.Parameters) : null;
            _over = plant.Pot.LastFed is { } fed ? today.DayNumber - fed.DayNumber - plant.Pot.FeedEveryDays : null;
            _rest = RestOf(plant.Kind, plant.States);
            var poured = plant.Entries.OfType<PouredIn>().Where(entry => entry.On <= today).Select(entry => (DateOnly?)entry.On).Max();
            // What was poured after the sample has changed the water it was taken from.
            _read = plant.Entries.OfType<EcSeen>().Where(seen => seen.On <= today && seen.On >= today.AddDays(-options.ReadingHoldsDays) && seen.On >= (poured ?? seen.On))
                .MaxBy(seen => seen.On);
        }

        public Duty Judge() => Resting() ?? SeenFullLately() ?? LeachAsRead() ?? Dry() ?? LeachAsReckoned() ?? ByCalendar();

        /// <summary>In a rest the calendar runs at the kind's ration, and nothing is leached.</summary>
        private Duty? Resting()
        {
            if (_rest is not { } rest)
            {
                return null;
            }

            var name = rest.State == PlantState.DryRest ? "dry rest" : "cool rest";
            if (rest.Feed is RestRation.Usual or RestRation.Less && _plant.FeedEcMicrosiemensPerCm is not null)
            {
                return OnRation(RoundAct.Feed, rest.Feed, _plant.Pot.LastFed, name);
            }

            if (rest.Water == RestRation.None)
            {
                return Nothing($"At {name}: no water and no feed until it shows that it is over.", "resting");
            }

            return OnRation(RoundAct.PlainWater, rest.Water, LastPoured() ?? _plant.Pot.LastFed, name);
        }

        private Duty OnRation(RoundAct act, RestRation ration, DateOnly? last, string name)
        {
            // "Less" at twice the usual distance, "sparing" at three times and half as much. Common practice, no source.
            var (times, share) = ration switch { RestRation.Usual => (1, 1.0), RestRation.Less => (2, 1.0), _ => (3, 0.5) };
            var every = times * _plant.Pot.FeedEveryDays;
            var due = last?.AddDays(every) ?? _today;
            var what = act == RoundAct.Feed ? "feed" : "plain water, no feed,";
            if (_plant.PassedBy is { Why: PassedByFor.StillFull or PassedByFor.Resting } passed && passed.On >= (last ?? passed.On) && passed.On.AddDays(every) > due)
            {
                due = passed.On.AddDays(every);
            }

            return due > _today
                ? Nothing($"At {name}: {what} every {every} days; next on {Day(due)}.", "resting")
                : Due(act, due, Ten(_plant.Pot.FeedMillilitres * share), $"At {name}: {(share < 1 ? "a little " : "")}{what} every {every} days{Since(last)}.", "resting");
        }

        /// <summary>It was full on a walk since the last pouring: look again when half the plan's days have passed, or when the pot runs dry at the earliest.</summary>
        private Duty? SeenFullLately()
        {
            if (_plant.PassedBy is not { } passed || passed.On < (LastPoured() ?? _plant.Pot.LastFed ?? passed.On))
            {
                return null;
            }

            var wait = passed.Why switch
            {
                PassedByFor.StillFull => Math.Max(1, (_plant.Pot.FeedEveryDays + 1) / 2),
                PassedByFor.Resting => _plant.Pot.FeedEveryDays,
                PassedByFor.Other => 1,
                _ => 0,
            };
            var again = passed.On.AddDays(wait);
            if (again <= _today || _now is { Level.Low: < 0.1 } && passed.On < _today)
            {
                return null;
            }

            var words = passed.Why switch
            {
                PassedByFor.StillFull => $"Still full on {Day(passed.On)}",
                PassedByFor.Resting => $"Passed by as resting on {Day(passed.On)}",
                _ => $"Passed by on {Day(passed.On)}",
            };
            return Nothing($"{words}: look again on {Day(again)}.", null);
        }

        private Duty? LeachAsRead() => _read is { } read && read.EcMicrosiemensPerCm >= LeachAt(_plant, _options) && !LeachedLately()
            ? Due(RoundAct.Leach, read.On, LeachMillilitres(read.EcMicrosiemensPerCm), $"EC creeping: read {Ec(read.EcMicrosiemensPerCm)} on {Day(read.On)}, leached from {Ec(LeachAt(_plant, _options))}. The run-off is never poured back.", $"EC creeping, read {Ec(read.EcMicrosiemensPerCm)}")
            : null;

        private Duty? LeachAsReckoned() => _read is null && CalendarDue() <= _today && _now is { } now && now.WetEcMicrosiemensPerCm.Low >= LeachAt(_plant, _options) && !LeachedLately()
            ? Due(RoundAct.Leach, CalendarDue(), LeachMillilitres(now.WetEcMicrosiemensPerCm.Value), $"EC at the root is reckoned at {Ec(now.WetEcMicrosiemensPerCm)}, leached from {Ec(LeachAt(_plant, _options))}. A sample of the reservoir tells more. The run-off is never poured back.", "EC creeping")
            : null;

        private bool LeachedLately() =>
            _plant.Entries.OfType<PouredIn>().Any(entry => entry.What == RoundAct.Leach && entry.On <= _today && entry.On.AddDays(_options.DaysBetweenLeaches) > _today);

        /// <summary>Dry before its day, or dry for so long that it has to be wetted before it is fed.</summary>
        private Duty? Dry()
        {
            // A basket, a mount and an open mix are meant to dry between two feeds; only a missed one is more than that.
            if (_now is not { } now || now.Level.Value >= 0.02 || (_plant.Pot.Culture != Culture.Wicking && Missed() == 0))
            {
                return null;
            }

            var since = _today.AddDays(-now.DryDays);
            var dry = $"{Reservoir} is reckoned dry since {Day(since)}";
            if (now.DryDays >= _options.DryBeforeRewetting)
            {
                return Due(RoundAct.PlainWater, since, RoomMillilitres(), $"{dry}: water it through first, plain; it is fed again {Days(Math.Max(1, _plant.Pot.FeedEveryDays / 3))} later.{MissedWords()}", "dry", Missed());
            }

            if (_over is { } over && over < 0 && -over > Math.Max(1, _plant.Pot.FeedEveryDays / 4))
            {
                return Due(RoundAct.PlainWater, since, RoomMillilitres(), $"{dry}, {Days(-over)} before its feed: plain water, for the salts are still in the pot.", "dry");
            }

            return _plant.FeedEcMicrosiemensPerCm is null ? null : Due(RoundAct.Feed, since < CalendarDue() ? since : CalendarDue(), _plant.Pot.FeedMillilitres, $"{dry}{Since(_plant.Pot.LastFed)}.{MissedWords()}", "dry", Missed());
        }

        private Duty ByCalendar()
        {
            var due = CalendarDue();
            if (due > _today)
            {
                var level = _now is { } full ? $" {Reservoir} is reckoned {Percent(full.Level)} full and lasts {Lasts(full)}." : "";
                return Nothing($"{(_plant.Pot.LastFed is { } fed ? $"Fed on {Day(fed)}" : "Watered")}, due on {Day(due)}.{level}", null);
            }

            if (_plant.FeedEcMicrosiemensPerCm is not { } feed)
            {
                return Due(RoundAct.PlainWater, due, _plant.Pot.FeedMillilitres, "No want is chosen for it, so nobody can say which feed: plain water until one is.", "no want");
            }

            var high = _options.WaterAtTimesFeed * feed.High;
            if (_read is { } read && read.EcMicrosiemensPerCm > high)
            {
                return Due(RoundAct.PlainWater, due, _plant.Pot.FeedMillilitres, $"Plain water this time: EC read {Ec(read.EcMicrosiemensPerCm)} on {Day(read.On)}, above its feed (to {Ec(feed.High)}).", $"EC {Ec(read.EcMicrosiemensPerCm)}");
            }

            if (_read is null && _now is { } salty && salty.WetEcMicrosiemensPerCm.Low > high)
            {
                return Due(RoundAct.PlainWater, due, _plant.Pot.FeedMillilitres, $"Plain water this time: EC at the root is reckoned at {Ec(salty.WetEcMicrosiemensPerCm)}, above its feed (to {Ec(feed.High)}).", "EC creeping");
            }

            var words = _plant.Pot.LastFed is null ? "Never fed in this pot." : $"{Capital(Days(_today.DayNumber - _plant.Pot.LastFed.Value.DayNumber))} since its feed, every {Days(_plant.Pot.FeedEveryDays)} planned.{MissedWords()}";
            var sign = Missed() > 0 ? "feed missed" : null;
            if (_now is { } now)
            {
                words += $" {Reservoir} is reckoned {Percent(now.Level)} full.";
                var limit = LeachAt(_plant, _options);
                if (_read is null && now.WetEcMicrosiemensPerCm.Value >= limit)
                {
                    words += $" EC at the root may be {Ec(now.WetEcMicrosiemensPerCm)}: sample it first, and leach from {Ec(limit)}.";
                    sign = "sample first";
                }
                else if (now.Level.Low > 0.6 && _plant.Setup!.Culture == Culture.Wicking)
                {
                    sign ??= "look first";
                }
            }

            return Due(RoundAct.Feed, due, _plant.Pot.FeedMillilitres, words, sign, Missed());
        }

        /// <summary>When the plan wants it fed: its days after the last feed, and a third of them after it was wetted again.</summary>
        private DateOnly CalendarDue()
        {
            var due = _plant.Pot.LastFed?.AddDays(_plant.Pot.FeedEveryDays);
            var water = _plant.Entries.OfType<PouredIn>().Where(entry => entry.What is RoundAct.PlainWater or RoundAct.Leach && entry.On <= _today && !(entry.On < _plant.Pot.LastFed)).Select(entry => (DateOnly?)entry.On).Max();
            var settled = water?.AddDays(Math.Max(1, _plant.Pot.FeedEveryDays / 3));
            return (settled > due || due is null ? settled ?? due : due) ?? _today;
        }

        private int Missed() => _over is { } over && over > 0 ? over / _plant.Pot.FeedEveryDays : 0;

        private string MissedWords() => Missed() switch
        {
            0 => "",
            1 => " One feed was missed: it gets one of the usual strength, nothing is made up for.",
            var several => $" {several} feeds were missed: it gets one of the usual strength, nothing is made up for.",
        };

        /// <summary>As much as brings the medium down to the ideal of its feed: displaced as in the pot model, 0.6 of what is poured meeting the water held.</summary>
        private double LeachMillilitres(double ec)
        {
            if (_plant.Setup is not { } setup)
            {
                return 3 * _plant.Pot.FeedMillilitres;
            }

            var target = _plant.FeedEcMicrosiemensPerCm?.Ideal ?? 600;
            var parameters = _plant.Parameters ?? Pots.PotParameters.Default;
            var litres = setup.HeldLitres / parameters.PourThroughEfficiency * Math.Log(Math.Max(2, ec / target)) + setup.ReservoirLitres;
            return Math.Min(20_000, Math.Ceiling(litres * 20) * 50);
        }

        private double RoomMillilitres() => Math.Max(10, Ten((_now?.RoomLitres ?? _plant.Pot.FeedMillilitres / 1000) * 1000));

        private DateOnly? LastPoured()
        {
            var poured = _plant.Entries.OfType<PouredIn>().Where(entry => entry.On <= _today).Select(entry => (DateOnly?)entry.On).Max();
            return poured is null || _plant.Pot.LastFed > poured ? _plant.Pot.LastFed : poured;
        }

        private string Reservoir => _plant.Pot.Culture == Culture.Wicking ? "Its reservoir" : "Its medium";

        private Duty Nothing(string why, string? sign) => new() { PlantId = _plant.PlantId, Act = RoundAct.Nothing, DueSince = null, Millilitres = 0, Why = why, Sign = sign, Now = _now };

        private Duty Due(RoundAct act, DateOnly since, double millilitres, string why, string? sign, int missed = 0) => new()
        {
            PlantId = _plant.PlantId,
            Act = act,
            DueSince = since > _today ? _today : since,
            Millilitres = millilitres,
            Why = why,
            Sign = sign,
            Now = _now,
            Missed = missed,
        };

        private static double Ten(double millilitres) => Math.Ceiling(millilitres / 10 - 1e-9) * 10;
        private static string Since(DateOnly? last) => last is { } day ? $"; last on {Day(day)}" : "";
        private static string Capital(string words) => char.ToUpperInvariant(words[0]) + words[1..];
        private static string Days(int days) => days == 1 ? "1 day" : string.Create(CultureInfo.InvariantCulture, $"{days} days");
        private static string Day(DateOnly day) => day.ToString("d MMMM", CultureInfo.InvariantCulture);
        private static string Ec(double microsiemens) => string.Create(CultureInfo.InvariantCulture, $"{microsiemens / 1000:0.0#} mS/cm");
        private static string Ec(Expected ec) => string.Create(CultureInfo.InvariantCulture, $"{ec.Value / 1000:0.0} ({ec.Low / 1000:0.0} to {ec.High / 1000:0.0}) mS/cm");
        private static string Percent(Expected share) => string.Create(CultureInfo.InvariantCulture, $"{share.Value * 100:0} % ({share.Low * 100:0} to {share.High * 100:0})");

        private static string Lasts(PotNow now) => now.DaysLeft.High >= 60
            ? string.Create(CultureInfo.InvariantCulture, $"more than {Math.Floor(now.DaysLeft.Low):0} days")
            : string.Create(CultureInfo.InvariantCulture, $"{Days((int)Math.Round(now.DaysLeft.Value))} ({Math.Floor(now.DaysLeft.Low):0} to {now.DaysLeft.High:0})");
    }
}
