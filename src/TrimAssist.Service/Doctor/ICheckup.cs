namespace TrimAssist.Service.Doctor;

/// <summary>Looks at one thing that could spoil a show. Changes nothing, on this machine or at a desk.</summary>
internal interface ICheckup
{
    /// <summary>Looks, and says what it found; nothing where there is nothing to look at.</summary>
    Task<IReadOnlyList<Diagnosis>> LookAsync(Premises premises, CancellationToken cancellationToken);
}
