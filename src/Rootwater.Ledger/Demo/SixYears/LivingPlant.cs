using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Demo.SixYears;

/// <summary>Something that could be seen on a plant from a day on, as the fact it will be written as.</summary>
internal readonly record struct Happening(DateOnly Day, FactPayload Payload);

/// <summary>A plant's own life: growths, leaves with hazards, roots, spikes. Truth; what the grower notices of it, and when, is another matter.</summary>
internal sealed partial class LivingPlant
{
    private readonly Dice _dice;
    private readonly Guid _id;
    private readonly Kind? _kind;
    private readonly List<LivingGrowth> _growths = [];
    private readonly List<LivingSpike> _spikes = [];
    private readonly List<Happening> _happened = [];
    private readonly HashSet<Guid> _gone = [];
    private readonly double _frailty;
    private readonly double _vigour;
    private readonly double _ownDays;
    private DateOnly? _nextGrowth;
    private DateOnly? _nextLeaf;
    private DateOnly? _rootsDue;
    private DateOnly? _repotted;
    private DateOnly? _rootsSeen;

    public LivingPlant(Guid id, string kind, Dice dice)
    {
        (_id, _dice, Habit) = (id, dice, DemoHabit.Of(kind));
        _kind = Kinds.Find(kind);
        // Gamma of mean 1 with the variance of the truth file, as a sum of exponentials: the shape is a whole number (4 for 0.25).
        var shape = (int)Math.Round(1 / Truth.Of("frailty_variance"));
        _frailty = Enumerable.Range(0, shape).Sum(_ => -Math.Log(1 - dice.Share())) / shape;
        _vigour = Math.Exp(0.12 * dice.Normal());
        _ownDays = 8 * dice.Normal();
    }

    public DemoHabit Habit { get; }

    /// <summary>Leaves lost while each planted effect was at work, beside what the hazards say: a check on the generator itself.</summary>
    public Toll Toll { get; } = new();
    public double LeafSquareMetres => _growths.SelectMany(growth => growth.Leaves).Where(leaf => leaf.IsLiving).Sum(leaf => leaf.Size * leaf.Length * leaf.Width * 0.7) * 1e-6;
    public int LivingLeaves => _growths.Sum(growth => growth.Leaves.Count(leaf => leaf.IsLiving));

    /// <summary>What it is doing, as a grower would tick it.</summary>
    public IReadOnlyList<PlantState> States(DateOnly day, DateOnly arrived)
    {
        var states = new List<PlantState>();
        if (_spikes.Any(spike => spike.IsOpen))
        {
            states.Add(PlantState.Flowering);
        }

        if (_spikes.Any(spike => spike.IsGrowing))
        {
            states.Add(PlantState.InSpike);
        }

        if (_rootsSeen is { } roots && day < roots.AddDays(50))
        {
            states.Add(PlantState.NewRoots);
        }

        if (day < arrived.AddDays(100))
        {
            states.Add(PlantState.Establishing);
        }
        else if (Rests(day))
        {
            states.Add(_kind!.Rest!.State);
        }
        else if (Habit.Form == GrowthForm.Stem || _growths.Exists(growth => growth.IsMakingLeaves(Habit)))
        {
            states.Add(PlantState.LeafGrowth);
        }
        else if (Habit.Form is GrowthForm.Bulb or GrowthForm.Cane && _growths.Count > 0 && _growths[^1].LastLeaf is { } last && day < last.AddDays(120))
        {
            states.Add(PlantState.BulbRipening);
        }

        return states.Count > 0 ? states : [PlantState.LeafGrowth];
    }

    public bool Rests(DateOnly day) => _kind?.Rest is { } rest && rest.IsSeason(day) && !_growths.Exists(growth => growth.Begun is { } begun && day < begun.AddDays(60));

    /// <summary>What was there when it came: growths with their leaves, of unknown age.</summary>
    public void Arrive(DateOnly day, int growths, bool young)
    {
        for (var i = 1; i <= (Habit.Form == GrowthForm.Stem ? 1 : growths); i++)
        {
            var growth = new LivingGrowth(Id(day), i, null);
            _growths.Add(growth);
            Say(day, new GrowthSeen(_id, growth.Id, i, Habit.Form, true));
            var leaves = Habit.Form == GrowthForm.Stem ? (young ? 2 : 4 + (int)(2 * _dice.Share()))
                : Math.Max(i == growths ? 1 : 0, (int)Math.Round(Habit.LeavesPerGrowth * (_kind?.Leaves == LeafHabit.Deciduous && i < growths ? 0 : i == growths ? 1 : 0.75)));
            for (var position = 1; position <= leaves; position++)
            {
                var age = (int)(Habit.LeafLifeDays * (0.1 + 0.6 * _dice.Share()) * (Habit.Form == GrowthForm.Stem ? 1 - position / 8.0 : 0.7));
                var leaf = new LivingLeaf(Id(day), position, day.AddDays(-age)) { Length = Length(young ? 0.5 : 1), Width = Habit.LeafWidth * (young ? 0.5 : 1), Size = 1 };
                growth.Leaves.Add(leaf);
                Say(day, new LeafSeen(_id, growth.Id, leaf.Id, position, true));
                Say(day, new LeafMeasured(_id, leaf.Id, Math.Round(leaf.Length), Math.Round(leaf.Width)));
            }

            growth.LastLeaf = day.AddDays(-60);
        }

        _nextLeaf = Habit.Form == GrowthForm.Stem ? day.AddDays((int)(Habit.LeafEveryDays * _dice.Share())) : null;
    }

