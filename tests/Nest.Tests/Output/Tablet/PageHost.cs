using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Jint;
using Jint.Native;

namespace Nest.Tests.Output.Tablet;

/// <summary>A page that is open: AngleSharp parses it, Jint runs its own script. What the device keeps is given from outside, so that
/// the page can be closed and opened anew.</summary>
public sealed class PageHost : IDisposable
{
    private readonly IHtmlDocument document;
    private readonly Engine engine = new();
    private readonly Dictionary<IElement, PageElement> wrapped = [];

    internal PageHost(string html, PageStorage storage, Func<string, bool>? confirm = null)
    {
        document = new HtmlParser().ParseDocument(html);
        engine.SetValue("document", new PageDocument(this, document));
        engine.SetValue("localStorage", storage);
        engine.SetValue("confirm", confirm ?? (_ => throw new InvalidOperationException("The page asked something.")));
        foreach (var script in document.Scripts)
        {
            engine.Execute(script.Text);
        }
    }

    public void Dispose() => engine.Dispose();

    internal PageElement? Scrolled { get; set; }

    internal PageElement? Focused { get; set; }

    internal IReadOnlyList<PageElement> Boxes => [.. document.QuerySelectorAll(".tick input").Select(node => Wrap(node)!)];

    internal string Count => Element("count").TextContent;

    internal int StepsDone => document.QuerySelectorAll(".step.done").Length;

    internal PageElement Element(string id) => Wrap(document.GetElementById(id)) ?? throw new InvalidOperationException($"No element {id}.");

    internal void Click(string id) => Element(id).Click();

    internal PageElement? Wrap(IElement? node)
    {
        if (node is null)
        {
            return null;
        }

        if (!wrapped.TryGetValue(node, out var element))
        {
            wrapped[node] = element = new(this, node);
        }

        return element;
    }

    /// <summary>A list for the script: an array has what a NodeList has (<c>length</c>, indexes, <c>forEach</c>).</summary>
    internal JsValue List(IEnumerable<IElement> nodes) => new JsArray(engine, [.. nodes.Select(node => JsValue.FromObject(engine, Wrap(node)))]);

    internal void Call(JsValue listener) => engine.Invoke(listener);
}
