namespace Rootwater.Growing.Evidence.Survival;

/// <summary>One life, or one interval of it, under watch: a leaf, a growth, a plant, a bloom. Times in any one unit (days, as a rule), counted from the same start of life.</summary>
/// <param name="Entry">Age when the watch began; the life counts as at risk after it. Negative infinity where it was watched from the start.</param>
/// <param name="Exit">Age at loss, or when last seen.</param>
/// <param name="Ended">True where it was lost at <paramref name="Exit"/>, false where it was still there.</param>
/// <param name="Group">What is compared: arm, kind, feed.</param>
/// <param name="Stratum">Compared only within: plant, pair, place.</param>
/// <remarks>A leaf that was there when the plant came and whose age is known enters late at that age. Where the age is unknown, count time from arrival and say that the answer is about leaves that had come so far.</remarks>
public readonly record struct Lifetime(double Entry, double Exit, bool Ended, string Group = "all", string Stratum = "")
{
    /// <summary>A life watched from its start.</summary>
    public static Lifetime FromStart(double exit, bool ended, string group = "all", string stratum = "") => new(double.NegativeInfinity, exit, ended, group, stratum);
}
