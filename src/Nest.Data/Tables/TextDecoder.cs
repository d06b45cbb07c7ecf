using System.Text;
using Nest.Core.Jobs;

namespace Nest.Data.Tables;

/// <summary>Bytes of a text file as text: UTF-8, UTF-16 and UTF-32 by their mark, UTF-16 also without, else Windows-1252.</summary>
internal static class TextDecoder
{
    private static readonly UTF8Encoding Strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);
    private static readonly Encoding Western = CodePagesEncodingProvider.Instance.GetEncoding(1252)!;

    /// <summary>The text and the name of its encoding; null: the bytes are no text.</summary>
    /// <param name="doubt">Where an encoding was assumed: row and text of the first character that shows it.</param>
    public static (string Text, string Encoding)? Decode(byte[] bytes, out (int Row, string Sample)? doubt)
    {
        doubt = null;
        switch (bytes)
        {
            case [0xFF, 0xFE, 0, 0, ..]:
                return (Text(Encoding.UTF32, bytes, 4), "UTF-32");
            case [0xFF, 0xFE, ..]:
                return (Text(Encoding.Unicode, bytes, 2), "UTF-16");
            case [0xFE, 0xFF, ..]:
                return (Text(Encoding.BigEndianUnicode, bytes, 2), "UTF-16");
        }

        if (Array.IndexOf(bytes, (byte)0) >= 0)
        {
            return WithoutMark(bytes);
        }

        try
        {
            return (Strict.GetString(bytes).TrimStart('\uFEFF'), "UTF-8");
        }
        catch (DecoderFallbackException)
        {
            var text = Western.GetString(bytes);
            var at = text.AsSpan().IndexOfAnyExceptInRange('\0', '\u007F');
            doubt = (text.AsSpan(0, at).Count('\n') + 1, Around(text, at));
            return (text, "Windows-1252");
        }
    }

    private static string Text(Encoding encoding, byte[] bytes, int mark) => encoding.GetString(bytes, mark, bytes.Length - mark).TrimEnd('\0');

    /// <summary>UTF-16 without its mark: every other byte of plain text is zero.</summary>
    private static (string, string)? WithoutMark(byte[] bytes)
    {
        var sample = Math.Min(bytes.Length, 4096) & ~1;
        var (even, odd) = (0, 0);
        for (var i = 0; i < sample; i += 2)
        {
            even += bytes[i] == 0 ? 1 : 0;
            odd += bytes[i + 1] == 0 ? 1 : 0;
        }

        return sample < 8 ? null
            : odd * 2 > sample * 0.7 && even == 0 ? (Text(Encoding.Unicode, bytes, 0), "UTF-16")
            : even * 2 > sample * 0.7 && odd == 0 ? (Text(Encoding.BigEndianUnicode, bytes, 0), "UTF-16")
            : null;
    }

    private static string Around(string text, int at)
    {
        var (start, end) = (at, at);
        while (start > 0 && at - start < 20 && char.IsLetterOrDigit(text[start - 1]))
        {
            start--;
        }

        while (end < text.Length && end - at < 20 && char.IsLetterOrDigit(text[end]))
        {
            end++;
        }

        return text[start..Math.Max(end, at + 1)];
    }
}
