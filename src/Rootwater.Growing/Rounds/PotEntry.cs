namespace Rootwater.Growing.Rounds;

/// <summary>What was done to a pot, or seen in it, on a day.</summary>
public abstract record PotEntry(DateOnly On);

/// <summary>Feed, water or a leach.</summary>
/// <param name="On">Day.</param>
/// <param name="What">Never <see cref="RoundAct.Nothing"/>.</param>
/// <param name="Litres">Poured.</param>
/// <param name="EcMicrosiemensPerCm">Of what was poured, at 25 °C: measured where measured, else expected.</param>
public sealed record PouredIn(DateOnly On, RoundAct What, double Litres, double EcMicrosiemensPerCm) : PotEntry(On);

/// <summary>How full the reservoir was, 0 to 1.</summary>
public sealed record LevelSeen(DateOnly On, double Share) : PotEntry(On);

/// <summary>"Still full": nothing was given. It says that at least about three quarters were left.</summary>
public sealed record SeenFull(DateOnly On) : PotEntry(On);

/// <summary>EC of a sample, µS/cm at 25 °C.</summary>
/// <param name="On">Day.</param>
/// <param name="EcMicrosiemensPerCm">At 25 °C.</param>
/// <param name="OfRunoff">What ran out below tells of the medium; else a sample of the reservoir.</param>
public sealed record EcSeen(DateOnly On, double EcMicrosiemensPerCm, bool OfRunoff) : PotEntry(On);
