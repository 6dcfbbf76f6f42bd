namespace Rootwater.Growing.Mixing;

/// <summary>What the pens should read by what earlier cans taught of lots, waters, tools and pens. Doses, what is in the can and its hard limits stay those of the labels.</summary>
/// <param name="EcMicrosiemensPerCm">EC an ideally compensating pen with this pen's own error reads, at 25 °C, with its 95 % band.</param>
/// <param name="PH">Likewise.</param>
/// <param name="Because">What of it is told, in words: empty where nothing is.</param>
/// <param name="Cans">How many read cans it rests on.</param>
public sealed record LearnedReading(Expected EcMicrosiemensPerCm, Expected PH, IReadOnlyList<string> Because, int Cans);
