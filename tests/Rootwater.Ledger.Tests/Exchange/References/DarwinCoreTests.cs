using System.IO.Compression;
using System.Text;
using System.Xml.Linq;
using CsvHelper;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Exchange.DarwinCore;

namespace Rootwater.Ledger.Tests.Exchange.References;

/// <summary>Darwin Core against its own list of terms, the Text Guide's meta.xml and ISO 8601.</summary>
public sealed class DarwinCoreTests
{
    // TDWG, Darwin Core, dist/simple_dwc_vertical.csv (CC BY 4.0), those used here; causeOfDeath, vitality, cultivarEpithet and degreeOfEstablishment from the
    // list of terms at https://dwc.tdwg.org/list/ (release of 2023-09), since the copy of the list at hand is older than they are.
    private static readonly string[] s_terms =
    [
        "occurrenceID", "basisOfRecord", "occurrenceStatus", "organismID", "catalogNumber", "individualCount", "eventDate", "scientificName", "genus", "specificEpithet", "infraspecificEpithet", "taxonRank",
        "nomenclaturalCode", "identificationQualifier", "dateIdentified", "identificationRemarks", "previousIdentifications", "kingdom", "family", "lifeStage", "reproductiveCondition", "disposition",
        "associatedOrganisms", "occurrenceRemarks", "cultivarEpithet", "vitality", "causeOfDeath", "degreeOfEstablishment",
    ];

    [Fact]
    public async Task Every_column_is_a_term_of_the_standard() => (await HeadingsAsync()).ShouldAllBe(heading => s_terms.Contains(heading));

    // Darwin Core Text Guide, section 2 and 3: archive/core/files/location, id, field with index and term.
    [Fact]
    public async Task The_meta_file_names_every_column_by_its_term_in_order()
    {
        using var stream = new MemoryStream();
        (await DarwinCoreArchive.WriteAsync(stream, Only(Lives.Full))).ShouldBe(2);
        using var zip = new ZipArchive(stream);
        using var meta = zip.GetEntry("meta.xml")!.Open();
        XNamespace text = "http://rs.tdwg.org/dwc/text/";
        var core = XDocument.Load(meta).Root!.Element(text + "core")!;
        core.Attribute("rowType")!.Value.ShouldBe("http://rs.tdwg.org/dwc/terms/Occurrence");
        core.Element(text + "files")!.Element(text + "location")!.Value.ShouldBe("occurrence.csv");
        core.Element(text + "id")!.Attribute("index")!.Value.ShouldBe("0");
        core.Elements(text + "field").OrderBy(field => (int)field.Attribute("index")!).Select(field => field.Attribute("term")!.Value)
            .ShouldBe((await HeadingsAsync()).Select(heading => "http://rs.tdwg.org/dwc/terms/" + heading));
    }

    [Fact]
    public async Task A_plant_and_its_bloom_are_living_specimens_of_one_organism()
    {
        var records = await RecordsAsync(Lives.Full);
        records.Select(record => record["basisOfRecord"]).Distinct().ShouldBe(["LivingSpecimen"]);
        records.Select(record => record["organismID"]).Distinct().ShouldBe(["urn:uuid:01900000-0000-7000-8000-000000000012"]);
        records.Select(record => record["occurrenceID"]).Distinct().Count().ShouldBe(2);
        records[1]["reproductiveCondition"].ShouldBe("flowering");
        records[1]["occurrenceRemarks"].ShouldContain("3 flowers; 84 mm wide, 90 mm high");
    }

    [Fact]
    public async Task The_name_is_in_its_parts()
    {
        var record = (await RecordsAsync(Lives.Full))[0];
        record["scientificName"].ShouldBe("Cattleya walkeriana f. alba");
        (record["genus"], record["specificEpithet"], record["infraspecificEpithet"], record["cultivarEpithet"]).ShouldBe(("Cattleya", "walkeriana", "alba", "Moonrise"));
        record["nomenclaturalCode"].ShouldBe("ICNCP");
        record["previousIdentifications"].ShouldBe("Catleya walkeriana alba | Cattleya walkeriana (2021)");
    }

    // ISO 8601-1:2019: a month of reduced precision, an interval with a solidus.
    [Fact]
    public async Task Dates_are_as_exact_as_they_are_known()
    {
        var records = await RecordsAsync(Lives.Full);
        records[0]["eventDate"].ShouldBe("2020-05");
        records[0]["dateIdentified"].ShouldBe("2022-04-02");
        records[1]["eventDate"].ShouldBe("2022-04-02/2022-05-01");
    }

    [Fact]
    public async Task A_plant_that_died_says_of_what_and_one_given_away_did_not_die()
    {
        var died = Lives.Full with { Card = Lives.Full.Card with { LostOn = new DateOnly(2024, 2, 3) }, LostCause = "rot" };
        (await RecordsAsync(died))[0].ShouldSatisfyAllConditions(
            record => record["vitality"].ShouldBe("dead"), record => record["causeOfDeath"].ShouldBe("rot"), record => record["eventDate"].ShouldBe("2020-05/2024-02-03"));
        var given = died with { LostCause = "given away" };
        (await RecordsAsync(given))[0].ShouldSatisfyAllConditions(record => record["vitality"].ShouldBe("notAssessed"), record => record["causeOfDeath"].ShouldBe(""), record => record["disposition"].ShouldBe("given away"));
    }

    [Fact]
    public async Task Nothing_private_goes_out() => (await TextAsync(Lives.Full)).ShouldSatisfyAllConditions(text => text.ShouldNotContain("secret"), text => text.ShouldNotContain("4711"));

    private static IAsyncEnumerable<PlantLife> Only(PlantLife life) => new[] { life }.ToAsyncEnumerable();

    private static async Task<List<string>> HeadingsAsync() => [.. (await TextAsync(Lives.Full)).Split("\r\n")[0].Split(',')];

    private static async Task<string> TextAsync(PlantLife life)
    {
        using var stream = new MemoryStream();
        await DarwinCoreArchive.WriteCsvAsync(stream, Only(life));
        return Encoding.UTF8.GetString(stream.ToArray());
    }

    private static async Task<List<Dictionary<string, string>>> RecordsAsync(PlantLife life)
    {
        using var csv = new CsvDataReader(CsvReader.Create(Encoding.UTF8.GetBytes(await TextAsync(life))));
        var records = new List<Dictionary<string, string>>();
        while (csv.Read())
        {
            records.Add(Enumerable.Range(0, csv.FieldCount).ToDictionary(csv.GetName, at => csv.IsDBNull(at) ? "" : csv.GetString(at)));
        }

        return records;
    }
}
