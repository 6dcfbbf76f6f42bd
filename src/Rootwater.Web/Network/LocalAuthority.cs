using System.Formats.Asn1;
using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text;

namespace Rootwater.Web.Network;

/// <summary>
/// A certificate authority of this bench alone, and the server's certificate made by it. A phone that trusts the authority trusts this server;
/// the authority's own certificate limits it to names and addresses of a home network (name constraints, RFC 5280 section 4.2.1.10), so that
/// even a stolen key cannot pass for a site out in the world.
/// </summary>
public sealed class LocalAuthority(AccessStore store, TimeProvider clock)
{
    /// <summary>Endings of names that never lead out into the world: RFC 6762 (local), RFC 8375 (home.arpa), and those home routers use.</summary>
    private static readonly string[] s_homeEndings = ["local", "home.arpa", "lan", "home", "internal", "localhost"];

    // RFC 1918, RFC 3927, RFC 4193, RFC 4291.
    private static readonly (string Network, int Bits)[] s_homeNetworks =
        [("10.0.0.0", 8), ("172.16.0.0", 12), ("192.168.0.0", 16), ("169.254.0.0", 16), ("127.0.0.0", 8), ("fc00::", 7), ("fe80::", 10), ("::1", 128)];

    private static readonly TimeSpan s_authorityLasts = TimeSpan.FromDays(3650), s_serverLasts = TimeSpan.FromDays(397), s_renewBefore = TimeSpan.FromDays(30);

    public string ServerCertificateFile => Path.Combine(store.Folder, "server.crt");
    public string ServerKeyFile => Path.Combine(store.Folder, "server.key");
    private string AuthorityFile => Path.Combine(store.Folder, "authority.crt");
    private string AuthorityKeyFile => Path.Combine(store.Folder, "authority.key");

    /// <summary>The authority's certificate for the phone, DER; null until the network was first switched on.</summary>
    public byte[]? Certificate => File.Exists(AuthorityFile) ? X509CertificateLoader.LoadCertificateFromFile(AuthorityFile).RawData : null;

    /// <summary>SHA-256 of that certificate, in pairs, to compare by eye.</summary>
    public string? Fingerprint => Certificate is { } der ? string.Join(' ', Convert.ToHexString(SHA256.HashData(der)).Chunk(4).Select(four => new string(four))) : null;

    /// <summary>Makes what is missing, near its end, or no longer for these names. The authority stays as long as it may sign for them, so that the phone need not be told anew.</summary>
    /// <returns>True when the authority is new and every phone has to trust it.</returns>
    public bool Prepare(IReadOnlyCollection<string> names, IReadOnlyCollection<IPAddress> addresses)
    {
        OwnersFile.Folder(store.Folder);
        var now = clock.GetUtcNow();
        var made = false;
        var authority = LoadAuthority();
        if (authority is null || authority.NotAfter - s_serverLasts < now || !names.All(name => Covers(authority, name)))
        {
            authority?.Dispose();
            authority = MakeAuthority(names, now);
            made = true;
        }

        using (authority)
        {
            if (made || !ServerCertificateFits(names, addresses, now))
                MakeServer(authority, names, addresses, now);
        }

        return made;
    }

    /// <summary>Whether an address belongs to a home network; others get no certificate.</summary>
    public static bool IsHome(IPAddress address) => s_homeNetworks.Any(home => new IPNetwork(IPAddress.Parse(home.Network), home.Bits).Contains(address));

    private X509Certificate2? LoadAuthority() => File.Exists(AuthorityFile) && File.Exists(AuthorityKeyFile) ? X509Certificate2.CreateFromPemFile(AuthorityFile, AuthorityKeyFile) : null;

