namespace TrimAssist.Service.Security;

/// <summary>Which role may ask for which path. What is not allowed here is refused.</summary>
internal static class AccessRules
{
    /// <summary>Open to everybody: whether the service serves, and the way to a credential.</summary>
    public static bool IsOpenToAll(PathString path) => Is(path, "/api/health") || Is(path, "/pair") || Is(path, "/pair.css");

    /// <summary>Whether the caller may ask for this. The inputs of a confirmation are looked at by the gate's keeper.</summary>
    public static bool Allow(Caller caller, string method, PathString path)
    {
        if (caller.Role == Role.Engineer || IsOpenToAll(path))
            return true;
        var looks = HttpMethods.IsGet(method) || HttpMethods.IsHead(method);
        if (looks && IsAsset(path))
            return true;
        return caller.Role switch
        {
            Role.Guest => looks && IsData(path),
            Role.Stage => IsOnStage(caller, looks, path) || (looks && Is(path, "/api/desks")),
            Role.Room => IsOnStage(caller, looks, path) || (looks ? IsData(path) || IsRoomPage(path) : IsAnswer(path)),
            _ => false,
        };
    }

    // The stage's page and what it asks for. The engineer's pages act from inside the service, past HTTP, so nobody else gets them.
    private static bool IsOnStage(Caller caller, bool looks, PathString path) => path.Value?.Split('/') switch
    {
        ["", "stage"] or ["", "desks", _, "stage"] => looks,
        ["", "_blazor", ..] => true,
        ["", "api", "desks", var desk, "inputs", var input, "patch", ..] => caller.IsAt(desk) && int.TryParse(input, out var number) && caller.Inputs?.Contains(number) is not false,
        _ => false,
    };

    private static bool IsRoomPage(PathString path) => path.Value?.Split('/') is ["", "room"] or ["", "desks", _, "room"];

    // The page's own files lie side by side; a name with a dot deeper down may be a page's.
    private static bool IsAsset(PathString path) =>
        IsUnder(path, "/_framework") || IsUnder(path, "/_content") || (path.Value?.Split('/') is ["", var file] && Path.HasExtension(file));

    private static bool IsData(PathString path) => IsUnder(path, "/api") && !IsUnder(path, "/api/pairing") && !IsUnder(path, "/api/credentials");

    private static bool IsAnswer(PathString path) => path.Value?.Split('/') is ["", "api", "proposals", _, "confirm" or "decline"];

    private static bool Is(PathString path, string exact) => path.Equals(exact, StringComparison.OrdinalIgnoreCase);

    private static bool IsUnder(PathString path, string start) => path.StartsWithSegments(start, StringComparison.OrdinalIgnoreCase);
}
