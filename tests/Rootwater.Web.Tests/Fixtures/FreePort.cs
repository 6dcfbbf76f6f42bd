using System.Net;
using System.Net.Sockets;

namespace Rootwater.Web.Tests.Fixtures;

/// <summary>
/// A port for a server that must know its own before it listens. Below those the machine itself hands out (from 32768 on Linux): a port asked of the machine and given back may be another suite's a moment later.
/// </summary>
internal static class FreePort
{
    private const int Lowest = 20_000, End = 32_000;

    public static int Take()
    {
        while (true)
        {
            var port = Random.Shared.Next(Lowest, End);
            try
            {
                using var probe = new TcpListener(IPAddress.Any, port);
                probe.Start();
                return port;
            }
            catch (SocketException)
            {
                // Somebody else's; another one.
            }
        }
    }
}
