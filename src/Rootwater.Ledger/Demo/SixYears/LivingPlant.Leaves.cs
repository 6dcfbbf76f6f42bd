using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Demo.SixYears;

// Leaves end, and spikes flower.
internal sealed partial class LivingPlant
{
    private void LoseLeaves(DateOnly day, PotWorld pot)
    {
        var thirst = Math.Max(0, Math.Log2(Truth.Of("potassium_reference") / Math.Max(pot.Potassium60, 4)));
        var salty = pot.MediumEc > Truth.Of("salt_limit");
        var shaken = _repotted is { } repotted && day < repotted.AddDays(60);
        var evergreen = _kind?.Leaves is null or LeafHabit.Evergreen;
        var (byPotassium, bySalt, byRepotting) = (evergreen ? Truth.Of("potassium_leaf_loss") * thirst : 0, salty ? Truth.Of("salt_leaf_loss") : 0, shaken ? Truth.Of("repotting_leaf_loss") : 0);
        var raised = Math.Exp(byPotassium + bySalt + byRepotting + Truth.Of("season_leaf_loss") * Math.Cos(2 * Math.PI * (day.DayOfYear - 15) / 365.25));
        var shape = Truth.Of("leaf_shape");
        var last = LivingLeaves;
        for (var g = 0; g < _growths.Count; g++)
        {
            var growth = _growths[g];
            var sheds = !evergreen && g < _growths.Count - (_kind!.Leaves == LeafHabit.Deciduous ? 0 : 1) && growth.Leaves.Count >= Habit.LeavesPerGrowth - 1 && _kind.Rest!.IsSeason(day.AddDays(20));
            foreach (var leaf in growth.Leaves)
            {
                if (!leaf.IsLiving)
                {
                    continue;
                }

                if (sheds && _dice.Share() < 0.03)
                {
                    leaf.IsLiving = false;
                    Say(day, new LeafLost(_id, leaf.Id, LeafLoss.Shed, null));
                    continue;
                }

                if (salty && !leaf.IsMarked && _dice.Share() < 0.0006)
                {
                    leaf.IsMarked = true;
                    Say(day, new LeafMarked(_id, leaf.Id, LeafSign.DryTip, LeafPart.Tip, null));
                }

                if (evergreen && thirst > 0.7 && !leaf.IsMarked && leaf == growth.Leaves[0] && _dice.Share() < 0.0008)
                {
                    leaf.IsMarked = true;
                    Say(day, new LeafMarked(_id, leaf.Id, LeafSign.Purple, LeafPart.Margin, "older leaf, from the tip"));
                }

                var age = day.DayNumber - leaf.Born.DayNumber;
                var hazard = _frailty * raised * shape / Habit.LeafLifeDays * Math.Pow(Math.Max(age, 1) / (double)Habit.LeafLifeDays, shape - 1);
                if (last <= 1)
                {
                    continue;
                }

                var lost = _dice.Share() < hazard;
                Toll.Count("potassium_leaf_loss", byPotassium, hazard, lost);
                Toll.Count("salt_leaf_loss", bySalt, hazard, lost);
                Toll.Count("repotting_leaf_loss", byRepotting, hazard, lost);
                if (lost)
                {
                    leaf.IsLiving = false;
                    last--;
                    End(day, growth, leaf, age);
                }
            }
        }
    }

    private void End(DateOnly day, LivingGrowth growth, LivingLeaf leaf, int age)
    {
        var gone = day;
        if (_dice.Share() < 0.7)
        {
            Say(day, new LeafMarked(_id, leaf.Id, LeafSign.Yellowing, _dice.Share() < 0.6 ? LeafPart.Whole : LeafPart.Tip, null));
            gone = day.AddDays(8 + (int)(14 * _dice.Share()));
        }

        var oldest = growth.Leaves.TrueForAll(other => !other.IsLiving || other.Position > leaf.Position);
        var chance = _dice.Share();
        var cause = oldest && (age > 0.7 * Habit.LeafLifeDays || chance > 0.5) ? LeafLoss.Age
            : chance < 0.04 ? LeafLoss.Pest
            : chance < 0.10 ? LeafLoss.Rot
            : chance < 0.14 ? LeafLoss.Broken
            : chance < 0.17 ? LeafLoss.Sun
            : LeafLoss.Unknown;
        Say(gone, new LeafLost(_id, leaf.Id, cause, null));
    }

