using System.Net;
using Microsoft.AspNetCore.Connections;

namespace TrimAssist.Service.Security;

/// <summary>One connection among the many. It may be ended for another's sake until somebody who may ask has asked over it.</summary>
/// <param name="connection">The connection.</param>
/// <param name="from">Where it comes from; <see langword="null"/> for this machine.</param>
/// <param name="bounds">Who counts them.</param>
internal sealed class ConnectionSeat(ConnectionContext connection, IPAddress? from, ConnectionBounds bounds)
{
    private volatile bool _isProven;

    /// <summary>Where it comes from; <see langword="null"/> for this machine.</summary>
    public IPAddress? From => from;

    /// <summary>Whether somebody who may ask has asked over it.</summary>
    public bool IsProven => _isProven;

    /// <summary>The credential that was shown over it; <see langword="null"/> for none.</summary>
    public Guid? Credential { get; private set; }

    /// <summary>Takes in that somebody who may ask has asked over it.</summary>
    /// <param name="credential">The credential shown; <see langword="null"/> on this machine, where none is needed.</param>
    public void Prove(Guid? credential)
    {
        if (!_isProven)
            bounds.Prove(this, credential);
    }

    /// <summary>Keeps it from being ended for another's sake. Called by the bounds, which count.</summary>
    internal void Keep(Guid? credential)
    {
        Credential = credential;
        _isProven = true;
    }

    /// <summary>Ends it.</summary>
    internal void End(string why) => connection.Abort(new ConnectionAbortedException(why));
}
