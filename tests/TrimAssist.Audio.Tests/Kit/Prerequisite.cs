namespace TrimAssist.Audio.Tests.Kit;

/// <summary>What a test needs from the machine: missing, the test is skipped with the reason, but on a build server it fails.</summary>
internal static class Prerequisite
{
    public static void Need(bool present, string reason)
    {
        if (present)
            return;
        if (string.Equals(Environment.GetEnvironmentVariable("CI"), "true", StringComparison.OrdinalIgnoreCase))
            Assert.Fail(reason);
        Assert.Skip(reason);
    }
}
