using Rootwater.Chemistry.Activity;
using Rootwater.Chemistry.Quantities;

namespace Rootwater.Chemistry.Tests.References;

/// <summary>Water itself, against the values the reference code prints and against handbook viscosity.</summary>
public sealed class WaterPropertiesTests
{
    // PHREEQC 3.8.9, README of the reference cases.
    [Theory]
    [InlineData(10, 0.49786, 0.32615)]
    [InlineData(25, 0.51002, 0.32849)]
    [InlineData(35, 0.51920, 0.33012)]
    public void Debye_Hueckel_slopes(double celsius, double a, double b)
    {
        var slopes = DebyeHuckel.At(Temperature.FromCelsius(celsius));
        slopes.A.ShouldBe(a, 2e-5);
        slopes.B.ShouldBe(b, 2e-5);
    }

    // Density of air-free water, kg/L: CRC Handbook 0.9997021, 0.9970470, 0.9940319 (from memory).
    [Theory]
    [InlineData(10, 0.99970)]
    [InlineData(25, 0.99705)]
    [InlineData(35, 0.99403)]
    public void Density(double celsius, double expected) => WaterProperties.DensityKgPerLitre(Temperature.FromCelsius(celsius)).ShouldBe(expected, 1e-5);

    // CRC Handbook, mPa·s: 1.306, 0.8900, 0.7191 (from memory).
    [Theory]
    [InlineData(10, 1.306)]
    [InlineData(25, 0.8900)]
    [InlineData(35, 0.7191)]
    public void Viscosity(double celsius, double expected) => WaterProperties.ViscosityMillipascalSeconds(Temperature.FromCelsius(celsius)).ShouldBe(expected, 0.0005);
}
