using System.Text;
using Nest.Core.Texts;

namespace Nest.Cli;

/// <summary>The one way to the screen: what names of files and cells hold is shown, never obeyed.</summary>
/// <param name="keepsReturn">Whether a lone carriage return passes: the progress line is written over itself.</param>
internal sealed class SafeWriter(TextWriter screen, bool keepsReturn) : TextWriter
{
    public override Encoding Encoding => screen.Encoding;

    [System.Diagnostics.CodeAnalysis.AllowNull]
    public override string NewLine
    {
        get => screen.NewLine;
        set => screen.NewLine = value;
    }

    public override void Write(char value) => Write(value.ToString());

    public override void Write(string? value) => screen.Write(Plain(value));

    public override void Write(char[] buffer, int index, int count) => Write(new string(buffer, index, count));

    public override void Write(ReadOnlySpan<char> buffer) => Write(buffer.ToString());

    public override void WriteLine() => screen.WriteLine();

    public override void WriteLine(string? value) => screen.WriteLine(Plain(value));

    public override void Flush() => screen.Flush();

    private string? Plain(string? value) => value is null ? null
        : keepsReturn && value.StartsWith('\r') ? "\r" + PlainText.Of(value[1..])
        : PlainText.Of(value);
}
