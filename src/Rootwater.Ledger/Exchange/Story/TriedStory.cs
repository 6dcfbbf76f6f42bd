using System.Globalization;
using System.Net;
using System.Text;
using Rootwater.Growing;
using Rootwater.Ledger.Desks;

namespace Rootwater.Ledger.Exchange.Story;

/// <summary>The part of a plant's story that says what was tried: only where it was ticked, and without prices, shops, places or notes.</summary>
internal static class TriedStory
{
    private static readonly (string Symbol, Nutrient Nutrient)[] s_elements = [("P", Nutrient.Phosphorus), ("K", Nutrient.Potassium), ("Ca", Nutrient.Calcium), ("Mg", Nutrient.Magnesium), ("S", Nutrient.Sulfur), ("Fe", Nutrient.Iron)];

    public static void Write(StringBuilder page, TriedSheet tried)
    {
        page.Append("<h2>What was tried</h2>\n");
        foreach (var sentence in tried.Words)
        {
            page.Append("<p>").Append(WebUtility.HtmlEncode(sentence)).Append("</p>\n");
        }

        if (tried.Years.Count > 0)
        {
            page.Append("<table><tr><th>year</th><th>feed, L</th><th>water, L</th><th>EC, mS/cm</th><th>N, mg/L</th>");
            foreach (var (symbol, _) in s_elements)
            {
                page.Append("<th>").Append(symbol).Append("</th>");
            }

            page.Append("<th>pH at the root, believed</th><th>measured</th></tr>\n");
            foreach (var year in tried.Years)
            {
                var ph = tried.RootPH.FirstOrDefault(each => each.Year == year.Year);
                page.Append(CultureInfo.InvariantCulture, $"<tr><td>{year.Year}</td><td>{year.FeedLitres:0.#}</td><td>{year.WaterLitres:0.#}</td><td>{year.MeanEcMicrosiemensPerCm / 1000:0.00}</td><td>{year.MgPerLitre.TotalNitrogen:0}</td>");
                foreach (var (_, nutrient) in s_elements)
                {
                    page.Append(CultureInfo.InvariantCulture, $"<td>{year.MgPerLitre[nutrient]:0.##}</td>");
                }

                page.Append(CultureInfo.InvariantCulture, $"<td>{ph?.Believed:0.0}</td><td>{ph?.Measured:0.0}</td></tr>\n");
            }

            page.Append("</table>\n");
        }

        if (tried.Products.Count > 0)
        {
            page.Append("<table><tr><th>product</th><th>cans</th><th>g/L</th><th>from</th><th>to</th></tr>\n");
            foreach (var product in tried.Products)
            {
                page.Append(CultureInfo.InvariantCulture, $"<tr><td>{WebUtility.HtmlEncode(product.Product)}</td><td>{product.Cans}</td><td>{product.GramsPerLitre:0.###}</td><td>{product.First:yyyy-MM-dd}</td><td>{product.Last:yyyy-MM-dd}</td></tr>\n");
            }

            page.Append("</table>\n");
        }

        if (tried.Evidence is { } evidence)
        {
            page.Append("<p class=\"soft\">").Append(WebUtility.HtmlEncode(evidence.Basis.Method)).Append(CultureInfo.InvariantCulture, $"; {evidence.Basis.Lives} lives, {evidence.Basis.Events} losses.</p>\n");
        }
    }
}
