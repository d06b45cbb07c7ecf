using System.Text;
using Nest.Core.Texts;

namespace Nest.Cli;

/// <summary>A stream of the program to its user: what acts on a terminal is shown instead (<see cref="PlainText.Visible"/>), and a stream that
/// takes no more (its reader is gone, its disk is full, it was closed) ends no work: what comes after is dropped, and
/// <see cref="Broken"/> says so.</summary>
internal sealed class ScreenWriter(TextWriter inner) : TextWriter
{
    private readonly Lock _gate = new();

    /// <summary>Why the stream takes no more; null: it does.</summary>
    public string? Broken { get; private set; }

    public override Encoding Encoding => inner.Encoding;

    public override void Write(char value) => Put(value.ToString());

    public override void Write(char[] buffer, int index, int count) => Put(new string(buffer, index, count));

    public override void Write(ReadOnlySpan<char> buffer) => Put(buffer.ToString());

    public override void Write(string? value) => Put(value ?? "");

    public override void WriteLine() => Put("\n");

    public override void WriteLine(string? value) => Put((value ?? "") + "\n");

    /// <summary>Goes back to the begin of the line and writes over it.</summary>
    public void Over(string line) => Try(() => inner.Write("\r" + PlainText.Visible(line)));

    public override void Flush() => Try(inner.Flush);

    // Half of a surrogate pair may come alone from a writer that hands over single characters; it is shown as what it is.
    private void Put(string text) => Try(() => inner.Write(PlainText.Visible(text).ReplaceLineEndings()));

    private void Try(Action write)
    {
        lock (_gate)
        {
            if (Broken is not null)
            {
                return;
            }

            try
            {
                write();
            }
            catch (Exception fault) when (fault is IOException or ObjectDisposedException or UnauthorizedAccessException or NotSupportedException)
            {
                Broken = fault.Message;
            }
        }
    }
}
