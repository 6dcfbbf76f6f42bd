using System.Globalization;
using PdfSharp.Drawing;
using PdfSharp.Pdf;
using Rootwater.Growing.Mixing;
using Rootwater.Ledger.Desks;

namespace Rootwater.Ledger.Exchange.Print;

/// <summary>A can's card on A5 for the wall by the sink: doses largest, what the pens should read beside a line to write what they read.</summary>
public static class MixingCard
{
    private const double Wide = 148, High = 210, Margin = 10;

    public static void Write(Stream to, SavedCan can, string? address, DateTimeOffset now)
    {
        using var document = TagSheet.New($"Can {can.Card.Letter} of {can.MixedOn:yyyy-MM-dd}", now);
        using (var card = new Card(document))
        {
            Head(card, can, address);
            foreach (var step in can.Card.Steps)
            {
                Step(card, step);
            }

            Foot(card, can.Card);
        }

        document.Save(to, closeStream: false);
    }

    private static void Head(Card card, SavedCan can, string? address)
    {
        var plan = can.Card;
        card.Page.Text($"Can {plan.Letter}", PrintFonts.Of(26, bold: true), Margin, card.Y);
        card.Page.Text(string.Create(CultureInfo.InvariantCulture, $"{plan.Vessel}, {plan.Litres:0.##} L, {can.MixedOn:yyyy-MM-dd}"), PrintFonts.Of(11), Margin, card.Y + 11);
        card.Page.Text(string.Create(CultureInfo.InvariantCulture, $"pen should read {Milli(plan.EcOnPenMicrosiemensPerCm)} mS/cm and pH {plan.PH.Value:0.0} at {plan.TemperatureCelsius:0.#} °C"), PrintFonts.Of(11, bold: true), Margin, card.Y + 16.5);
        if (address is not null)
        {
            card.Page.QrCode(address, Wide - Margin - 22, card.Y - 2, 24);
        }

        card.Y += 26;
        card.Page.Line(Margin, card.Y, Wide - Margin, card.Y, 0.3);
        card.Y += 2;
    }

    private static void Step(Card card, MixStep step)
    {
        var (dose, what, small) = (PrintFonts.Of(17, bold: true), PrintFonts.Of(11, bold: true), PrintFonts.Of(8.5));
        var reason = card.Page.Wrap(step.Reason, small, Wide - (2 * Margin) - 44);
        var cautions = step.Cautions.SelectMany(caution => card.Page.Wrap($"Caution: {caution}", small, Wide - (2 * Margin) - 44)).ToList();
        card.Room(10 + (4 * (reason.Count + cautions.Count)) + 4);
        card.Page.Text(step.Number.ToString(CultureInfo.InvariantCulture), PrintFonts.Of(11), Margin, card.Y + 1);
        card.Page.TextRight(string.Create(CultureInfo.InvariantCulture, $"{step.Amount:0.###} {step.Unit}"), dose, Margin + 40, card.Y);
        card.Page.Text(step.What, what, Margin + 44, card.Y);
        card.Y += 5.5;
        foreach (var line in reason.Concat(cautions))
        {
            card.Page.Text(line, small, Margin + 44, card.Y);
            card.Y += 4;
        }

        card.Page.Text(string.Create(CultureInfo.InvariantCulture, $"then {Milli(step.EcMicrosiemensPerCm.Value)} mS/cm, pH {step.PH.Value:0.0}; read ________ mS/cm, pH ______"), small, Margin + 44, card.Y);
        card.Y += 5;
        card.Page.Line(Margin, card.Y, Wide - Margin, card.Y);
        card.Y += 1.5;
    }

    private static void Foot(Card card, CanPlan plan)
    {
        var text = PrintFonts.Of(9);
        var lines = new List<string>
        {
            string.Create(CultureInfo.InvariantCulture, $"Finished: {Milli(plan.EcMicrosiemensPerCm.Low)} to {Milli(plan.EcMicrosiemensPerCm.High)} mS/cm at 25 °C, pH {plan.PH.Low:0.0} to {plan.PH.High:0.0}; after a day {plan.PHAfterADay:0.0}, in balance with the air {plan.PHInBalanceWithAir:0.0}."),
        };
        if (plan.AgeLimit is { } age)
        {
            lines.Add(string.Create(CultureInfo.InvariantCulture, $"Pour within {age.Days:0.#} days: {age.Why}"));
        }

        lines.AddRange(plan.Serves.Select(group => $"{group.Group}: {string.Join(", ", group.Portions.Select(portion => string.Create(CultureInfo.InvariantCulture, $"no. {portion.Number} {portion.Millilitres:0} mL")))}"));
        lines.Add("Labels and local rules prevail. Never pour runoff back.");
        card.Y += 2;
        foreach (var line in lines.SelectMany(line => card.Page.Wrap(line, text, Wide - (2 * Margin))))
        {
            card.Room(5);
            card.Page.Text(line, text, Margin, card.Y);
            card.Y += 4.4;
        }
    }

    private static string Milli(double microsiemensPerCm) => (microsiemensPerCm / 1000).ToString("0.00", CultureInfo.InvariantCulture);

    // Where the pen stands, and a new page when the old one is full.
    private sealed class Card : IDisposable
    {
        private readonly PdfDocument _document;

        public Card(PdfDocument document)
        {
            _document = document;
            Page = TagSheet.Page(document, Wide, High);
        }

        public XGraphics Page { get; private set; }

        public double Y { get; set; } = Margin;

        public void Room(double millimetres)
        {
            if (Y + millimetres > High - Margin)
            {
                Page.Dispose();
                Page = TagSheet.Page(_document, Wide, High);
                Y = Margin;
            }
        }

        public void Dispose() => Page.Dispose();
    }
}
