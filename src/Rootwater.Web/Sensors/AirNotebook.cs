using System.Text.Json;

namespace Rootwater.Web.Sensors;

/// <summary>Air a probe read, within a quarter of an hour of a local day. °C, relative humidity 0 to 1, µmol m⁻² s⁻¹, lx; null was not read.</summary>
public sealed record AirNote(Guid PlaceId, DateOnly Day, int Minute, double? Celsius, double? Humidity, double? Ppfd, double? Lux);

/// <summary>
/// Air that is not in the ledger yet, a line a message in a file beside the bench. Written every quarter of an hour the ledger would hold each
/// day some fifty times over, because a better day is a whole new fact; here a line costs nothing and goes when the day is written.
/// </summary>
/// <param name="file">Null keeps nothing.</param>
public sealed class AirNotebook(string? file)
{
    /// <summary>A day of four chatty places is far below; a file beyond it is not ours to read.</summary>
    private const long MostBytes = 64 * 1024 * 1024;

    public void Add(AirNote note)
    {
        if (file is null)
            return;
        Directory.CreateDirectory(Path.GetDirectoryName(file)!);
        File.AppendAllText(file, JsonSerializer.Serialize(note) + "\n");
    }

    /// <summary>A last line that was cut short by a crash is left out.</summary>
    public IReadOnlyList<AirNote> Read()
    {
        if (file is null || !File.Exists(file) || new FileInfo(file).Length > MostBytes)
            return [];
        var notes = new List<AirNote>();
        foreach (var line in File.ReadLines(file))
        {
            try
            {
                if (JsonSerializer.Deserialize<AirNote>(line) is { } note)
                    notes.Add(note);
            }
            catch (JsonException)
            {
                // Half a line: the machine went down while it was written.
            }
        }

        return notes;
    }

    public void Clear()
    {
        if (file is not null)
            File.Delete(file);
    }
}
