namespace Rootwater.Ledger.Exchange;

/// <summary>How far a long exchange has come.</summary>
/// <param name="Doing">In words.</param>
/// <param name="Done">Of <paramref name="Of"/>.</param>
/// <param name="Of">All there is to do; 0 where not known.</param>
public sealed record ExchangeProgress(string Doing, long Done, long Of);