    private X509Certificate2 MakeAuthority(IReadOnlyCollection<string> names, DateTimeOffset now)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest(Named($"Rootwater on {Environment.MachineName}, made {now:yyyy-MM-dd}"), key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, true, 0, true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.KeyCertSign | X509KeyUsageFlags.CrlSign, true));
        request.CertificateExtensions.Add(new X509SubjectKeyIdentifierExtension(request.PublicKey, false));
        request.CertificateExtensions.Add(new X509Extension("2.5.29.30", NameConstraints(names), critical: true));
        using var self = request.CreateSelfSigned(now.AddDays(-1), now + s_authorityLasts);
        OwnersFile.Write(AuthorityKeyFile, Encoding.ASCII.GetBytes(key.ExportPkcs8PrivateKeyPem()));
        OwnersFile.Write(AuthorityFile, Encoding.ASCII.GetBytes(self.ExportCertificatePem()));
        return X509Certificate2.CreateFromPemFile(AuthorityFile, AuthorityKeyFile);
    }

    private void MakeServer(X509Certificate2 authority, IReadOnlyCollection<string> names, IReadOnlyCollection<IPAddress> addresses, DateTimeOffset now)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest(Named(names.First()), key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(false, false, 0, true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.DigitalSignature, true));
        request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension([new Oid("1.3.6.1.5.5.7.3.1")], false));
        request.CertificateExtensions.Add(X509AuthorityKeyIdentifierExtension.CreateFromCertificate(authority, true, false));
        var alternatives = new SubjectAlternativeNameBuilder();
        foreach (var name in names)
            alternatives.AddDnsName(name);
        foreach (var address in addresses.Where(IsHome))
            alternatives.AddIpAddress(address);
        request.CertificateExtensions.Add(alternatives.Build());
        var serial = RandomNumberGenerator.GetBytes(16);
        serial[0] &= 0x7f;
        using var made = request.Create(authority, now.AddDays(-1), now + s_serverLasts, serial);
        OwnersFile.Write(ServerKeyFile, Encoding.ASCII.GetBytes(key.ExportPkcs8PrivateKeyPem()));
        OwnersFile.Write(ServerCertificateFile, Encoding.ASCII.GetBytes(made.ExportCertificatePem() + "\n" + authority.ExportCertificatePem() + "\n"));
    }

    private static X500DistinguishedName Named(string name)
    {
        var builder = new X500DistinguishedNameBuilder();
        builder.AddCommonName(name.Length > 64 ? name[..64] : name); // RFC 5280: at most 64 characters.
        return builder.Build();
    }

    private bool ServerCertificateFits(IReadOnlyCollection<string> names, IReadOnlyCollection<IPAddress> addresses, DateTimeOffset now)
    {
        if (!File.Exists(ServerCertificateFile) || !File.Exists(ServerKeyFile))
            return false;
        using var server = X509CertificateLoader.LoadCertificateFromFile(ServerCertificateFile);
        var alternatives = server.Extensions.OfType<X509SubjectAlternativeNameExtension>().FirstOrDefault();
        return server.NotAfter - s_renewBefore > now && alternatives is not null
            && names.All(name => alternatives.EnumerateDnsNames().Contains(name, StringComparer.OrdinalIgnoreCase))
            && addresses.Where(IsHome).All(address => alternatives.EnumerateIPAddresses().Contains(address));
    }

    private static bool Covers(X509Certificate2 authority, string name)
    {
        var raw = authority.Extensions["2.5.29.30"]?.RawData;
        return raw is not null && PermittedNames(raw).Any(ending => name.Equals(ending, StringComparison.OrdinalIgnoreCase) || name.EndsWith("." + ending, StringComparison.OrdinalIgnoreCase));
    }

    // NameConstraints ::= SEQUENCE { permittedSubtrees [0] GeneralSubtrees }; GeneralSubtree ::= SEQUENCE { base GeneralName }
    // GeneralName: dNSName [2] IA5String, iPAddress [7] OCTET STRING (address and mask).
    private static byte[] NameConstraints(IEnumerable<string> names)
    {
        var writer = new AsnWriter(AsnEncodingRules.DER);
        using (writer.PushSequence())
        using (writer.PushSequence(new Asn1Tag(TagClass.ContextSpecific, 0)))
        {
            foreach (var name in s_homeEndings.Concat(names.Where(name => !s_homeEndings.Any(ending => name.EndsWith("." + ending, StringComparison.OrdinalIgnoreCase) || name == ending))).Distinct())
            {
                using (writer.PushSequence())
                    writer.WriteCharacterString(UniversalTagNumber.IA5String, name, new Asn1Tag(TagClass.ContextSpecific, 2));
            }

            foreach (var (network, bits) in s_homeNetworks)
            {
                var address = IPAddress.Parse(network).GetAddressBytes();
                var mask = new byte[address.Length];
                for (var bit = 0; bit < bits; bit++)
                    mask[bit / 8] |= (byte)(0x80 >> (bit % 8));
                using (writer.PushSequence())
                    writer.WriteOctetString([.. address, .. mask], new Asn1Tag(TagClass.ContextSpecific, 7));
            }
        }

        return writer.Encode();
    }

    private static List<string> PermittedNames(byte[] raw)
    {
        var names = new List<string>();
        var permitted = new AsnReader(raw, AsnEncodingRules.DER).ReadSequence().ReadSequence(new Asn1Tag(TagClass.ContextSpecific, 0));
        while (permitted.HasData)
        {
            var subtree = permitted.ReadSequence();
            if (subtree.PeekTag().HasSameClassAndValue(new Asn1Tag(TagClass.ContextSpecific, 2)))
                names.Add(subtree.ReadCharacterString(UniversalTagNumber.IA5String, new Asn1Tag(TagClass.ContextSpecific, 2)));
        }

        return names;
    }
}
