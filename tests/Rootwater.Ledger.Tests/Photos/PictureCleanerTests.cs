using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using MetadataExtractor;
using MetadataExtractor.Formats.Exif;
using MetadataExtractor.Formats.Iptc;
using MetadataExtractor.Formats.Xmp;
using Rootwater.Ledger.Photos;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Metadata.Profiles.Exif;
using SixLabors.ImageSharp.PixelFormats;

namespace Rootwater.Ledger.Tests.Photos;

/// <summary>Whatever comes in, what is kept is a picture and nothing else.</summary>
public sealed class PictureCleanerTests
{
    [Theory]
    [InlineData("jpeg")]
    [InlineData("png")]
    [InlineData("webp")]
    public async Task A_picture_comes_out_as_a_jpeg_of_its_size_under_the_hash_of_its_content(string kind)
    {
        var clean = await CleanAsync(kind switch { "jpeg" => Pictures.Jpeg(), "png" => Pictures.Png(), _ => Pictures.Webp() });

        PictureSniffer.KindOf(clean.Jpeg).ShouldBe(PictureKind.Jpeg);
        PictureSniffer.IsCleanJpeg(clean.Jpeg).ShouldBeTrue();
        PictureSniffer.IsCleanJpeg(clean.Thumbnail).ShouldBeTrue();
        (clean.Width, clean.Height).ShouldBe((64, 32));
        clean.Sha256.ShouldBe(Convert.ToHexStringLower(SHA256.HashData(clean.Jpeg)));
    }

    // Read back by a library that had no part in writing it.
    [Fact]
    public async Task Where_and_with_what_it_was_taken_is_gone_and_when_is_kept()
    {
        var photo = Pictures.Jpeg(exif: Pictures.FromATelephone);
        Metadata(photo).OfType<GpsDirectory>().ShouldNotBeEmpty("the test's own picture must carry what is to be removed");

        var clean = await CleanAsync(photo);

        clean.TakenAt.ShouldBe(new DateTime(2024, 5, 6, 7, 8, 9));
        foreach (var kept in new[] { clean.Jpeg, clean.Thumbnail })
        {
            var metadata = Metadata(kept);
            metadata.OfType<GpsDirectory>().ShouldBeEmpty();
            metadata.OfType<ExifDirectoryBase>().ShouldBeEmpty();
            metadata.OfType<XmpDirectory>().ShouldBeEmpty();
            metadata.OfType<IptcDirectory>().ShouldBeEmpty();
            Encoding.Latin1.GetString(kept).ShouldNotContain("INVENTED");
        }
    }

    // Exif 2.32, 4.6.4: orientation 6 is shown turned a quarter clockwise: what was left (red) is then on top.
    [Fact]
    public async Task A_picture_taken_sideways_stands_upright()
    {
        var clean = await CleanAsync(Pictures.Jpeg(64, 32, exif => exif.SetValue(ExifTag.Orientation, (ushort)6)));

        (clean.Width, clean.Height).ShouldBe((32, 64));
        using var image = Image.Load<Rgb24>(clean.Jpeg);
        (image[16, 8].R > 150 && image[16, 8].B < 100).ShouldBeTrue();
        (image[16, 56].B > 150 && image[16, 56].R < 100).ShouldBeTrue();
    }

    [Fact]
    public async Task A_large_picture_is_kept_smaller_and_its_thumbnail_small()
    {
        var clean = await CleanAsync(Pictures.Jpeg(800, 400), new PictureLimits { KeptSide = 400, ThumbnailSide = 50 });

        (clean.Width, clean.Height).ShouldBe((400, 200));
        Image.Identify(clean.Thumbnail).Width.ShouldBe(50);
    }

    [Fact]
    public async Task What_hides_behind_a_picture_is_not_carried_over()
    {
        using var zip = new MemoryStream();
        using (var archive = new ZipArchive(zip, ZipArchiveMode.Create, leaveOpen: true))
        {
            using var entry = new StreamWriter(archive.CreateEntry("run.sh").Open());
            entry.Write("#!/bin/sh");
        }

        var clean = await CleanAsync([.. Pictures.Jpeg(), .. "<script>alert(1)</script>"u8, .. zip.ToArray()]);

        PictureSniffer.IsCleanJpeg(clean.Jpeg).ShouldBeTrue();
        Encoding.Latin1.GetString(clean.Jpeg).ShouldNotContain("script");
        Encoding.Latin1.GetString(clean.Jpeg).ShouldNotContain("PK\u0003\u0004");
    }

