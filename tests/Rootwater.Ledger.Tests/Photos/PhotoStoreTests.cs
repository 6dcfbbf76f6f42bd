using Rootwater.Ledger.Photos;

namespace Rootwater.Ledger.Tests.Photos;

/// <summary>Pictures under their hash.</summary>
public sealed class PhotoStoreTests : IDisposable
{
    private readonly DirectoryInfo _folder = System.IO.Directory.CreateTempSubdirectory("rootwater-photos-");

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_picture_is_kept_once_and_found_under_its_hash()
    {
        var store = new PhotoStore(_folder.FullName);
        var picture = await PictureCleaner.CleanAsync(new MemoryStream(Pictures.Jpeg()), cancel: Cancel);
        await store.KeepAsync(picture, Cancel);
        await store.KeepAsync(picture, Cancel);

        store.All().ShouldBe([picture.Sha256]);
        (await store.IsSoundAsync(picture.Sha256, Cancel)).ShouldBeTrue();
        await using var opened = await store.OpenAsync(picture.Sha256, thumbnail: false, Cancel);
        opened!.Length.ShouldBe(picture.Jpeg.Length);
        _folder.EnumerateFiles("*.part", SearchOption.AllDirectories).ShouldBeEmpty();
    }

    [Fact]
    public async Task A_thumbnail_that_is_not_there_is_drawn_again()
    {
        var store = new PhotoStore(_folder.FullName);
        var picture = await PictureCleaner.CleanAsync(new MemoryStream(Pictures.Jpeg(800, 400)), cancel: Cancel);
        await store.KeepCleanAsync(picture.Sha256, picture.Jpeg, Cancel);

        await using var small = await store.OpenAsync(picture.Sha256, thumbnail: true, Cancel);
        SixLabors.ImageSharp.Image.Identify(small).Width.ShouldBe(360);
    }

    [Fact]
    public async Task A_picture_that_was_changed_on_the_disk_is_noticed()
    {
        var store = new PhotoStore(_folder.FullName);
        var picture = await PictureCleaner.CleanAsync(new MemoryStream(Pictures.Jpeg()), cancel: Cancel);
        await store.KeepAsync(picture, Cancel);
        await File.AppendAllTextAsync(store.PathOf(picture.Sha256, thumbnail: false), "x", Cancel);

        (await store.IsSoundAsync(picture.Sha256, Cancel)).ShouldBeFalse();
    }

    [Fact]
    public async Task Removing_takes_a_picture_with_its_thumbnail_and_minds_nothing_that_is_gone()
    {
        var store = new PhotoStore(_folder.FullName);
        var picture = await PictureCleaner.CleanAsync(new MemoryStream(Pictures.Jpeg()), cancel: Cancel);
        await store.KeepAsync(picture, Cancel);
        store.Remove(picture.Sha256);
        store.Remove(picture.Sha256);
        store.Remove(new string('c', 64));
        store.All().ShouldBeEmpty();
        _folder.EnumerateFiles("*", SearchOption.AllDirectories).ShouldBeEmpty();
    }

    [Theory]
    [InlineData("../../etc/passwd")]
    [InlineData("")]
    [InlineData("ABCDEF")]
    public void A_name_that_is_no_hash_never_becomes_a_path(string name) => Should.Throw<ArgumentException>(() => new PhotoStore(_folder.FullName).PathOf(name, thumbnail: false));

    public void Dispose() => _folder.Delete(recursive: true);
}
