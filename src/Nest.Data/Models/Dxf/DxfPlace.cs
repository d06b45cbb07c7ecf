namespace Nest.Data.Models.Dxf;

/// <summary>Where and how a block lies in the plane: x' = A·x + B·y + X, y' = C·x + D·y + Y.</summary>
internal readonly record struct DxfPlace(double A, double B, double C, double D, double X, double Y)
{
    public static readonly DxfPlace None = new(1, 0, 0, 1, 0, 0);

    /// <summary>Seen from below (extrusion 0, 0, −1) x runs the other way.</summary>
    public static readonly DxfPlace FromBelow = new(-1, 0, 0, 1, 0, 0);

    /// <summary>Negative: turned over, so that arcs run the other way.</summary>
    public double Determinant => (A * D) - (B * C);

    /// <summary>Whether a circle stays a circle.</summary>
    public bool KeepsCircles
    {
        get
        {
            var size = Math.Abs(A) + Math.Abs(B) + Math.Abs(C) + Math.Abs(D);
            var near = 1e-9 * size;
            return (Math.Abs(A - D) <= near && Math.Abs(B + C) <= near) || (Math.Abs(A + D) <= near && Math.Abs(B - C) <= near);
        }
    }

    public static DxfPlace Shifted(double x, double y) => new(1, 0, 0, 1, x, y);

    public static DxfPlace Scaled(double x, double y) => new(x, 0, 0, y, 0, 0);

    /// <param name="degrees">Counter-clockwise; quarter turns are exact.</param>
    public static DxfPlace Turned(double degrees)
    {
        var turn = degrees - (360 * Math.Floor(degrees / 360));
        var (sin, cos) = turn switch { 0 => (0, 1), 90 => (1, 0), 180 => (0, -1), 270 => (-1, 0), _ => Math.SinCos(turn * Math.PI / 180) };
        return new(cos, -sin, sin, cos, 0, 0);
    }

    public (double X, double Y) At(double x, double y) => ((A * x) + (B * y) + X, (C * x) + (D * y) + Y);

    /// <summary>First the other, then this.</summary>
    public DxfPlace After(DxfPlace first)
    {
        var (x, y) = At(first.X, first.Y);
        return new((A * first.A) + (B * first.C), (A * first.B) + (B * first.D), (C * first.A) + (D * first.C), (C * first.B) + (D * first.D), x, y);
    }
}
