using System.Diagnostics;
using Xunit;

namespace TrimAssist.Service.Tests.Journal;

/// <summary>A real file system of one megabyte in memory, which can be filled up and made read-only. Needs Linux and root.</summary>
internal sealed class SmallDisk : IDisposable
{
    private SmallDisk(string path) => Path = path;

    public string Path { get; }

    public static SmallDisk Mount(string path)
    {
        Directory.CreateDirectory(path);
        Assert.SkipUnless(
            OperatingSystem.IsLinux() && Run("mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", path), "needs Linux and the right to mount a small disk");
        return new SmallDisk(path);
    }

    public void Remount(bool readOnly) => Assert.True(Run("mount", "-o", readOnly ? "remount,ro" : "remount,rw", Path));

    /// <summary>Writes into a file until nothing more fits.</summary>
    public void Fill(string name)
    {
        try
        {
            using var file = new FileStream(System.IO.Path.Combine(Path, name), FileMode.Create, FileAccess.Write, FileShare.None, bufferSize: 0);
            while (true)
                file.Write(new byte[4096]);
        }
        catch (IOException)
        {
            // Full, as wanted.
        }
    }

    public void Dispose() => Run("umount", "--lazy", Path);

    private static bool Run(string program, params string[] arguments)
    {
        using var process = Process.Start(new ProcessStartInfo(program, arguments) { UseShellExecute = false, RedirectStandardError = true })!;
        process.WaitForExit();
        return process.ExitCode == 0;
    }
}
