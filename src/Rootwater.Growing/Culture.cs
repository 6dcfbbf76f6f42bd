namespace Rootwater.Growing;

/// <summary>How a pot is grown in.</summary>
public enum Culture
{
    /// <summary>A reservoir below, from which the medium draws its water.</summary>
    Wicking,

    /// <summary>A slatted basket: no reservoir, air from all sides.</summary>
    Basket,

    /// <summary>On a plaque with a thin pad of medium: no reservoir, nearly all of it in the air.</summary>
    Mounted,

    /// <summary>A pot of mix that drains freely: no reservoir.</summary>
    OpenMix,
}
