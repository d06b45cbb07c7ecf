using System.Text;
using Microsoft.Playwright;

namespace Nest.Browser;

/// <summary>A page's live connection on which messages may be held back, so that what comes late on a busy machine comes late in a test.</summary>
internal sealed class HeldLine
{
    private readonly Lock _gate = new();
    private readonly List<(bool ToDesk, Action Send)> _held = [];
    private Func<bool, byte[], bool> _holds = (_, _) => false;
    private int _answers;

    /// <summary>Messages that wait.</summary>
    public int Waiting
    {
        get
        {
            lock (_gate)
            {
                return _held.Count;
            }
        }
    }

    /// <summary>Calls of a script by the desk that the page has answered.</summary>
    public int Answers
    {
        get
        {
            lock (_gate)
            {
                return _answers;
            }
        }
    }

    /// <summary>Stands between the page and the desk; to be called before the page is opened.</summary>
    public static async Task<HeldLine> OfAsync(IPage page)
    {
        var line = new HeldLine();
        await page.RouteWebSocketAsync(address => address.Contains("_blazor", StringComparison.Ordinal), own =>
        {
            var desk = own.ConnectToServer();
            own.OnMessage(frame => line.Pass(true, frame, desk));
            desk.OnMessage(frame => line.Pass(false, frame, own));
        });
        return line;
    }

    /// <summary>Holds what the page tells of being drawn: the desk does what comes after the drawing only then.</summary>
    public void HoldDrawn() => Hold((toDesk, bytes) => toDesk && bytes.AsSpan().IndexOf("OnRenderCompleted"u8) >= 0);

    /// <summary>Holds all that the desk sends.</summary>
    public void HoldAnswers() => Hold((toDesk, _) => !toDesk);

    /// <summary>Holds all that the page sends too: the desk hears nothing more of what is done on it.</summary>
    public void HoldAll() => Hold((_, _) => true);

    /// <summary>Passes on what the desk answered; what the page sends is still held.</summary>
    public void ReleaseAnswers()
    {
        lock (_gate)
        {
            _holds = (toDesk, _) => toDesk;
            Send(held => !held.ToDesk);
        }
    }

    /// <summary>Passes on what waits, in its order, and holds nothing more.</summary>
    public void Release()
    {
        lock (_gate)
        {
            _holds = (_, _) => false;
            Send(_ => true);
        }
    }

    private void Send(Predicate<(bool ToDesk, Action Send)> which)
    {
        _held.FindAll(which).ForEach(held => held.Send());
        _held.RemoveAll(which);
    }

    private void Hold(Func<bool, byte[], bool> holds)
    {
        lock (_gate)
        {
            _holds = holds;
        }
    }

    private void Pass(bool toDesk, IWebSocketFrame frame, IWebSocketRoute to)
    {
        var bytes = frame.Binary ?? Encoding.UTF8.GetBytes(frame.Text ?? "");
        Action send = frame.Binary is { } binary ? () => to.Send(binary) : () => to.Send(frame.Text!);
        lock (_gate)
        {
            _answers += toDesk && bytes.AsSpan().IndexOf("EndInvokeJSFromDotNet"u8) >= 0 ? 1 : 0;
            if (_holds(toDesk, bytes))
            {
                _held.Add((toDesk, send));
            }
            else
            {
                send();
            }
        }
    }
}
