using System.Net;
using System.Security.Cryptography.X509Certificates;
using Microsoft.Extensions.Time.Testing;
using Rootwater.Web.Network;

namespace Rootwater.Web.Tests.Network;

/// <summary>The certificates as another program would judge them: the chain is built by the platform, with this authority as its only root.</summary>
public sealed class LocalAuthorityTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("rootwater-authority-");
    private readonly FakeTimeProvider _clock = new(DateTimeOffset.UtcNow);
    private readonly LocalAuthority _authority;

    public LocalAuthorityTests() => _authority = Make();

    private LocalAuthority Make() => new(new AccessStore(_folder.FullName), _clock);

    private X509Certificate2 Server() => X509CertificateLoader.LoadCertificateFromFile(_authority.ServerCertificateFile);

    private (bool Good, string Said) Judge(X509Certificate2 server)
    {
        using var chain = new X509Chain();
        chain.ChainPolicy.TrustMode = X509ChainTrustMode.CustomRootTrust;
        chain.ChainPolicy.CustomTrustStore.Add(X509CertificateLoader.LoadCertificate(_authority.Certificate!));
        chain.ChainPolicy.RevocationMode = X509RevocationMode.NoCheck;
        chain.ChainPolicy.ApplicationPolicy.Add(new("1.3.6.1.5.5.7.3.1"));
        chain.ChainPolicy.VerificationTime = _clock.GetUtcNow().LocalDateTime;
        var good = chain.Build(server);
        return (good, string.Join(' ', chain.ChainStatus.Select(status => status.Status)));
    }

    [Fact]
    public void A_device_that_trusts_the_authority_trusts_the_server_under_its_names_alone()
    {
        _authority.Prepare(["leanto.home.arpa", "localhost"], [IPAddress.Parse("192.168.1.20"), IPAddress.Parse("fd00::20")]).ShouldBeTrue();
        using var server = Server();
        var (good, said) = Judge(server);
        good.ShouldBeTrue(said);
        server.MatchesHostname("leanto.home.arpa").ShouldBeTrue();
        server.MatchesHostname("192.168.1.20").ShouldBeTrue();
        server.MatchesHostname("example.org").ShouldBeFalse();
        (server.NotAfter - server.NotBefore).TotalDays.ShouldBeLessThanOrEqualTo(398, "browsers refuse longer ones");
    }

    [Fact]
    public void Even_with_its_key_no_certificate_for_a_site_in_the_world_can_be_made()
    {
        _authority.Prepare(["leanto.home.arpa"], []);
        using var authority = X509Certificate2.CreateFromPemFile(Path.Combine(_folder.FullName, "authority.crt"), Path.Combine(_folder.FullName, "authority.key"));
        using var key = System.Security.Cryptography.ECDsa.Create();
        var request = new CertificateRequest("CN=example.org", key, System.Security.Cryptography.HashAlgorithmName.SHA256);
        var names = new SubjectAlternativeNameBuilder();
        names.AddDnsName("example.org");
        request.CertificateExtensions.Add(names.Build());
        using var forged = request.Create(authority, DateTimeOffset.UtcNow.AddDays(-1), DateTimeOffset.UtcNow.AddDays(30), [1, 2, 3, 4]);
        var (good, said) = Judge(forged);
        good.ShouldBeFalse();
        said.ShouldContain("NotPermittedNameConstraint");
    }

    [Fact]
    public void Public_addresses_get_no_certificate()
    {
        _authority.Prepare(["localhost"], [IPAddress.Parse("203.0.113.7"), IPAddress.Parse("10.0.0.7")]);
        using var server = Server();
        server.Extensions.OfType<X509SubjectAlternativeNameExtension>().Single().EnumerateIPAddresses().ShouldBe([IPAddress.Parse("10.0.0.7")]);
    }

    [Fact]
    public void The_authority_stays_while_names_change_and_the_server_is_renewed_before_its_end()
    {
        _authority.Prepare(["leanto.home.arpa"], []);
        var trusted = _authority.Fingerprint;
        var first = Server().SerialNumber;
        Make().Prepare(["leanto.home.arpa"], []).ShouldBeFalse();
        Server().SerialNumber.ShouldBe(first, "what fits is left as it is");
        Make().Prepare(["leanto.home.arpa", "porch.lan"], []).ShouldBeFalse();
        Server().SerialNumber.ShouldNotBe(first);
        var second = Server().SerialNumber;
        _clock.Advance(TimeSpan.FromDays(380));
        Make().Prepare(["leanto.home.arpa", "porch.lan"], []).ShouldBeFalse();
        Server().SerialNumber.ShouldNotBe(second);
        Judge(Server()).Good.ShouldBeTrue();
        _authority.Fingerprint.ShouldBe(trusted, "the phone need not be told anew");
    }

    [Fact]
    public void A_name_beyond_the_first_authoritys_limits_takes_a_new_one()
    {
        _authority.Prepare(["leanto.home.arpa"], []);
        _authority.Prepare(["bench.example"], []).ShouldBeTrue();
        using var server = Server();
        Judge(server).Good.ShouldBeTrue();
    }

    [Fact]
    public void Keys_are_the_owners_alone()
    {
        _authority.Prepare(["leanto.home.arpa"], []);
        if (!OperatingSystem.IsWindows())
            _folder.EnumerateFiles().Select(file => file.UnixFileMode).ShouldAllBe(mode => mode == (UnixFileMode.UserRead | UnixFileMode.UserWrite));
    }

    public void Dispose() => _folder.Delete(recursive: true);
}