    [Theory]
    [InlineData("<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>")]
    [InlineData("<!doctype html><script>alert(1)</script>")]
    [InlineData("GIF89a............")]
    [InlineData("MZ..............")]
    [InlineData("")]
    public async Task A_file_that_is_no_picture_is_refused_whatever_it_is_called(string content) =>
        (await RefusedAsync(Encoding.ASCII.GetBytes(content))).ShouldContain("JPEG, PNG or WebP");

    [Fact]
    public async Task A_telephones_own_format_is_refused_with_the_way_out() =>
        (await RefusedAsync([0, 0, 0, 24, .. "ftypheic0000mif1heic"u8])).ShouldContain("most compatible");

    [Fact]
    public async Task A_torn_picture_is_refused_not_filled_with_grey()
    {
        (await RefusedAsync(Pictures.Jpeg(400, 400)[..^300])).ShouldContain("end");
        (await RefusedAsync(Pictures.Png(400, 400)[..^20])).ShouldContain("end");
        (await RefusedAsync(Pictures.Webp(400, 400)[..^20])).ShouldContain("end");
    }

    [Theory]
    [InlineData(30_000, 10)]
    [InlineData(15_000, 15_000)]
    [InlineData(0, 4)]
    public async Task Dimensions_that_would_burst_are_refused_before_anything_is_unpacked(int width, int height) =>
        (await RefusedAsync(Pictures.PngThatPromises(width, height))).ShouldMatch("pixels|size|broken");

    [Fact]
    public async Task A_file_that_does_not_end_is_left_off_at_the_limit()
    {
        using var endless = new MemoryStream([.. Pictures.Jpeg(), .. new byte[3 << 20]]);
        (await Should.ThrowAsync<EntryException>(() => PictureCleaner.CleanAsync(endless, new PictureLimits { Bytes = 1 << 20 }, TestContext.Current.CancellationToken)))
            .Message.ShouldContain("at most 1 MiB");
    }

    [Fact]
    public async Task Any_bytes_after_a_pictures_head_are_a_picture_or_a_refusal()
    {
        var random = new Random(20260314);
        var whole = Pictures.Jpeg(48, 48);
        var (kept, refused) = (0, 0);
        for (var i = 0; i < 150; i++)
        {
            var hurt = (byte[])whole.Clone();
            for (var j = 0; j < 6; j++)
            {
                hurt[random.Next(4, hurt.Length - 2)] = (byte)random.Next(256);
            }

            try
            {
                PictureSniffer.IsCleanJpeg((await CleanAsync(hurt)).Jpeg).ShouldBeTrue();
                kept++;
            }
            catch (EntryException)
            {
                refused++;
            }
        }

        refused.ShouldBeGreaterThan(10);
        kept.ShouldBeGreaterThan(10);
    }

    [Fact]
    public void A_jpeg_with_more_than_a_picture_in_it_does_not_count_as_clean()
    {
        PictureSniffer.IsCleanJpeg(Pictures.Jpeg()).ShouldBeTrue();
        PictureSniffer.IsCleanJpeg(Pictures.Jpeg(exif: Pictures.FromATelephone)).ShouldBeFalse();
        PictureSniffer.IsCleanJpeg([.. Pictures.Jpeg(), .. "<script>"u8]).ShouldBeFalse();
        PictureSniffer.IsCleanJpeg([.. Pictures.Jpeg(), .. "<script>"u8, 0xFF, 0xD9]).ShouldBeFalse();
        PictureSniffer.IsCleanJpeg([0xFF, 0xD8, 0xFF, 0xFE, 0, 6, .. "evil"u8, .. Pictures.Jpeg()[2..]]).ShouldBeFalse();
    }

    private static IReadOnlyList<MetadataExtractor.Directory> Metadata(byte[] picture) => ImageMetadataReader.ReadMetadata(new MemoryStream(picture));

    private static Task<CleanPicture> CleanAsync(byte[] bytes, PictureLimits? limits = null) =>
        PictureCleaner.CleanAsync(new MemoryStream(bytes), limits, TestContext.Current.CancellationToken);

    private static async Task<string> RefusedAsync(byte[] bytes) => (await Should.ThrowAsync<EntryException>(() => CleanAsync(bytes))).Message;
}
