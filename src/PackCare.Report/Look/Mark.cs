namespace PackCare.Report.Look;

/// <summary>Shape of a data point.</summary>
internal enum Mark
{
    Circle,
    Square,
    Triangle,
    Diamond,
    Wedge,
    Cross,
}
