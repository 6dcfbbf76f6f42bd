namespace Rootwater.Web.Pages.Plant.Entries;

/// <summary>How a field is filled in.</summary>
public enum FieldShape
{
    Text,
    Words,
    Number,
    Choice,
    Tick,
}

/// <summary>A choice in a list.</summary>
/// <param name="Value">What is kept.</param>
/// <param name="Words">What is shown.</param>
public sealed record FieldOption(string Value, string Words);

/// <summary>One field of an entry sheet as it stands. Its key names its label in PlantText ("Field" + key) and what is wrong with it.</summary>
public sealed class FormField(string key, FieldShape shape)
{
    public string Key { get; } = key;
    public FieldShape Shape { get; } = shape;
    public string Value { get; set; } = "";
    public bool Ticked { get; set; }
    public IReadOnlyList<FieldOption> Options { get; init; } = [];

    /// <summary>Shown behind the field.</summary>
    public string? Unit { get; init; }

    /// <summary>A plant's name: how the codes write it is shown below.</summary>
    public bool IsName { get; init; }

    /// <summary>Key of a sentence below the field.</summary>
    public string? Hint { get; init; }

    /// <summary>Shown instead of the label for its key: the name of a state to tick.</summary>
    public string? Label { get; init; }

    /// <summary>A heading before this field, by key.</summary>
    public string? Under { get; init; }

    /// <summary>Empty is null.</summary>
    public string? Given => string.IsNullOrWhiteSpace(Value) ? null : Value.Trim();
}