    public void Repot(DateOnly day)
    {
        _repotted = day;
        var winter = day.Month is >= 10 or 1 ? Truth.Of("winter_repotting_roots") : 0;
        _rootsDue = day.AddDays((int)(26 + winter + 7 * Math.Abs(_dice.Normal())));
    }

    /// <summary>A growth leaves with a division.</summary>
    public void GiveAwayOldest(DateOnly day, string cause)
    {
        if (_growths.Count > 2)
        {
            var growth = _growths[0];
            _growths.RemoveAt(0);
            _spikes.RemoveAll(spike => spike.GrowthId == growth.Id);
            _gone.UnionWith(growth.Leaves.Select(leaf => leaf.Id));
            Say(day, new GrowthEnded(_id, growth.Id, cause));
        }
    }

    /// <summary>Rot from the crown: every leaf in a few weeks.</summary>
    public void Rot(DateOnly day)
    {
        var (i, leaves) = (0, _growths.SelectMany(growth => growth.Leaves).Where(leaf => leaf.IsLiving).ToList());
        foreach (var leaf in leaves)
        {
            Say(day.AddDays(i), new LeafMarked(_id, leaf.Id, LeafSign.WaterSoaked, LeafPart.Base, i == 0 ? "soft, smells" : null));
            Say(day.AddDays(i + 4), new LeafLost(_id, leaf.Id, LeafLoss.Rot, null));
            leaf.IsLiving = false;
            i += 5;
        }
    }

    /// <summary>What has happened up to a day and was not taken yet, in order.</summary>
    public IReadOnlyList<Happening> Take(DateOnly upTo)
    {
        var taken = _happened.Where(happening => happening.Day <= upTo).OrderBy(happening => happening.Day).ToList(); // a stable sort
        _happened.RemoveAll(happening => happening.Day <= upTo);
        // A leaf that is gone is not measured any more.
        _gone.UnionWith(taken.Select(happening => happening.Payload).OfType<LeafLost>().Select(lost => lost.LeafId));
        taken.RemoveAll(happening => happening.Payload switch
        {
            LeafMeasured measured => _gone.Contains(measured.LeafId),
            LeafMarked marked => _gone.Contains(marked.LeafId) && !taken.Exists(other => other.Payload is LeafLost lost && lost.LeafId == marked.LeafId),
            _ => false,
        });
        return taken;
    }

    /// <summary>One day of life.</summary>
    public void Live(DateOnly day, Weather weather, string place, PotWorld pot)
    {
        var air = weather.At(place, day);
        Grow(day, air, pot);
        LoseLeaves(day, pot);
        Root(day);
        Flower(day, air, weather, place);
    }

    private void Grow(DateOnly day, DayAir air, PotWorld pot)
    {
        var warmth = Math.Clamp((air.MeanCelsius - 8) / 12, 0.2, 1.3);
        foreach (var leaf in _growths.SelectMany(growth => growth.Leaves))
        {
            leaf.Size = Math.Min(1, leaf.Size + 0.011 * warmth);
        }

        if (Habit.Form == GrowthForm.Stem)
        {
            if (day >= _nextLeaf)
            {
                NewLeaf(day, _growths[0], pot);
                _nextLeaf = day.AddDays((int)(Habit.LeafEveryDays / _vigour / warmth * (day.Month is >= 11 or <= 2 ? 1.7 : 1) * Math.Exp(0.15 * _dice.Normal())));
            }

            return;
        }

        _nextGrowth ??= NextGrowth(day, day.Year);
        if (day >= _nextGrowth)
        {
            var growth = new LivingGrowth(Id(day), _growths[^1].Number + 1, day);
            _growths.Add(growth);
            Say(day, new GrowthSeen(_id, growth.Id, growth.Number, Habit.Form, false));
            _rootsDue ??= day.AddDays((int)(45 + 12 * _dice.Share()));
            var gap = 365 / (Habit.GrowthsPerYear * _vigour);
            _nextGrowth = gap > 300 || _dice.Share() < (gap > 150 ? 0.35 : 0.12) ? NextGrowth(day, day.Year + 1) : day.AddDays((int)(gap * (0.8 + 0.4 * _dice.Share())));
            // The oldest bulbs shrivel once five younger ones stand.
            if (_growths.Count > 6 && _growths[0].Leaves.TrueForAll(leaf => !leaf.IsLiving))
            {
                Say(day.AddDays(5), new GrowthEnded(_id, _growths[0].Id, "shrivelled, taken off"));
                _spikes.RemoveAll(spike => spike.GrowthId == _growths[0].Id);
                _growths.RemoveAt(0);
            }
        }

        foreach (var growth in _growths.Where(growth => growth.IsMakingLeaves(Habit)))
        {
            if (day >= (growth.LastLeaf ?? growth.Begun!.Value).AddDays((int)(Habit.LeafEveryDays / Math.Max(0.4, warmth))))
            {
                NewLeaf(day, growth, pot);
            }
        }
    }