    private void Flower(DateOnly day, DayAir air, Weather weather, string place)
    {
        foreach (var spike in _spikes)
        {
            if (spike.IsGrowing && day >= spike.Opens)
            {
                spike.IsGrowing = false;
                spike.IsOpen = !spike.Blasts;
                Open(day, spike);
            }
            else if (spike.IsOpen && day >= spike.Over)
            {
                spike.IsOpen = false;
                Say(day, new BloomOver(_id, spike.Id));
                Say(day.AddDays(10), new SpikeEnded(_id, spike.Id, _dice.Share() < 0.7 ? SpikeEnd.Flowered : SpikeEnd.CutOff, null));
            }
        }

        _spikes.RemoveAll(spike => !spike.IsGrowing && !spike.IsOpen);
        foreach (var growth in Ready(day, weather, place).Take(Habit.SpikesAtOnce).ToList())
        {
            growth.Flowered = day;
            if (_dice.Share() > Habit.SpikeChance)
            {
                continue;
            }

            var pace = Math.Clamp(1 - 0.025 * (air.MeanCelsius - 19), 0.7, 1.4);
            var spike = new LivingSpike(Id(day), growth.Id, day) { Blasts = _dice.Share() < 0.05 };
            spike.Opens = day.AddDays((int)(Habit.DaysToFlower * pace * Math.Exp(0.06 * _dice.Normal())));
            spike.Over = spike.Opens.AddDays((int)(Habit.FlowerDays * Math.Exp(0.15 * _dice.Normal())));
            _spikes.Add(spike);
            Say(day, new SpikeSeen(_id, growth.Id, spike.Id, Math.Round(12 + 8 * _dice.Share())));
            var length = Habit.SpikeLength * _vigour * Math.Exp(0.1 * _dice.Normal());
            foreach (var share in new[] { 0.3, 0.55, 0.85 })
            {
                // Stem growth is logistic: Chen 2019, Horticulturae 5(4):76 (abstract).
                var grown = length / (1 + Math.Exp(-8 * (share - 0.5)));
                Say(day.AddDays((int)((spike.Opens.DayNumber - day.DayNumber) * share)), new SpikeMeasured(_id, spike.Id, Math.Round(grown), share > 0.5 ? Math.Max(1, (int)Math.Round(Habit.Flowers * share)) : null));
            }
        }
    }

    private void Open(DateOnly day, LivingSpike spike)
    {
        if (spike.Blasts)
        {
            Say(day, new SpikeEnded(_id, spike.Id, SpikeEnd.Blasted, "buds yellowed"));
            return;
        }

        Say(day, new BloomOpened(_id, spike.Id));
        var flowers = Math.Max(1, (int)Math.Round(Habit.Flowers * Math.Exp((Habit.Flowers > 1 ? 0.18 : 0) * _dice.Normal())));
        var width = Habit.FlowerWidth * _vigour * Math.Exp(0.04 * _dice.Normal());
        Say(day.AddDays(6), new BloomDescribed(_id, spike.Id, flowers, Math.Round(width), Math.Round(width * 0.95), Habit.ScentWords[(int)(Habit.ScentWords.Count * _dice.Share())]));
    }

    private IEnumerable<LivingGrowth> Ready(DateOnly day, Weather weather, string place)
    {
        if (Habit.Spike == SpikeRule.CoolWeeks)
        {
            var stem = _growths[0];
            if (LivingLeaves < 2 || day.Month is >= 4 and <= 8 || (stem.Flowered is { } last && day < last.AddDays(200)))
            {
                return [];
            }

            // Day of the season, counted on through New Year.
            var season = day.Month >= 9 ? day.DayOfYear : day.DayOfYear + 365;
            var cooler = 24 - weather.Mean(place, day, 45, air => air.MeanCelsius);
            var due = Habit.SpikeDay + _ownDays + 7 * Wobble(day.Month >= 9 ? day.Year : day.Year - 1) + Truth.Of("cool_spike") * cooler;
            return season >= due && weather.Mean(place, day, 30, air => air.DayCelsius) <= Truth.Of("warm_blocks_spike") ? [stem] : [];
        }

        var start = Habit.SpikeDay + _ownDays + 6 * Wobble(day.Year);
        if (day.DayOfYear < start || day.DayOfYear > start + 25)
        {
            return [];
        }

        return Habit.Spike == SpikeRule.NewestGrowth
            ? _growths.Where(growth => growth.Flowered is null && growth.LastLeaf is { } last && last.AddDays(35) <= day && !growth.IsMakingLeaves(Habit)).Reverse()
            : _growths.Where(growth => growth.Flowered is null && growth.LastLeaf is { } last && last.AddDays(90) <= day && last.AddDays(500) > day).Reverse();
    }

    /// <summary>A standard normal that stays the same for a plant and a year.</summary>
    private double Wobble(int year)
    {
        var bytes = _id.ToByteArray();
        return new Dice((ulong)year * 2654435761UL ^ BitConverter.ToUInt64(bytes, 8)).Normal();
    }
}
