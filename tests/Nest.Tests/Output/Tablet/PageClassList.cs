using AngleSharp.Dom;

namespace Nest.Tests.Output.Tablet;

/// <summary>An element's classes. <c>toggle</c> with its second argument sets, as the DOM Standard says (7.1, DOMTokenList).</summary>
public sealed class PageClassList
{
    private readonly IElement node;

    internal PageClassList(IElement node) => this.node = node;

    public bool Contains(string name) => node.ClassList.Contains(name);

    public bool Toggle(string name, bool force)
    {
        if (force)
        {
            node.ClassList.Add(name);
        }
        else
        {
            node.ClassList.Remove(name);
        }

        return force;
    }
}
