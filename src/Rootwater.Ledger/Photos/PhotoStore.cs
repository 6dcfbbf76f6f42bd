using System.Security.Cryptography;

namespace Rootwater.Ledger.Photos;

/// <summary>
/// Pictures beside the database, each under the hash of its content: "ab/abcdef….jpg" and its thumbnail. A picture is there whole or not at
/// all, never changes, and is the same however often it comes.
/// </summary>
public sealed class PhotoStore(string folder)
{
    public string Folder { get; } = folder;

    /// <summary>Whether a text can be a picture's name: 64 digits of lower-case hex, so never a path.</summary>
    public static bool IsHash(string? text) => text is { Length: 64 } && text.All(c => c is (>= '0' and <= '9') or (>= 'a' and <= 'f'));

    public async Task KeepAsync(CleanPicture picture, CancellationToken cancel = default)
    {
        await WriteAsync(PathOf(picture.Sha256, thumbnail: true), picture.Thumbnail, cancel);
        await WriteAsync(PathOf(picture.Sha256, thumbnail: false), picture.Jpeg, cancel);
    }

    /// <summary>A picture that is clean already, as an archive or a backup brings it; its thumbnail is drawn when first asked for.</summary>
    public Task KeepCleanAsync(string sha256, byte[] jpeg, CancellationToken cancel = default) => WriteAsync(PathOf(sha256, thumbnail: false), jpeg, cancel);

    public bool Holds(string sha256) => File.Exists(PathOf(sha256, thumbnail: false));

    /// <summary>The stored JPEG; null where it is not.</summary>
    public async Task<Stream?> OpenAsync(string sha256, bool thumbnail, CancellationToken cancel = default)
    {
        var path = PathOf(sha256, thumbnail);
        if (thumbnail && !File.Exists(path) && File.Exists(PathOf(sha256, thumbnail: false)))
        {
            await using var whole = Read(PathOf(sha256, thumbnail: false));
            await WriteAsync(path, (await PictureCleaner.CleanAsync(whole, cancel: cancel)).Thumbnail, cancel);
        }

        return File.Exists(path) ? Read(path) : null;
    }

    /// <summary>Whether what lies under a hash still is what it was. False also where nothing lies there.</summary>
    public async Task<bool> IsSoundAsync(string sha256, CancellationToken cancel = default)
    {
        var path = PathOf(sha256, thumbnail: false);
        if (!File.Exists(path))
        {
            return false;
        }

        await using var stream = Read(path);
        return Convert.ToHexStringLower(await SHA256.HashDataAsync(stream, cancel)) == sha256;
    }

    /// <summary>For good; for pictures that no fact names any more.</summary>
    public void Remove(string sha256)
    {
        foreach (var path in (string[])[PathOf(sha256, thumbnail: false), PathOf(sha256, thumbnail: true)])
        {
            // A picture that is gone already, folder and all, is as good as removed.
            if (File.Exists(path))
            {
                File.Delete(path);
            }
        }
    }

    /// <summary>All hashes that lie here.</summary>
    public IEnumerable<string> All() => Directory.Exists(Folder)
        ? Directory.EnumerateFiles(Folder, "*.jpg", SearchOption.AllDirectories).Select(file => Path.GetFileNameWithoutExtension(file)).Where(IsHash)
        : [];

    public string PathOf(string sha256, bool thumbnail) => IsHash(sha256)
        ? Path.Combine(Folder, sha256[..2], sha256 + (thumbnail ? ".small.jpg" : ".jpg"))
        : throw new ArgumentException($"\"{sha256}\" is no hash of a picture.", nameof(sha256));

    private static FileStream Read(string path) => new(path, FileMode.Open, FileAccess.Read, FileShare.Read | FileShare.Delete, 81920, useAsync: true);

    // Written aside and moved into place, so that a power cut leaves no half picture under a whole one's name.
    private static async Task WriteAsync(string path, byte[] bytes, CancellationToken cancel)
    {
        if (File.Exists(path))
        {
            return;
        }

        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        var aside = $"{path}.{Guid.NewGuid():N}.part";
        try
        {
            await using (var file = new FileStream(aside, FileMode.CreateNew, FileAccess.Write, FileShare.None))
            {
                await file.WriteAsync(bytes, cancel);
                file.Flush(flushToDisk: true);
            }

            File.Move(aside, path, overwrite: true);
        }
        finally
        {
            File.Delete(aside);
        }
    }
}