    private DateOnly NextGrowth(DateOnly day, int year)
    {
        var next = new DateOnly(year, 1, 1).AddDays((int)(Habit.GrowthDay + _ownDays + 12 * _dice.Normal()));
        return next > day ? next : NextGrowth(day, year + 1);
    }

    private void NewLeaf(DateOnly day, LivingGrowth growth, PotWorld pot)
    {
        var position = growth.Leaves.Count == 0 ? 1 : growth.Leaves[^1].Position + 1;
        // Nitrogen at the root, from 15 to 120 mg/L.
        var fed = Math.Exp(Truth.Of("nitrogen_leaf_size") * Math.Log2(Math.Clamp(pot.Nitrogen60, 15, 120) / 60));
        var leaf = new LivingLeaf(Id(day), position, day) { Length = Length(fed), Width = Habit.LeafWidth * (0.9 + 0.2 * _dice.Share()), Size = 0.08 };
        growth.Leaves.Add(leaf);
        growth.LastLeaf = day;
        Say(day, new LeafSeen(_id, growth.Id, leaf.Id, position, false));
        if (_dice.Share() < 0.7)
        {
            var early = day.AddDays(25 + (int)(12 * _dice.Share()));
            Say(early, new LeafMeasured(_id, leaf.Id, Math.Round(leaf.Length * 0.42), Math.Round(leaf.Width * 0.55)));
        }

        if (_dice.Share() < 0.9)
        {
            Say(day.AddDays(110 + (int)(20 * _dice.Share())), new LeafMeasured(_id, leaf.Id, Math.Round(leaf.Length * (1 + 0.01 * _dice.Normal())), Math.Round(leaf.Width)));
        }
    }

    private double Length(double factor) => Habit.LeafLength * _vigour * factor * Math.Exp(0.06 * _dice.Normal());

    private void Root(DateOnly day)
    {
        if (day >= _rootsDue)
        {
            _rootsDue = null;
            _rootsSeen = day;
            Say(day, new NewRootsSeen(_id, Habit.Form == GrowthForm.Stem ? null : _growths[^1].Id, _dice.Share() < 0.6 ? 1 + (int)(4 * _dice.Share()) : null));
        }
        else if (Habit.Form == GrowthForm.Stem && _rootsDue is null && day.Month is 3 or 9 && day.Day == 10)
        {
            _rootsDue = day.AddDays((int)(30 * _dice.Share()));
        }
    }

    private Guid Id(DateOnly day) => _dice.Id(new DateTimeOffset(day.ToDateTime(new TimeOnly(7, 0)), TimeSpan.Zero));

    private void Say(DateOnly day, FactPayload payload) => _happened.Add(new Happening(day, payload));

    private sealed class LivingGrowth(Guid id, int number, DateOnly? begun)
    {
        public Guid Id { get; } = id;
        public int Number { get; } = number;
        public DateOnly? Begun { get; } = begun;
        public DateOnly? LastLeaf { get; set; }
        public DateOnly? Flowered { get; set; }
        public List<LivingLeaf> Leaves { get; } = [];

        public bool IsMakingLeaves(DemoHabit habit) => Begun is not null && Leaves.Count < habit.LeavesPerGrowth;
    }

    private sealed class LivingLeaf(Guid id, int position, DateOnly born)
    {
        public Guid Id { get; } = id;
        public int Position { get; } = position;
        public DateOnly Born { get; } = born;
        public double Length { get; init; }
        public double Width { get; init; }

        /// <summary>Share of its full size.</summary>
        public double Size { get; set; }
        public bool IsLiving { get; set; } = true;
        public bool IsMarked { get; set; }
    }

    private sealed class LivingSpike(Guid id, Guid growthId, DateOnly seen)
    {
        public Guid Id { get; } = id;
        public Guid GrowthId { get; } = growthId;
        public DateOnly Seen { get; } = seen;
        public DateOnly Opens { get; set; }
        public DateOnly Over { get; set; }
        public bool IsGrowing { get; set; } = true;
        public bool IsOpen { get; set; }
        public bool Blasts { get; set; }
    }
}
