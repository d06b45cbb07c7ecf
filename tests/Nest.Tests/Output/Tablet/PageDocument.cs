using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Jint.Native;

namespace Nest.Tests.Output.Tablet;

/// <summary>The document as the page's script sees it.</summary>
public sealed class PageDocument
{
    private readonly PageHost host;
    private readonly IHtmlDocument document;

    internal PageDocument(PageHost host, IHtmlDocument document)
    {
        this.host = host;
        this.document = document;
    }

    public PageElement? Body => host.Wrap(document.Body);

    public JsValue QuerySelectorAll(string selector) => host.List(document.QuerySelectorAll(selector));

    public PageElement? GetElementById(string id) => host.Wrap(document.GetElementById(id));
}
