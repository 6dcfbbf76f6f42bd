using System.Buffers;
using System.Text.Encodings.Web;
using System.Text.Json;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Saturation;

namespace Rootwater.Cli.Solving;

/// <summary>Lines of JSON in, lines of JSON out, in order and in constant memory.</summary>
internal static class SolveStream
{
    private const int ChunkBytes = 1 << 16;
    private const int LongestLineBytes = 1 << 24;

    private static readonly (JsonEncodedText Name, Mineral Mineral)[] s_minerals =
    [
        (JsonEncodedText.Encode("gypsum"), Mineral.Gypsum),
        (JsonEncodedText.Encode("anhydrite"), Mineral.Anhydrite),
        (JsonEncodedText.Encode("calcite"), Mineral.Calcite),
        (JsonEncodedText.Encode("brushite"), Mineral.Brushite),
        (JsonEncodedText.Encode("hydroxyapatite"), Mineral.Hydroxyapatite),
        (JsonEncodedText.Encode("struvite"), Mineral.Struvite),
    ];

    /// <summary>Runs to the end of the input. True when every line was solved.</summary>
    public static bool Run(Stream input, Stream output)
    {
        var request = new SolveRequest();
        var written = new ArrayBufferWriter<byte>(ChunkBytes);
        using var writer = new Utf8JsonWriter(written, new JsonWriterOptions { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping });
        var buffer = new byte[ChunkBytes];
        var held = 0;
        var good = true;
        while (true)
        {
            if (held == buffer.Length)
            {
                if (buffer.Length >= LongestLineBytes)
                {
                    throw new IOException($"a line is longer than {LongestLineBytes} bytes");
                }

                Array.Resize(ref buffer, buffer.Length * 2);
            }

            var read = input.Read(buffer, held, buffer.Length - held);
            var end = held + read;
            var start = 0;
            for (int length; (length = buffer.AsSpan(start, end - start).IndexOf((byte)'\n')) >= 0; start += length + 1)
            {
                good &= Line(buffer.AsSpan(start, length), request, written, writer);
                if (written.WrittenCount > ChunkBytes)
                {
                    Flush(written, output);
                }
            }

            if (read == 0)
            {
                if (end > start)
                {
                    good &= Line(buffer.AsSpan(start, end - start), request, written, writer);
                }

                Flush(written, output);
                output.Flush();
                return good;
            }

            // A reader at a terminal or a pipe sees its answer before it has to send more.
            Flush(written, output);
            buffer.AsSpan(start, end - start).CopyTo(buffer);
            held = end - start;
        }
    }

    private static void Flush(ArrayBufferWriter<byte> written, Stream output)
    {
        output.Write(written.WrittenSpan);
        written.ResetWrittenCount();
    }

    private static bool Line(ReadOnlySpan<byte> line, SolveRequest request, ArrayBufferWriter<byte> written, Utf8JsonWriter writer)
    {
        var solved = true;
        try
        {
            request.Read(line.TrimEnd((byte)'\r'));
            var outcome = EquilibriumSolver.Solve(request.MolPerKgWater, request.Conditions);
            var solution = outcome.Solution ?? throw new SolveProblem("reagents", outcome.Why!);
            var ec25 = solution.ConductivityAt25MicrosiemensPerCm();
            Write(writer, request.Id, outcome, solution, ec25);
        }
        catch (SolveProblem problem)
        {
            solved = false;
            WriteProblem(writer, request.Id, problem.Field, problem.Message);
        }
        catch (JsonException)
        {
            solved = false;
            WriteProblem(writer, null, "line", "The line is not one JSON object.");
        }
        catch (Exception problem) when (problem is ArgumentException or InvalidOperationException)
        {
            solved = false;
            WriteProblem(writer, request.Id, "reagents", problem.Message);
        }

        writer.Flush();
        writer.Reset();
        written.Write("\n"u8);
        return solved;
    }

    private static void Write(Utf8JsonWriter writer, string? id, SolveOutcome outcome, Solution solution, double ec25)
    {
        writer.WriteStartObject();
        writer.WriteString("id"u8, id);
        writer.WriteBoolean("converged"u8, true);
        writer.WriteNumber("pH"u8, solution.PH);
        writer.WriteNumber("ionicStrength"u8, solution.IonicStrengthMolPerKgWater);
        writer.WriteNumber("ec"u8, solution.ConductivityMicrosiemensPerCm);
        writer.WriteNumber("ec25"u8, ec25);
        writer.WriteNumber("alkalinity"u8, solution.AlkalinityMeqPerKgWater);
        writer.WriteNumber("dic"u8, solution.DissolvedInorganicCarbonMmolPerKgWater);
        writer.WriteStartObject("si"u8);
        foreach (var (name, mineral) in s_minerals)
        {
            if (solution.SaturationIndex(mineral) is { } index)
            {
                writer.WriteNumber(name, index);
            }
            else
            {
                writer.WriteNull(name);
            }
        }

        writer.WriteEndObject();
        writer.WriteNumber("massBalanceError"u8, outcome.MassBalanceError);
        writer.WriteNumber("chargeBalanceError"u8, outcome.ChargeBalanceError);
        writer.WriteNumber("iterations"u8, outcome.Iterations);
        writer.WriteEndObject();
    }

    private static void WriteProblem(Utf8JsonWriter writer, string? id, string field, string message)
    {
        writer.WriteStartObject();
        writer.WriteString("id"u8, id);
        writer.WriteStartObject("error"u8);
        writer.WriteString("field"u8, field);
        writer.WriteString("message"u8, message);
        writer.WriteEndObject();
        writer.WriteEndObject();
    }
}
