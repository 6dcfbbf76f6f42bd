using CsCheck;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Labels;

namespace Rootwater.Growing.Tests.Laws;

/// <summary>Any label, sensible or not: it becomes a neutral product that fits into its kilogram, or it is refused with a reason.</summary>
public sealed class LabelLaws
{
    private static readonly Gen<Declaration> s_lines =
        from form in Gen.Enum<DeclaredForm>()
        from large in Gen.Int[0, 400]
        from small in Gen.Int[0, 40]
        from chelator in Gen.Enum<Chelator>()
        let trace = form >= DeclaredForm.Boron
        select new Declaration(form, trace ? small / 100.0 : large / 10.0) { RoundingPercent = trace ? 0.005 : 0.05, Chelator = form.IsChelatable() ? chelator : Chelator.None };

    private static readonly Gen<Label> s_labels =
        from lines in s_lines.Array[1, 7]
        from liquid in Gen.Bool
        from density in Gen.Double[0.9, 1.5]
        select new Label { Name = "label", Declarations = lines, Basis = liquid ? LabelBasis.ByVolume : LabelBasis.ByWeight, DensityKgPerLitre = liquid ? density : null };

    [Fact]
    public void A_label_becomes_a_neutral_product_or_is_refused_with_a_reason()
    {
        int made = 0, refused = 0;
        s_labels.Sample(label =>
        {
            var outcome = ProductFactory.FromLabel(label);
            if (outcome.Product is null)
            {
                outcome.Problems.ShouldContain(problem => problem.Severity == Severity.Error && problem.Message.Length > 15);
                Interlocked.Increment(ref refused);
                return;
            }

            Interlocked.Increment(ref made);
            outcome.Product.MolPerKg.NetCharge().ShouldBe(0, 1e-9);
            foreach (var component in Components.All.Where(component => component != Component.Hydrogen))
            {
                outcome.Product.MolPerKg[component].ShouldBeGreaterThanOrEqualTo(0);
            }

            var inversion = outcome.Inversion.ShouldNotBeNull();
            inversion.Best.Salts.Sum(share => share.KgPerKg).ShouldBeLessThan(1.001);
            inversion.Mixes.Sum(mix => mix.Weight).ShouldBe(1, 1e-9);
            foreach (var spread in new[] { inversion.PHAt1GramPerLitre, inversion.EcAt1GramPerLitreMicrosiemensPerCm })
            {
                spread.Low.ShouldBeLessThanOrEqualTo(spread.Value);
                spread.High.ShouldBeGreaterThanOrEqualTo(spread.Value);
            }
        }, iter: 60);
        // Both ways are taken, or the law would say little.
        made.ShouldBeGreaterThan(5);
        refused.ShouldBeGreaterThan(5);
    }

    [Fact]
    public void A_printed_label_reads_back_as_it_was_written() => Gen.Select(s_lines.Array[1, 8], Gen.Bool, Gen.Bool).Sample((lines, nameFirst, comma) =>
    {
        var distinct = lines.Where(line => line.Percent > 0).DistinctBy(line => line.Form).Select(line => line with { Chelator = Chelator.None }).ToArray();
        var text = string.Join('\n', distinct.Select(line =>
        {
            var percent = line.Percent.ToString("0.##", System.Globalization.CultureInfo.InvariantCulture);
            percent = comma ? percent.Replace('.', ',') : percent;
            return nameFirst ? $"{line.Form.Words()} ({line.Form.Symbol()}): {percent} %" : $"{percent} % {line.Form.Words()} ({line.Form.Symbol()})";
        }));
        var read = LabelText.Parse(text).Label?.Declarations ?? [];
        read.Select(line => (line.Form, line.Percent)).ShouldBe(distinct.Select(line => (line.Form, line.Percent)));
    }, iter: 400);
}
