using Microsoft.AspNetCore.Components.Forms;
using Nest.Core.Quantities;
using Nest.Data.Tables;
using Nest.Desk.Model;

namespace Nest.Desk.Pages;

/// <summary>From a list as it was saved, or pasted, to a job: what was understood is shown before anything is made.</summary>
public sealed partial class NewJobPage
{
    private const long MostBytes = 16 * 1024 * 1024;

    private PartsDraft? _draft;
    private byte[] _bytes = [];
    private string _file = "";
    private string _pasted = "";
    private string _unit = "";
    private string _mark = "";
    private string _name = "";
    private string _problem = "";
    private int _sets = 1;

    private async Task Load(InputFileChangeEventArgs chosen)
    {
        using var copy = new MemoryStream();
        try
        {
            await chosen.File.OpenReadStream(MostBytes).CopyToAsync(copy);
        }
        catch (IOException)
        {
            _problem = DeskTexts.TooLarge;
            return;
        }

        // Only the ending of the name counts, and what messages call it: it is never a path.
        Read(copy.ToArray(), Path.GetFileName(chosen.File.Name));
    }

    private void Paste()
    {
        if (_pasted.Length > 0)
        {
            Read(System.Text.Encoding.UTF8.GetBytes(_pasted), "pasted list");
        }
    }

    private void Again(string? unit = null, string? mark = null)
    {
        (_unit, _mark) = (unit ?? _unit, mark ?? _mark);
        Read(_bytes, _file);
    }

    private void Read(byte[] bytes, string file)
    {
        (_bytes, _file, _problem) = (bytes, file, "");
        _draft = PartsDraft.Of(bytes, file, new()
        {
            Unit = _unit switch { "mm" => LengthUnit.Millimetre, "in" => LengthUnit.Inch, _ => null },
            DecimalMark = _mark switch { "comma" => ',', "point" => '.', _ => null },
        });
        _name = _name.Length > 0 ? _name : Path.GetFileNameWithoutExtension(file);
    }

    private void Create()
    {
        if (_draft?.Job is not { } job)
        {
            return;
        }

        var made = JobMaker.Make(Shop, _name, Math.Clamp(_sets, 1, 100_000), job);
        if (made.Folder is { } folder)
        {
            Navigation.NavigateTo(Addresses.Plan(folder));
            return;
        }

        _problem = made.Problem;
    }
}
