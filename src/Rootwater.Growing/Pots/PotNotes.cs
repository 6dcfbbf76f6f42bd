using System.Globalization;

namespace Rootwater.Growing.Pots;

/// <summary>What a forecast assumes and what stands out in it, in words.</summary>
internal static class PotNotes
{
    public static IReadOnlyList<string> Of(PotForecastRequest request, PotForecast forecast, double? brushiteIndex)
    {
        var medium = request.Setup.Medium;
        var loss = forecast.WaterLoss;
        var bands = request.Told is null ? "Bands" : "The model's own bands, before they are corrected";
        var notes = new List<string>
        {
            request.FittedTo is { } fitted ? fitted + $" {bands}: one standard deviation each way of what the readings leave open, about two chances in three." : $"A forecast, fitted to no reading of this pot. {bands}: each of " + string.Join(", ", Uncertain.All.Select(one => $"{one.Name} ({one.Spread})")) + " varied one at a time and added in quadrature.",
            Text($"Medium: {medium.Name}; by itself it rests at pH {medium.RestingPH:0.0} in outdoor air, at {medium.RestingPHAt(request.Climate.Log10PotPCO2Atmospheres):0.0} under the carbon dioxide of this pot (10^{request.Climate.Log10PotPCO2Atmospheres:0.0} atm). Values: {medium.Source}."),
            Text($"Loses {loss.EvaporationLitresPerDay * 1000:0} mL a day from the medium and {loss.TranspirationLitresPerDay * 1000:0} mL through the leaves; evaporation keeps the medium {request.Climate.AirTemperatureCelsius - loss.MediumCelsius:0.0} °C cooler than the air."),
        };
        if (forecast.ReservoirEmptyDay is { } empty && empty < request.Days)
        {
            notes.Add(Text($"The reservoir runs dry on day {empty:0.0}, before the next feed: top up before then."));
        }

        if (forecast.LeachDueDay is { } leach)
        {
            notes.Add(leach <= request.Days
                ? Text($"EC at the root reaches {request.LeachAtEcMicrosiemensPerCm:0} µS/cm on day {leach:0.0}: leach then.")
                : Text($"At this creep EC at the root reaches {request.LeachAtEcMicrosiemensPerCm:0} µS/cm about day {leach:0} (a straight line beyond the forecast)."));
        }

        if (forecast.End.BaseHeldMeq < 0.1 * medium.BaseMeqPerLitre * request.Setup.MediumLitres)
        {
            notes.Add("The medium's base is nearly spent: from here on the feed alone sets the pH.");
        }

        if (brushiteIndex is > 0)
        {
            notes.Add(Text($"By the end calcium phosphate would fall out at the root (brushite index {brushiteIndex:0.0}); the forecast leaves it dissolved, so pH and EC may really be lower."));
        }

        notes.Add("Salt is counted as spread through the medium; the top layer, where water evaporates, is saltier than the mean. Micronutrients are carried along but not taken up.");
        return notes;
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
