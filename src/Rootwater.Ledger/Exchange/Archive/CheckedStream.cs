using System.Security.Cryptography;

namespace Rootwater.Ledger.Exchange.Archive;

/// <summary>Reads a packed part, counting what really comes out (a head may lie) and hashing it on the way.</summary>
internal sealed class CheckedStream(Stream inner, string name, long most, Action<int> counted) : Stream
{
    private readonly IncrementalHash _hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
    private long _read;

    /// <summary>Of all that was read; ask once, at the end.</summary>
    public string Sha256() => Convert.ToHexStringLower(_hash.GetHashAndReset());

    public override int Read(Span<byte> buffer)
    {
        int read;
        try
        {
            read = inner.Read(buffer);
        }
        catch (InvalidDataException broken)
        {
            throw new EntryException("archive", name, $"a whole part: this one is broken ({broken.Message})");
        }

        _read += read;
        if (_read > most)
        {
            throw new EntryException("archive", name, $"at most {most:N0} bytes unpacked");
        }

        counted(read);
        _hash.AppendData(buffer[..read]);
        return read;
    }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    protected override void Dispose(bool disposing)
    {
        inner.Dispose();
        _hash.Dispose();
        base.Dispose(disposing);
    }

    public override bool CanRead => true;
    public override bool CanSeek => false;
    public override bool CanWrite => false;
    public override long Length => throw new NotSupportedException();
    public override long Position { get => _read; set => throw new NotSupportedException(); }
    public override void Flush() => throw new NotSupportedException();
    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();
    public override void SetLength(long value) => throw new NotSupportedException();
    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
}
