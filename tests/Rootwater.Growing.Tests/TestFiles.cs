namespace Rootwater.Growing.Tests;

/// <summary>Input files that stand beside a test, named &lt;TestClass&gt;.&lt;Case&gt;.txt.</summary>
internal static class TestFiles
{
    public static string Read(string room, string testClass, string name) =>
        File.ReadAllText(Path.Combine(AppContext.BaseDirectory, room, $"{testClass}.{name}.txt"));
}
