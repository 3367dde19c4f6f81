namespace TrimAssist.Desk.Profiles.Templates;

/// <summary>An OSC message with places for the input, the socket and the value.</summary>
/// <param name="Address">The address.</param>
/// <param name="Arguments">The arguments in order.</param>
public sealed record MessageTemplate(AddressTemplate Address, IReadOnlyList<ArgumentTemplate> Arguments)
{
    /// <summary>Whether the message differs from input to input.</summary>
    public bool NamesInput => !Address.IsFixed || Arguments.Any(a => a.NamesInput);

    /// <summary>Whether the socket stands in it.</summary>
    public bool HasSocket => Address.HasSocket || Arguments.Any(a => a.HasSocket);

    /// <summary>Where the value stands; −1 where it does not.</summary>
    public int ValueIndex
    {
        get
        {
            for (var i = 0; i < Arguments.Count; i++)
            {
                if (Arguments[i].IsValue)
                    return i;
            }

            return -1;
        }
    }
}
