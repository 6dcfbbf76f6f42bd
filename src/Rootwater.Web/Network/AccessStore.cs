using System.Security.Cryptography;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Rootwater.Web.Network;

/// <summary>Who may come in from the home network.</summary>
public sealed record Access
{
    public bool NetworkOn { get; init; }

    /// <summary>As ASP.NET Core Identity's hasher writes it; null until a passphrase is set.</summary>
    public string? PassphraseHash { get; init; }

    /// <summary>Stands in every sign-in; a new one ends them all.</summary>
    public string Stamp { get; init; } = Guid.NewGuid().ToString("N");

    /// <summary>Stands in the address of the calendar: whoever knows it may read the calendar, and nothing else. Null until it is asked for.</summary>
    public string? CalendarKey { get; init; }

    /// <summary>Wrong guesses since the last right one.</summary>
    public int WrongGuesses { get; init; }

    /// <summary>Until then not even the right passphrase is taken.</summary>
    public DateTimeOffset? LockedUntil { get; init; }
}

/// <summary>
/// Keeps <see cref="Access"/> in a small file beside the bench that its owner alone may read. It is no fact: it says nothing about plants, goes
/// into no backup and no archive, and the newest state is the only one that counts.
/// </summary>
public sealed class AccessStore
{
    private static readonly JsonSerializerOptions s_json = new() { WriteIndented = true, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull };
    private readonly Lock _lock = new();
    private readonly string _file;

    public AccessStore(string folder)
    {
        Folder = folder;
        _file = Path.Combine(folder, "access.json");
    }

    public string Folder { get; }

    public Access Now
    {
        get
        {
            lock (_lock)
            {
                return Read();
            }
        }
    }

    /// <summary>The calendar's key, made when it is first asked for.</summary>
    public string CalendarKey() => Now.CalendarKey ?? NewCalendarKey();

    /// <summary>A new one; the address given out before leads nowhere from now on.</summary>
    public string NewCalendarKey() => Change(now => now with { CalendarKey = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16)) }).CalendarKey!;

    /// <summary>Changes it; what is on disk afterwards is whole, before or after.</summary>
    public Access Change(Func<Access, Access> change)
    {
        lock (_lock)
        {
            var next = change(Read());
            OwnersFile.Write(_file, JsonSerializer.SerializeToUtf8Bytes(next, s_json));
            return next;
        }
    }

    // A file that cannot be read lets nobody in: better locked out than wide open. The owner deletes it to begin anew.
    private Access Read()
    {
        if (!File.Exists(_file))
            return new Access();
        try
        {
            return JsonSerializer.Deserialize<Access>(File.ReadAllBytes(_file), s_json) ?? throw new JsonException("empty");
        }
        catch (JsonException problem)
        {
            throw new Rootwater.Ledger.LedgerProblem(Rootwater.Ledger.LedgerFault.Corrupt, $"{_file} cannot be read ({problem.Message}). Delete it to switch the home network off and set a new passphrase.", problem);
        }
    }
}

/// <summary>Files only their owner may read or write.</summary>
internal static class OwnersFile
{
    private const UnixFileMode File600 = UnixFileMode.UserRead | UnixFileMode.UserWrite;

    /// <summary>Writes beside and then puts in place, so that no half file is ever read.</summary>
    public static void Write(string path, ReadOnlySpan<byte> bytes)
    {
        Folder(Path.GetDirectoryName(path)!);
        var beside = path + ".new";
        File.Delete(beside);
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write, Share = FileShare.None };
        if (!OperatingSystem.IsWindows())
            options.UnixCreateMode = File600;
        using (var stream = new FileStream(beside, options))
        {
            stream.Write(bytes);
            stream.Flush(flushToDisk: true);
        }

        File.Move(beside, path, overwrite: true);
    }

    /// <summary>Makes a folder for its owner alone. On Windows it inherits the rights of the user's own data folder.</summary>
    public static void Folder(string path)
    {
        if (OperatingSystem.IsWindows())
            Directory.CreateDirectory(path);
        else if (!Directory.Exists(path))
            Directory.CreateDirectory(path, File600 | UnixFileMode.UserExecute);
        else
            File.SetUnixFileMode(path, File600 | UnixFileMode.UserExecute);
    }
}
