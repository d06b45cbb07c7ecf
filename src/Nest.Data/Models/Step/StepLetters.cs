using System.Globalization;
using System.Text;

namespace Nest.Data.Models.Step;

/// <summary>Letters beyond ASCII in texts of ISO 10303-21: \X2\…\X0\ (UTF-16), \X4\…\X0\ (UTF-32), \X\hh and \S\c (ISO 8859-1).</summary>
internal static class StepLetters
{
    public static string Decode(string text)
    {
        if (!text.Contains('\\', StringComparison.Ordinal))
        {
            return ModelLimits.CleanName(text);
        }

        var result = new StringBuilder();
        for (var i = 0; i < text.Length;)
        {
            if (At(text, i, @"\X2\") || At(text, i, @"\X4\"))
            {
                var digits = text[i + 2] == '2' ? 4 : 8;
                var end = text.IndexOf(@"\X0\", i + 4, StringComparison.Ordinal);
                var stop = end < 0 ? text.Length : end;
                for (var k = i + 4; k + digits <= stop; k += digits)
                {
                    if (int.TryParse(text.AsSpan(k, digits), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var code))
                    {
                        result.Append(digits == 4 ? ((char)code).ToString() : code is > 0 and <= 0x10FFFF and not (>= 0xD800 and <= 0xDFFF) ? char.ConvertFromUtf32(code) : "");
                    }
                }

                i = end < 0 ? text.Length : end + 4;
            }
            else if (At(text, i, @"\X\") && i + 5 <= text.Length && byte.TryParse(text.AsSpan(i + 3, 2), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var latin))
            {
                result.Append((char)latin);
                i += 5;
            }
            else if (At(text, i, @"\S\") && i + 4 <= text.Length)
            {
                result.Append((char)(text[i + 3] + 128));
                i += 4;
            }
            else
            {
                // \\ is one, \P…\ names a page of letters that is not used here.
                var double_ = At(text, i, @"\\");
                result.Append(text[i]);
                i += double_ ? 2 : 1;
            }
        }

        return ModelLimits.CleanName(result.ToString());
    }

    private static bool At(string text, int at, string what) => string.CompareOrdinal(text, at, what, 0, what.Length) == 0;
}
