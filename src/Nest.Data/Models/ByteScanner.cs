using System.Buffers.Text;
using System.Text;

namespace Nest.Data.Models;

/// <summary>Words and lines of a large text file, without holding it in memory. Counts lines for messages.</summary>
internal sealed class ByteScanner(Stream stream, long mostBytes)
{
    private const int LongestWord = 4096;

    private byte[] buffer = new byte[1 << 16];
    private int start;
    private int end;
    private long total;
    private bool ended;

    public int Line { get; private set; } = 1;

    /// <summary>The next word; empty at the end of the file. Valid until the next call.</summary>
    public ReadOnlySpan<byte> Word()
    {
        SkipBlank(acrossLines: true);
        return Take();
    }

    /// <summary>The next word of this line; empty at its end.</summary>
    public ReadOnlySpan<byte> WordInLine()
    {
        SkipBlank(acrossLines: false);
        return start < end && buffer[start] == '\n' ? default : Take();
    }

    /// <summary>Goes to the next line and gives the rest of this one, cut to its first bytes.</summary>
    public string RestOfLine()
    {
        var text = new List<byte>();
        while (start < end || Fill())
        {
            var c = buffer[start++];
            if (c == '\n')
            {
                Line++;
                break;
            }

            if (text.Count < LongestWord)
            {
                text.Add(c);
            }
        }

        return Encoding.UTF8.GetString([.. text]).Trim();
    }

    public void SkipLine()
    {
        while (start < end || Fill())
        {
            var at = buffer.AsSpan(start, end - start).IndexOf((byte)'\n');
            if (at >= 0)
            {
                start += at + 1;
                Line++;
                return;
            }

            start = end;
        }
    }

    /// <summary>A number that is finite.</summary>
    public double Number()
    {
        var word = Word();
        return ToNumber(word, Line);
    }

    public static double ToNumber(ReadOnlySpan<byte> word, int line)
    {
        var digits = word is [(byte)'+', ..] ? word[1..] : word;
        if (!Utf8Parser.TryParse(digits, out double value, out var used) || used != digits.Length || !double.IsFinite(value))
        {
            throw ModelFault.Damaged($"'{Show(word)}' is not a number", line);
        }

        return Math.Abs(value) <= 1e12 ? value : throw ModelFault.Damaged($"'{Show(word)}' is beyond all sizes", line);
    }

    public static string Show(ReadOnlySpan<byte> word) => word.IsEmpty ? "end of the file" : ModelLimits.CleanName(Encoding.UTF8.GetString(word[..Math.Min(word.Length, 40)]));

    private void SkipBlank(bool acrossLines)
    {
        while (start < end || Fill())
        {
            var c = buffer[start];
            if (c == '\n')
            {
                if (!acrossLines)
                {
                    return;
                }

                Line++;
            }
            else if (c > ' ')
            {
                return;
            }

            start++;
        }
    }

    private ReadOnlySpan<byte> Take()
    {
        var length = 0;
        while (true)
        {
            var span = buffer.AsSpan(start + length, end - start - length);
            var at = 0;
            while (at < span.Length && span[at] > ' ')
            {
                at++;
            }

            length += at;
            if (at < span.Length || ended)
            {
                break;
            }

            if (length > LongestWord)
            {
                throw ModelFault.Damaged("a word of thousands of characters", Line);
            }

            // Keep the word's beginning while the buffer is filled behind it.
            if (!Fill(length))
            {
                break;
            }
        }

        var word = buffer.AsSpan(start, length);
        start += length;
        return word;
    }

    private bool Fill(int keep = 0)
    {
        if (ended)
        {
            return false;
        }

        if (keep > 0)
        {
            if (end == buffer.Length)
            {
                buffer.AsSpan(start, keep).CopyTo(buffer);
                (start, end) = (0, keep);
            }
        }
        else
        {
            (start, end) = (0, 0);
        }

        var count = stream.Read(buffer, end, buffer.Length - end);
        ended = count == 0;
        end += count;
        total += count;
        return total > mostBytes
            ? throw ModelFault.TooMuch($"the file is larger than {mostBytes >> 20} MiB")
            : count > 0;
    }
}
