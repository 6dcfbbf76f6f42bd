using System.Globalization;
using System.Text;

namespace Rootwater.Growing;

/// <summary>Text from a shop's page, a supplier's table or a camera: made plain without moving a character.</summary>
internal static class PastedText
{
    /// <summary>The text with sub- and superscript digits, odd spaces and dashes made plain, character for character, so that positions stay.</summary>
    public static string Plain(string text) => string.Create(text.Length, text, static (plain, text) =>
    {
        for (var i = 0; i < text.Length; i++)
        {
            plain[i] = text[i] switch
            {
                >= '₀' and <= '₉' => (char)('0' + (text[i] - '₀')),
                '²' => '2',
                '³' => '3',
                '\u00a0' or '\u202f' or '\u2009' or '\t' or '\r' => ' ',
                '–' or '—' or '−' or '‑' or '‐' => '-',
                '％' => '%',
                '⋅' or '·' or '•' or '…' => '.',
                'μ' => 'µ',
                var c => c,
            };
        }
    });

    /// <summary>Lower case without accents. Own table: the terminal runs in invariant globalisation, where .NET normalises nothing beyond ASCII.</summary>
    public static string Fold(string word)
    {
        var folded = new StringBuilder(word.Length);
        foreach (var c in word)
        {
            if (c is < '\u0300' or > '\u036f')
            {
                folded.Append(char.ToLowerInvariant(c) switch
                {
                    'ä' or 'à' or 'á' or 'â' or 'ã' or 'å' => 'a',
                    'ç' => 'c',
                    'é' or 'è' or 'ê' or 'ë' => 'e',
                    'í' or 'ì' or 'î' or 'ï' => 'i',
                    'ñ' => 'n',
                    'ö' or 'ò' or 'ó' or 'ô' or 'õ' => 'o',
                    'ü' or 'ù' or 'ú' or 'û' => 'u',
                    'ß' => 's',
                    var plain => plain,
                });
            }
        }

        return folded.ToString();
    }

    /// <summary>A number with point or comma, and half of its last digit.</summary>
    public static (double Value, double HalfStep) ReadNumber(string text)
    {
        var digits = text.Replace(" ", string.Empty, StringComparison.Ordinal).Replace(',', '.').Replace('l', '1').Replace('I', '1').Replace('O', '0');
        var point = digits.IndexOf('.');
        return (double.Parse(digits, CultureInfo.InvariantCulture), 0.5 * Math.Pow(10, point < 0 ? 0 : -(digits.Length - point - 1)));
    }
}
