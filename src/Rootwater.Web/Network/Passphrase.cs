using Microsoft.AspNetCore.Identity;

namespace Rootwater.Web.Network;

/// <summary>What came of a guess.</summary>
/// <param name="Right">Let in.</param>
/// <param name="Wait">How long until the next guess is taken; null when one may be made now.</param>
public sealed record Guess(bool Right, TimeSpan? Wait);

/// <summary>
/// The bench's one passphrase. After five wrong guesses each further one doubles the wait, from 15 s to an hour; meanwhile not even the right
/// one is taken, so that guessing tells nothing. The count is kept for the bench, not per address: a guesser can lock the network out, but
/// never the machine itself, which needs no passphrase.
/// </summary>
public sealed class Passphrase(AccessStore store, TimeProvider clock) : IDisposable
{
    public const int Shortest = 12, Longest = 200, FreeGuesses = 5;

    private static readonly TimeSpan s_firstWait = TimeSpan.FromSeconds(15), s_longestWait = TimeSpan.FromHours(1);
    private readonly PasswordHasher<Access> _hasher = new();

    // One guess at a time: many at once would all pass the lock before the first is counted.
    private readonly SemaphoreSlim _guessing = new(1, 1);

    public bool IsSet => store.Now.PassphraseHash is not null;

    /// <summary>What is wrong with a new passphrase, as a key of the page's words; null when it will do.</summary>
    public static string? Refuse(string? passphrase, string? again) =>
        passphrase is null || passphrase.Trim().Length < Shortest ? "WrongShort"
        : passphrase.Length > Longest ? "WrongLong"
        : passphrase != again ? "WrongAgain" : null;

    /// <summary>Sets it anew; whoever was signed in has to sign in again.</summary>
    public void Set(string passphrase) => store.Change(access => access with
    {
        PassphraseHash = _hasher.HashPassword(access, passphrase),
        Stamp = Guid.NewGuid().ToString("N"),
        WrongGuesses = 0,
        LockedUntil = null,
    });

    public async Task<Guess> TryAsync(string? guess, CancellationToken cancel)
    {
        await _guessing.WaitAsync(cancel);
        try
        {
            var access = store.Now;
            var now = clock.GetUtcNow();
            if (access.LockedUntil is { } until && until > now)
                return new Guess(false, until - now);
            if (access.PassphraseHash is not { } hash)
                return new Guess(false, null);

            // Counted before it is looked at: a crash in between costs the guesser, not the bench.
            var wrong = access.WrongGuesses + 1;
            var wait = wrong < FreeGuesses ? (TimeSpan?)null : WaitAfter(wrong);
            store.Change(each => each with { WrongGuesses = wrong, LockedUntil = wait is { } time ? now + time : null });
            if (string.IsNullOrEmpty(guess) || guess.Length > Longest || _hasher.VerifyHashedPassword(access, hash, guess) == PasswordVerificationResult.Failed)
                return new Guess(false, wait);
            store.Change(each => each with { WrongGuesses = 0, LockedUntil = null });
            return new Guess(true, null);
        }
        finally
        {
            _guessing.Release();
        }
    }

    /// <summary>15 s after the fifth wrong guess, then twice as long after each.</summary>
    public static TimeSpan WaitAfter(int wrongGuesses)
    {
        var doublings = Math.Min(20, wrongGuesses - FreeGuesses);
        var wait = s_firstWait * Math.Pow(2, doublings);
        return wait < s_longestWait ? wait : s_longestWait;
    }

    /// <summary>Ends every sign-in on every device.</summary>
    public void SignOutEverywhere() => store.Change(access => access with { Stamp = Guid.NewGuid().ToString("N") });

    public void Dispose() => _guessing.Dispose();
}
