using System.Collections;
using System.Globalization;
using System.Reflection;
using System.Resources;
using System.Text.RegularExpressions;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Waters;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Web.Components.Layout;
using Rootwater.Web.Components.Plots;
using Rootwater.Web.Numbers;
using Rootwater.Web.Pages.Bench;
using Rootwater.Web.Pages.Cupboard;
using Rootwater.Web.Pages.Plant.Entries;
using Rootwater.Web.Texts;

namespace Rootwater.Web.Tests;

/// <summary>Every word a page shows comes from a resource file, and every word there is used.</summary>
public sealed partial class TextsTests
{
    // One to a line: two who add one each do not meet.
    public static TheoryData<Type> Words =>
    [
        typeof(ShellText),
        typeof(HomeText),
        typeof(MixingText),
        typeof(CupboardText),
        typeof(WaterText),
        typeof(BenchText),
        typeof(TermText),
        typeof(NetworkText), typeof(RoundText), typeof(AbsenceText),
        typeof(PlantText),
        typeof(FactsText),
        typeof(ForgetText),
        typeof(NewPlantText),
        typeof(ReadingText),
        typeof(LoggerText),
        typeof(YearText),
        typeof(SettingsText),
        typeof(ExchangeText),
        typeof(CansText),
        typeof(EvidenceText),
        typeof(TrialText),
        typeof(PensText),
    ];

    [Theory]
    [MemberData(nameof(Words))]
    public void Every_key_that_a_page_names_has_words_and_no_words_are_left_over(Type marker)
    {
        var words = new ResourceManager(marker.FullName!, marker.Assembly).GetResourceSet(CultureInfo.InvariantCulture, true, true)!
            .Cast<DictionaryEntry>().Select(entry => (string)entry.Key).ToHashSet();
        var named = Sources().Where(text => text.Contains($"IStringLocalizer<{marker.Name}>", StringComparison.Ordinal))
            .SelectMany(text => Quoted().Matches(text).Select(match => match.Groups[1].Value)).ToHashSet();
        var used = Asked(marker).Where(key => !words.Contains(key));
        used.ShouldBeEmpty("these keys show themselves instead of words");
        var made = Made().ToHashSet();
        words.Where(word => !named.Contains(word) && !made.Contains(word)).ShouldBeEmpty("nobody uses these words");
    }

    // Keys built from a prefix and the name of an enum's value or a line of the report form.
    private static IEnumerable<string> Made() => Names<ProductKind>("Kind").Concat(Names<Hazards>("Hazard")).Concat(Names<ProductEntryWay>("Way"))
        .Concat(Names<Nutrient>("Nutrient")).Concat(Names<CanState>("CanState")).Concat(Names<WaterOrigin>("Origin"))
        .Concat(Both().Select(line => "Value" + line))
        .Concat(PageList.First.Concat(PageList.Then).Concat(PageList.Last).Select(entry => entry.Word))
        .Concat(Names<SeasonMark>("Season")).Concat(Names<ForecastBy>("By"))
        .Concat(Names<BenchOrder>("Order")).Concat(Names<PlantState>("State")).Concat(Names<LeafSign>("Sign")).Concat(Names<LeafPart>("Part")).Concat(Names<LeafLoss>("Loss"))
        .Concat(Names<SpikeEnd>("End")).Concat(Names<Habit>("Habit")).Concat(Names<GrowthForm>("Form")).Concat(Names<Culture>("Culture")).Concat(Names<Propagation>("Raised"))
        .Concat(Names<QuarantineWait>("Wait")).Concat(Names<VirusTestMethod>("Method")).Concat(Names<VirusTestResult>("Result")).Concat(Names<Pouring>("Poured")).Concat(Names<ReadingOf>("Of")).Concat(Names<ReadingFrom>("From"))
        .Concat(Names<EntryKind>("Entry")).Concat(Names<YearMark>("Mark")).Concat(s_measured.Select(field => "Field" + field)).Concat(Names<WhenKnown>("Known")).Concat(WeeksPlot.Stack.Select(symbol => "Element" + symbol)).Concat(SheetWords())
        .Concat(Names<LivesOf>("Of")).Concat(Names<SeriesOf>("Series")).Concat(Names<Growing.Evidence.Verdicts.Strength>("Strength")).Concat(Names<TrialState>("State")).Concat(Names<TrialOutcome>("Outcome"))
        .Concat(new[] { "lives", "next", "drivers", "growth", "rates", "series", "sisters", "kinds" }.Select(ask => "Ask" + ask)).Concat(["Effecttimes", "Effectdays"])
        .Concat(Names<Growing.Mixing.Reconciliation.ErrorSourceKind>("Kind"))
        .Concat(["Fieldnameasreceived", "Fieldwildlocality"]);

    private static readonly string[] s_measured = [Measured.EcField, Measured.PHField, Measured.TemperatureField, Measured.HumidityField, Measured.LevelField, Measured.PpfdField, Measured.LuxField];

    // The sheets name their fields, hints and headings by key.
    private static IEnumerable<string> SheetWords() => Directory.EnumerateFiles(Path.Combine(Repository(), "src", "Rootwater.Web", "Pages", "Plant", "Entries"), "*.cs")
        .SelectMany(file => Quoted().Matches(File.ReadAllText(file)).Select(match => match.Groups[1].Value)).SelectMany(word => new[] { word, "Field" + word.Replace(" ", "", StringComparison.Ordinal) });

    private static IEnumerable<string> Both()
    {
        var entry = new Pages.Water.ReportEntry(new DateOnly(2026, 1, 1));
        var pen = entry.Lines.Select(line => line.Key).ToList();
        entry.Laboratory = true;
        return pen.Concat(entry.Lines.Select(line => line.Key));
    }

    private static IEnumerable<string> Names<T>(string prefix) where T : struct, Enum => Enum.GetNames<T>().Select(name => prefix + name);

    private static IEnumerable<string> Asked(Type marker) => Sources().Where(text => text.Contains($"IStringLocalizer<{marker.Name}> T", StringComparison.Ordinal))
        .SelectMany(text => Index().Matches(text).Select(match => match.Groups[1].Value));

    // A page's words are asked for in its .razor and in the .razor.cs beside it: both are one source.
    private static IEnumerable<string> Sources()
    {
        var web = Path.Combine(Repository(), "src", "Rootwater.Web");
        var files = Directory.EnumerateFiles(web, "*.*", SearchOption.AllDirectories)
            .Where(file => (file.EndsWith(".razor", StringComparison.Ordinal) || file.EndsWith(".cs", StringComparison.Ordinal)) && !file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal));
        return files.GroupBy(file => file.EndsWith(".razor.cs", StringComparison.Ordinal) ? file[..^3] : file)
            .Select(page => string.Join('\n', page.Select(File.ReadAllText)));
    }

    private static string Repository() => typeof(TextsTests).Assembly.GetCustomAttributes<AssemblyMetadataAttribute>().Single(pair => pair.Key == "Repository").Value!;

    [GeneratedRegex("\"([A-Za-z][A-Za-z0-9]*)\"")]
    private static partial Regex Quoted();

    [GeneratedRegex("T\\[\"([A-Za-z0-9]+)\"[\\],]")]
    private static partial Regex Index();
}
