using Nest.Output.Fonts;
using Nest.Output.Scenes;
using SkiaSharp;

namespace Nest.Output.Draw;

/// <summary>Draws a scene on a Skia canvas whose unit is the millimetre.</summary>
internal static class SkiaPainter
{
    public static void Paint(SKCanvas canvas, Scene scene)
    {
        using var paint = new SKPaint { IsAntialias = true };
        var fonts = new Dictionary<(SKTypeface, float), SKFont>();
        foreach (var element in scene.Elements)
        {
            switch (element)
            {
                case BoxElement box:
                    Shape(paint, box.Fill, box.Stroke, pen => canvas.DrawRect(Rect(box.Box), pen));
                    break;
                case CircleElement circle:
                    Shape(paint, circle.Fill, circle.Stroke, pen =>
                        canvas.DrawCircle((float)circle.X, (float)circle.Y, (float)circle.Radius, pen));
                    break;
                case LinesElement lines:
                    Lines(canvas, paint, lines);
                    break;
                case TextElement text:
                    Text(canvas, paint, text, fonts);
                    break;
                default:
                    throw new InvalidOperationException($"No way to draw {element.GetType().Name}.");
            }
        }

        foreach (var font in fonts.Values)
        {
            font.Dispose();
        }
    }

    private static void Shape(SKPaint paint, Tint? fill, Stroke? stroke, Action<SKPaint> draw)
    {
        if (fill is { } tint)
        {
            paint.Style = SKPaintStyle.Fill;
            paint.Color = Color(tint);
            draw(paint);
        }

        if (stroke is { } line)
        {
            using var dash = Pen(paint, line);
            draw(paint);
            paint.PathEffect = null;
        }
    }

    private static void Lines(SKCanvas canvas, SKPaint paint, LinesElement lines)
    {
        using var dash = Pen(paint, lines.Stroke);
        using var path = new SKPathBuilder();
        foreach (var segment in lines.Segments)
        {
            path.MoveTo((float)segment.X1, (float)segment.Y1);
            path.LineTo((float)segment.X2, (float)segment.Y2);
        }

        using var drawn = path.Detach();
        canvas.DrawPath(drawn, paint);
        paint.PathEffect = null;
    }

    private static SKPathEffect? Pen(SKPaint paint, Stroke stroke)
    {
        paint.Style = SKPaintStyle.Stroke;
        paint.Color = Color(stroke.Tint);
        paint.StrokeWidth = (float)stroke.Width;
        var dash = stroke.Dash > 0 ? SKPathEffect.CreateDash([(float)stroke.Dash, (float)stroke.Dash * 0.7f], 0) : null;
        paint.PathEffect = dash;
        return dash;
    }

    private static void Text(SKCanvas canvas, SKPaint paint, TextElement text, Dictionary<(SKTypeface, float), SKFont> fonts)
    {
        // A lying text, and nearly all are, needs no axes of its own: a third less in a PDF.
        var (x, y) = (text.X, text.Y);
        if (text.Standing)
        {
            canvas.Save();
            canvas.Translate((float)text.X, (float)text.Y);
            canvas.RotateDegrees(-90);
            (x, y) = (0, 0);
        }

        paint.Color = Color(text.Tint);
        foreach (var run in FontBook.Runs(text.Text, text.Face))
        {
            if (run.Typeface is null)
            {
                paint.Style = SKPaintStyle.Stroke;
                paint.StrokeWidth = (float)(text.Size * 0.06);
                var em = text.Size;
                canvas.DrawRect(
                    SKRect.Create((float)(x + (em * 0.08)), (float)(y - (FontBook.CapHeight * em)), (float)(em * 0.54), (float)(FontBook.CapHeight * em)), paint);
            }
            else
            {
                paint.Style = SKPaintStyle.Fill;
                if (!fonts.TryGetValue((run.Typeface, (float)text.Size), out var font))
                {
                    font = new SKFont(run.Typeface, (float)text.Size) { Hinting = SKFontHinting.None, Subpixel = true, LinearMetrics = true, Edging = SKFontEdging.Antialias };
                    fonts.Add((run.Typeface, (float)text.Size), font);
                }

                canvas.DrawText(run.Text, (float)x, (float)y, SKTextAlign.Left, font, paint);
            }

            x += run.Width * text.Size;
        }

        if (text.Standing)
        {
            canvas.Restore();
        }
    }

    private static SKRect Rect(Box box) => new((float)box.X, (float)box.Y, (float)box.Right, (float)box.Bottom);

    private static SKColor Color(Tint tint) => new(tint.Red, tint.Green, tint.Blue);
}
