using Rootwater.Growing;
using Rootwater.Ledger;
using Rootwater.Web.Numbers;

namespace Rootwater.Web.Components.Mixing;

/// <summary>What was typed from the two pens over a can.</summary>
public static class Reading
{
    public const string EcField = Measured.EcField, PHField = Measured.PHField;

    /// <summary>Both pens; every field that is wrong is named, not only the first.</summary>
    /// <exception cref="EntryException">Either is wrong, or both are empty.</exception>
    public static (double? EcMicrosiemensPerCm, double? PH) Both(ReadersUnits units, string? ec, string? pH)
    {
        var read = new Measured(units);
        var (readEc, readPH) = (read.Ec(ec), read.PH(pH));
        read.Check();
        return readEc is null && readPH is null ? throw new EntryException(EcField, null, "type what at least one pen reads.") : (readEc, readPH);
    }
}
