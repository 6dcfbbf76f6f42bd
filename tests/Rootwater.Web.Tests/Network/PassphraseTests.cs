using Microsoft.Extensions.Time.Testing;
using Rootwater.Web.Network;

namespace Rootwater.Web.Tests.Network;

public sealed class PassphraseTests : IDisposable
{
    private const string Right = "four wet roots walking";

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("rootwater-access-");
    private readonly FakeTimeProvider _clock = new(new DateTimeOffset(2026, 3, 14, 8, 0, 0, TimeSpan.Zero));
    private readonly AccessStore _store;
    private readonly Passphrase _secret;

    public PassphraseTests()
    {
        _store = new AccessStore(Path.Combine(_folder.FullName, "bench.access"));
        _secret = new Passphrase(_store, _clock);
        _secret.Set(Right);
    }

    private async Task<Guess> GuessAsync(string? guess) => await _secret.TryAsync(guess, TestContext.Current.CancellationToken);

    [Fact]
    public async Task The_right_one_lets_in_and_no_other_does()
    {
        (await GuessAsync(Right)).Right.ShouldBeTrue();
        (await GuessAsync(Right + " ")).Right.ShouldBeFalse();
        (await GuessAsync("")).Right.ShouldBeFalse();
        (await GuessAsync(null)).Right.ShouldBeFalse();
        (await GuessAsync(new string('a', 100_000))).Right.ShouldBeFalse();
    }

    [Fact]
    public async Task What_is_kept_is_a_hash_that_only_the_owner_may_read()
    {
        await GuessAsync(Right);
        var file = Path.Combine(_store.Folder, "access.json");
        (await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken)).ShouldNotContain("roots");
        if (!OperatingSystem.IsWindows())
        {
            File.GetUnixFileMode(file).ShouldBe(UnixFileMode.UserRead | UnixFileMode.UserWrite);
            File.GetUnixFileMode(_store.Folder).ShouldBe(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        }
    }

    [Fact]
    public async Task After_five_wrong_guesses_each_further_one_waits_twice_as_long_and_the_right_one_waits_too()
    {
        for (var i = 0; i < 4; i++)
            (await GuessAsync("wrong")).Wait.ShouldBeNull();
        (await GuessAsync("wrong")).Wait.ShouldBe(TimeSpan.FromSeconds(15));
        var refused = await GuessAsync(Right);
        refused.Right.ShouldBeFalse();
        refused.Wait.ShouldBe(TimeSpan.FromSeconds(15));
        _clock.Advance(TimeSpan.FromSeconds(16));
        (await GuessAsync("wrong")).Wait.ShouldBe(TimeSpan.FromSeconds(30));
        _clock.Advance(TimeSpan.FromSeconds(31));
        (await GuessAsync(Right)).Right.ShouldBeTrue();
        (await GuessAsync("wrong")).Wait.ShouldBeNull("the count starts anew after the right one");
    }

    [Fact]
    public async Task Guesses_made_all_at_once_are_counted_one_by_one()
    {
        var guesses = await Task.WhenAll(Enumerable.Range(0, 12).Select(_ => Task.Run(() => GuessAsync("wrong"))));
        guesses.Count(guess => guess.Wait is not null).ShouldBe(8, "the fifth locks, and all after it");
        _store.Now.WrongGuesses.ShouldBe(5);
    }

    [Theory]
    [InlineData(5, 15)]
    [InlineData(6, 30)]
    [InlineData(10, 480)]
    [InlineData(13, 3600)]
    [InlineData(1000, 3600)]
    public void The_wait_grows_to_an_hour(int wrong, int seconds) => Passphrase.WaitAfter(wrong).ShouldBe(TimeSpan.FromSeconds(seconds));

    [Fact]
    public async Task The_count_outlives_a_restart()
    {
        for (var i = 0; i < 5; i++)
            await GuessAsync("wrong");
        using var again = new Passphrase(new AccessStore(_store.Folder), _clock);
        (await again.TryAsync(Right, TestContext.Current.CancellationToken)).Right.ShouldBeFalse();
    }

    [Theory]
    [InlineData("short", "short", "WrongShort")]
    [InlineData("            ", "            ", "WrongShort")]
    [InlineData("four wet roots", "four wet root", "WrongAgain")]
    [InlineData("four wet roots", "four wet roots", null)]
    public void A_new_one_must_be_long_enough_and_typed_twice(string first, string again, string? wrong) => Passphrase.Refuse(first, again).ShouldBe(wrong);

    [Fact]
    public void A_file_that_cannot_be_read_opens_nothing()
    {
        File.WriteAllText(Path.Combine(_store.Folder, "access.json"), "{ half");
        Should.Throw<Rootwater.Ledger.LedgerProblem>(() => _store.Now).Message.ShouldContain("Delete it to switch the home network off");
    }

    public void Dispose()
    {
        _secret.Dispose();
        _folder.Delete(recursive: true);
    }
}
