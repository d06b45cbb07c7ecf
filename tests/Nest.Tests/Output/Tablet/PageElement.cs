using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Jint.Native;

namespace Nest.Tests.Output.Tablet;

/// <summary>An element as the page's script sees it: the members of the DOM Standard (dom.spec.whatwg.org) and the HTML Standard
/// (html.spec.whatwg.org) that the script uses, over AngleSharp's parsed tree.</summary>
/// <remarks>A member that is not here is undefined to the script, so that a script which uses more fails the test.</remarks>
public sealed class PageElement
{
    private readonly PageHost host;
    private readonly IElement node;
    private readonly List<(string Type, JsValue Listener)> listeners = [];

    internal PageElement(PageHost host, IElement node)
    {
        this.host = host;
        this.node = node;
        ClassList = new(node);
        // DOMStringMap: data-some-name is someName; only the plain names of this page are needed.
        Dataset = node.Attributes.Where(attribute => attribute.Name.StartsWith("data-", StringComparison.Ordinal))
            .ToDictionary(attribute => attribute.Name["data-".Length..], attribute => attribute.Value, StringComparer.Ordinal);
    }

    public string Id => node.Id ?? "";

    public Dictionary<string, string> Dataset { get; }

    public PageClassList ClassList { get; }

    public string TextContent
    {
        get => node.TextContent;
        set => node.TextContent = value;
    }

    public bool Checked
    {
        get => ((IHtmlInputElement)node).IsChecked;
        set => ((IHtmlInputElement)node).IsChecked = value;
    }

    public PageElement? QuerySelector(string selector) => host.Wrap(node.QuerySelector(selector));

    public PageElement? Closest(string selector) => host.Wrap(node.Closest(selector));

    public void AddEventListener(string type, JsValue listener) => listeners.Add((type, listener));

    public void ScrollIntoView(JsValue options) => host.Scrolled = this;

    public void Focus(JsValue options) => host.Focused = this;

    /// <summary>A user's click: a checkbox turns over first, then <c>input</c> and <c>change</c> follow the click (HTML Standard,
    /// legacy-pre-activation and activation behaviour of a checkbox).</summary>
    internal void Click()
    {
        var box = node is IHtmlInputElement { Type: "checkbox" };
        if (box)
        {
            Checked = !Checked;
        }

        Fire("click");
        if (box)
        {
            Fire("input");
            Fire("change");
        }
    }

    private void Fire(string type)
    {
        foreach (var (_, listener) in listeners.Where(one => one.Type == type).ToArray())
        {
            host.Call(listener);
        }
    }
}
