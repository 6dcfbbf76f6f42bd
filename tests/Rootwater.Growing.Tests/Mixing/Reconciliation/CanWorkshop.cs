using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing.Reconciliation;
using Rootwater.Growing.Waters;

namespace Rootwater.Growing.Tests.Mixing.Reconciliation;

/// <summary>
/// A bench that mixes cans out of lots, waters and tools that are all a little off, and reads them with pens that are off too: everything drawn here, apart from the
/// reconciliation, which sees the cards and the readings alone. The chemistry that makes the readings is the engine's own.
/// </summary>
internal sealed class CanWorkshop
{
    private static readonly DateTimeOffset s_start = new(2026, 3, 1, 18, 0, 0, TimeSpan.Zero);

    private static readonly (SupplyItem Item, bool Hygroscopic)[] s_salts =
        [(Kitchen.CalciumNitrate, true), (Kitchen.PotassiumNitrate, false), (Kitchen.MonopotassiumPhosphate, false), (Kitchen.MagnesiumNitrate, true), (Kitchen.MagnesiumSulfate, false)];

    private readonly Random _random;
    private readonly Dictionary<Guid, double> _lots;
    private readonly double _scale, _vessel;

    public CanWorkshop(int seed)
    {
        _random = new Random(seed);
        _lots = s_salts.ToDictionary(salt => salt.Item.Product.Id, salt => 1 + (salt.Hygroscopic ? 0.03 : 0.02) * Normal());
        (_scale, _vessel) = (0.005 * Normal(), 0.015 * Normal());
        (EcPen, PHPen, RainStrength, TapStrength) = (0.02 * Normal(), 0.06 * Normal(), 1 + 0.03 * Normal(), 1 + 0.03 * Normal());
    }

    /// <summary>Share by which the EC pen reads too high, and pH by which the pH pen does.</summary>
    public double EcPen { get; set; }
    public double PHPen { get; set; }
    public double RainStrength { get; set; }
    public double TapStrength { get; set; }

    public void Strength(SupplyItem item, double share) => _lots[item.Product.Id] = share;

    /// <summary>The can of a week by its card, and what the pens read in what really went in.</summary>
    /// <param name="week">Since the start.</param>
    /// <param name="filledTo">Litres it really held; null for the mark, as far as a hand fills to it.</param>
    /// <param name="leftOut">A salt that was forgotten.</param>
    public CanRecord Mix(int week, double? filledTo = null, SupplyItem? leftOut = null)
    {
        // Some cans with, some without each of two salts, so that a lot can be told from a pen.
        var grams = s_salts.Select((_, k) => k switch { 3 => week % 3 == 2 ? 0 : 7.5, 2 => week % 4 == 1 ? 0 : 1.0 + _random.NextDouble(), _ => Math.Round((0.2 + 0.5 * _random.NextDouble()) * 5, 1) }).ToArray();
        const double Tap = 1.2, Litres = 5;
        var can = new CanRecord
        {
            CanId = Guid.CreateVersion7(),
            MixedAt = s_start.AddDays(7 * week),
            Litres = Litres,
            VesselId = "green can",
            Doses = [.. s_salts.Select((salt, k) => (salt, k)).Where(pair => grams[pair.k] > 0).Select(pair => new CanDose
            {
                ProductId = pair.salt.Item.Product.Id, LotId = pair.salt.Item.Product.Id, Name = pair.salt.Item.Product.Name, Grams = grams[pair.k], MolPerKg = pair.salt.Item.Product.MolPerKg,
                ToolId = "scale", Hygroscopic = pair.salt.Hygroscopic, RelativeUncertainty = 0.02, PHUncertainty = 0.05,
            })],
            Waters = [new CanWater("rain", "rain water", Litres - Tap, Kitchen.Rain.MolPerKgWater), new CanWater("tap", "tap water", Tap, Kitchen.HardTap.MolPerKgWater)],
        };

        var held = filledTo ?? Litres * (1 + _vessel) * (1 + 0.01 * Normal());
        var truth = Water(Kitchen.Rain, RainStrength, (Litres - Tap) / Litres).Plus(Water(Kitchen.HardTap, TapStrength, Tap / Litres));
        foreach (var dose in can.Doses.Where(dose => dose.ProductId != leftOut?.Product.Id))
        {
            truth = truth.PlusScaled(dose.MolPerKg, Math.Max(0, dose.Grams + 0.05 * Normal()) * _lots[dose.LotId] * (1 + _scale) / 1000 / (held * 0.9982));
        }

        var solution = EquilibriumSolver.Solve(truth, new SolveConditions { Temperature = Temperature.FromCelsius(20) }).Required();
        return can with
        {
            // To the last digit of a pen: 0.01 mS/cm.
            MeasuredEcMicrosiemensPerCm = Math.Round(solution.ConductivityAt25MicrosiemensPerCm() * (1 + EcPen) * (1 + 0.01 * Normal()) / 10) * 10,
            MeasuredPH = Math.Round(solution.PH + PHPen + 0.04 * Normal(), 2),
        };
    }

    /// <summary>Both pens in their standards, a day before the can of a week.</summary>
    public IEnumerable<PenCalibration> Calibrate(int week) =>
    [
        new PenCalibration { PenId = "EC pen", At = s_start.AddDays(7 * week - 1), IsEc = true, StandardAt25 = 1413, Reading = 1413 * (1 + EcPen) * (1 + 0.008 * Normal()) },
        new PenCalibration { PenId = "pH pen", At = s_start.AddDays(7 * week - 1), IsEc = false, StandardAt25 = 7.00, Celsius = 20, Reading = PenStandards.BufferPH(7.00, 20) + PHPen + 0.025 * Normal() },
        new PenCalibration { PenId = "pH pen", At = s_start.AddDays(7 * week - 1), IsEc = false, StandardAt25 = 4.01, Celsius = 20, Reading = PenStandards.BufferPH(4.01, 20) + PHPen + 0.025 * Normal() },
    ];

    private static ComponentAmounts Water(WaterSource water, double strength, double share) => water.MolPerKgWater.Scaled(strength * share);

    private double Normal() => MathNet.Numerics.Distributions.Normal.Sample(_random, 0, 1);
}
