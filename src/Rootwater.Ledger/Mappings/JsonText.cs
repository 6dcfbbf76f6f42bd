using Microsoft.EntityFrameworkCore.Storage.ValueConversion;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Mappings;

/// <summary>Keeps an immutable value as JSON text, alike on both databases.</summary>
internal static class JsonText
{
    public static ValueConverter<T, string> Of<T>() => new(value => FactJson.Write(value), text => FactJson.Read<T>(text));
}
