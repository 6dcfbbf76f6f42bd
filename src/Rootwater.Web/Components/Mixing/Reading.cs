using Rootwater.Ledger;
using Rootwater.Web.Numbers;

namespace Rootwater.Web.Components.Mixing;

/// <summary>What was typed from the two pens, read with care: a comma or a point, and a hand that forgot the unit.</summary>
public static class Reading
{
    public const string EcField = "EC", PHField = "pH";

    /// <summary>EC typed in mS/cm, given in µS/cm; null when nothing was typed.</summary>
    /// <exception cref="EntryException">Not a number, negative, or so high that it must be µS/cm.</exception>
    public static double? Ec(string? text)
    {
        if (!Entry.TryReadOptional(text, out var milli))
            throw new EntryException(EcField, text, "type the number the pen shows, such as 0.83 or 0,83.");
        if (milli is null)
            return null;
        if (milli < 0)
            throw new EntryException(EcField, text, "must be 0 or more, in mS/cm.");
        if (milli > 20)
            throw new EntryException(EcField, text, $"is far above any feed in mS/cm; if the pen shows µS/cm, type {Show.Ec(milli.Value)}.");
        return milli * 1000;
    }

    /// <summary>pH as typed; null when nothing was.</summary>
    /// <exception cref="EntryException">Not a number, or outside 0 to 14.</exception>
    public static double? PH(string? text)
    {
        if (!Entry.TryReadOptional(text, out var pH))
            throw new EntryException(PHField, text, "type the number the pen shows, such as 5.8 or 5,8.");
        if (pH is < 0 or > 14)
            throw new EntryException(PHField, text, "must lie between 0 and 14.");
        return pH;
    }

    /// <summary>Both pens; every field that is wrong is named, not only the first.</summary>
    /// <exception cref="EntryException">Either is wrong, or both are empty.</exception>
    public static (double? EcMicrosiemensPerCm, double? PH) Both(string? ec, string? pH)
    {
        var problems = new List<EntryProblem>();
        double? readEc = null, readPH = null;
        try { readEc = Ec(ec); }
        catch (EntryException wrong) { problems.AddRange(wrong.Problems); }
        try { readPH = PH(pH); }
        catch (EntryException wrong) { problems.AddRange(wrong.Problems); }
        if (problems.Count == 0 && readEc is null && readPH is null)
            problems.Add(new EntryProblem(EcField, null, "type what at least one pen reads."));
        return problems.Count == 0 ? (readEc, readPH) : throw new EntryException(problems);
    }
}
