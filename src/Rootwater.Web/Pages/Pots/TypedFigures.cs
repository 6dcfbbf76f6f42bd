using Rootwater.Ledger;
using Rootwater.Web.Numbers;

namespace Rootwater.Web.Pages.Pots;

/// <summary>Reads figures out of a form and gathers what is not one.</summary>
internal sealed class TypedFigures(string accepted)
{
    private readonly List<EntryProblem> _problems = [];

    /// <summary>Null where nothing was typed.</summary>
    public double? Read(string field, string text)
    {
        if (Entry.TryReadOptional(text, out var value))
            return value;
        _problems.Add(new EntryProblem(field, text, accepted));
        return null;
    }

    /// <exception cref="EntryException">Something typed is not a number.</exception>
    public void Refuse()
    {
        if (_problems.Count > 0)
            throw new EntryException(_problems);
    }
}
