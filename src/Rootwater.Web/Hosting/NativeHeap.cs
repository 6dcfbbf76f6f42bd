using System.Runtime.InteropServices;

namespace Rootwater.Web.Hosting;

/// <summary>
/// The C library's heap, which SQLite, Brotli and the compiler of methods use. Left to itself glibc learns from the first large buffer given back to keep all that follow inside its heaps,
/// which never shrink again where something small lies behind: 60 MiB of holes after a few large pages.
/// </summary>
internal static class NativeHeap
{
    // mallopt(3).
    private const int TrimThreshold = -1, MmapThreshold = -3, ThresholdBytes = 128 << 10;

    /// <summary>Large buffers are asked of the machine one by one, and go back to it, for good. Early, before there are any. Nothing happens with another C library than glibc.</summary>
    public static void KeepSmall() => Ask(() => mallopt(MmapThreshold, ThresholdBytes), () => mallopt(TrimThreshold, ThresholdBytes));

    /// <summary>Gives free pages back to the machine.</summary>
    public static void Trim() => Ask(() => malloc_trim(0));

    private static void Ask(params ReadOnlySpan<Func<int>> calls)
    {
        if (!OperatingSystem.IsLinux())
        {
            return;
        }

        try
        {
            foreach (var call in calls)
            {
                call();
            }
        }
        catch (Exception absent) when (absent is EntryPointNotFoundException or DllNotFoundException)
        {
            // Another C library manages itself.
        }
    }

#pragma warning disable SYSLIB1054, IDE1006 // Integers in and out need no generated code, which would need unsafe blocks allowed; the names are the library's.
    [DllImport("libc"), DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int mallopt(int parameter, int value);

    [DllImport("libc"), DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int malloc_trim(nuint pad);
#pragma warning restore SYSLIB1054, IDE1006
}
