namespace Rootwater.Growing.Rounds;

/// <summary>What a plant gets on a walk.</summary>
public enum RoundAct
{
    Nothing,
    Feed,
    PlainWater,

    /// <summary>Plain water through from above until the salts are out.</summary>
    Leach,
}
