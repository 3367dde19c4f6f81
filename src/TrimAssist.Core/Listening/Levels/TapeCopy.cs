namespace TrimAssist.Core.Listening.Levels;

/// <summary>A copy of an input's tape to work on: one number a cell, NaN where nothing was read or the cell is cut out.</summary>
/// <param name="StartS">Start of the first cell.</param>
/// <param name="CellS">Length of a cell in seconds.</param>
/// <param name="Peak">Highest peak of each cell in dBFS.</param>
/// <param name="Energy">Mean energy of each cell as a level in dBFS.</param>
internal sealed record TapeCopy(double StartS, double CellS, double[] Peak, double[] Energy)
{
    /// <summary>Number of cells.</summary>
    public int Length => Peak.Length;

    /// <summary>How many cells make up a stretch, at least one.</summary>
    public int Cells(double seconds) => Math.Max(1, (int)Math.Round(seconds / CellS));

    /// <summary>Start of a cell in the readings' time.</summary>
    public double TimeOf(int cell) => StartS + cell * CellS;
}
