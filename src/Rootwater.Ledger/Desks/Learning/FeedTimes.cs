using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>The minute a feed counts from.</summary>
internal static class FeedTimes
{
    /// <summary>Who was fed on a day of which the minute is not known was fed at eight in the evening: whatever was read that day was read before.</summary>
    public static DateTime Of(FactWhen when) => when.Precision == WhenPrecision.Minute ? when.Earliest : when.EarliestDay.ToDateTime(new TimeOnly(20, 0));
}
