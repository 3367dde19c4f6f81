using System.Buffers.Binary;
using System.Globalization;
using TrimAssist.Protocols.Osc;
using static TrimAssist.Protocols.Osc.OscArgument;

namespace TrimAssist.Service.Tests.Foreign;

/// <summary>Ten desks of our own invention, as different from one another as the profile language allows.</summary>
internal static class Dialects
{
    private const string ForTrims = "tap = \"converter\"\nfollows_mute = false";

    public static IReadOnlyList<Dialect> All { get; } = [Sill, Moss, Pike, Fern, Gull, Brook, Dale, Crag, Loch, Weir];

    /// <summary>The plain one: a message an input, everything in dB.</summary>
    private static Dialect Sill => new()
    {
        Id = "sill",
        Profile = $"""
            [[subscription]]
            address = "/sill/join"
            renew_s = 2.0
            [[meters]]
            address = "/sill/{"{input}"}/top"
            quantity = "peak"
            unit = "dbfs"
            frame_ms = 50
            {ForTrims}
            [controls.trim]
            address = "/sill/{"{input}"}/gain"
            unit = "db"
            range_db = [0.0, 60.0]
            step_db = 1.0
            """,
        Meters = levels => levels.Inputs.Select(i => new OscMessage($"/sill/{i}/top", Of((float)levels.Peak(i)))),
        Set = m => Dialect.Number(m, "/sill/", "/gain") is { } i && m.Arguments is [var v] ? (i, v.Number!.Value) : null,
        Ask = m => Dialect.Number(m, "/sill/", "/gain"),
        Tell = (i, db) => new($"/sill/{i}/gain", Of((float)db)),
    };

    /// <summary>Inputs from 00, linear meters behind a counter, trims as a fraction, and a port of its own for what it sends.</summary>
    private static Dialect Moss => new()
    {
        Id = "moss",
        FrameS = 0.04,
        ListensApart = true,
        Profile = $"""
            [[subscription]]
            address = "/moss/join"
            arguments = ["all", 1, 2.5, true]
            renew_s = 3.0
            [[meters]]
            address = "/moss/in{"{input-1:00}"}/lv"
            quantity = "peak"
            unit = "amplitude"
            argument = 1
            frame_ms = 40
            {ForTrims}
            [controls.trim]
            address = "/moss/pre/{"{input-1:00}"}/amt"
            unit = "fraction"
            range_db = [-10.0, 50.0]
            step_db = 0.5
            """,
        Meters = levels => levels.Inputs.Select(i => new OscMessage($"/moss/in{i - 1:00}/lv", Of((int)(levels.TimeS * 25)), Of((float)Levels.Amplitude(levels.Peak(i))))),
        Set = m => Dialect.Number(m, "/moss/pre/", "/amt") is { } n && m.Arguments is [var v] ? (n + 1, (60 * v.Number!.Value) - 10) : null,
        Ask = m => Dialect.Number(m, "/moss/pre/", "/amt") + 1,
        Tell = (i, db) => new($"/moss/pre/{i - 1:00}/amt", Of((float)((db + 10) / 60))),
    };

    /// <summary>One blob of small integers, least byte first, behind a header; trims as ints on a bent curve, told beside a word.</summary>
    private static Dialect Pike => new()
    {
        Id = "pike",
        Profile = $"""
            [[subscription]]
            address = "/pike/join"
            renew_s = 2.0
            [[meters]]
            address = "/pike/all"
            quantity = "peak"
            unit = "dbfs"
            packing = "blob"
            skip_bytes = 6
            element = "int16"
            endian = "little"
            count_db = 0.0078125
            frame_ms = 50
            {ForTrims}
            [controls.trim]
            address = "/pike/{"{input}"}/set"
            arguments = ["trim", "{"{value}"}"]
            curve = [[0.0, -5.0], [0.5, 25.0], [1.0, 60.0]]
            range = [0, 1023]
            value_type = "int"
            step_db = 0.5
            [controls.mute]
            address = "/pike/{"{input}"}/set"
            arguments = ["cut", "{"{value}"}"]
            on = "yes"
            off = "no"
            """,
        Meters = levels => [new("/pike/all", Blob(6, 2, levels, (bytes, i) => BinaryPrimitives.WriteInt16LittleEndian(bytes, (short)Math.Round(levels.Peak(i) * 128))))],
        Set = m => Dialect.Number(m, "/pike/", "/set") is { } i && m.Arguments is [{ Text: "trim" }, var v] ? (i, Bent(v.Number!.Value / 1023)) : null,
        Ask = m => m.Arguments is [{ Text: "trim" }] ? Dialect.Number(m, "/pike/", "/set") : null,
        Tell = (i, db) => new($"/pike/{i}/set", Of("trim"), Of((int)Math.Round(1023 * Straight(db)))),
        Other = (_, m) => m.Arguments is [{ Text: "cut" }] ? new(m.Address, Of("cut"), Of("no")) : null,
    };

    /// <summary>A list of fractions; questions under one address, answers under another; says nothing unasked, not even an echo.</summary>
    private static Dialect Fern => new()
    {
        Id = "fern",
        FrameS = 0.06,
        Pushes = false,
        Profile = $"""
            [[subscription]]
            address = "/fern/join"
            renew_s = 2.0
            [[meters]]
            address = "/fern/bars"
            quantity = "peak"
            unit = "fraction"
            range_db = [-90.0, 6.0]
            packing = "arguments"
            argument = 1
            frame_ms = 60
            {ForTrims}
            [controls.trim]
            address = "/fern/put"
            arguments = ["trim", "{"{input}"}", "{"{value}"}"]
            unit = "db"
            value_type = "double"
            range_db = [0.0, 60.0]
            step_db = 0.5
            query = {"{"} address = "/fern/ask", arguments = ["trim", "{"{input}"}"] {"}"}
            reply_address = "/fern/says"
            reply_argument = 2
            verify = "query"
            """,
        Meters = levels => [new("/fern/bars", [Of("bars"), .. levels.Inputs.Select(i => Of((float)((levels.Peak(i) + 90) / 96)))])],
        Set = m => m is { Address: "/fern/put", Arguments: [{ Text: "trim" }, var i, var v] } ? ((int)i.Number!.Value, v.Number!.Value) : null,
        Ask = m => m is { Address: "/fern/ask", Arguments: [{ Text: "trim" }, var i] } ? (int)i.Number!.Value : null,
        Tell = (i, db) => new("/fern/says", Of("trim"), Of(i), Of(db)),
    };

    /// <summary>Trims as text, set under one address for all, told under an address each; meters in tenths of a dB.</summary>
    private static Dialect Gull => new()
    {
        Id = "gull",
        Profile = $"""
            [[subscription]]
            address = "/gull/join"
            renew_s = 2.0
            [[meters]]
            address = "/gull/{"{input:00}"}/bar"
            quantity = "peak"
            unit = "dbfs"
            count_db = 0.1
            frame_ms = 50
            {ForTrims}
            [controls.trim]
            address = "/gull/set-trim"
            arguments = ["{"{input}"}", "{"{value}"}"]
            unit = "db"
            value_type = "string"
            range_db = [0.0, 60.0]
            step_db = 0.5
            query = {"{"} address = "/gull/tell-trim", arguments = ["{"{input}"}"] {"}"}
            reply_address = "/gull/{"{input:00}"}/trim"
            """,
        Meters = levels => levels.Inputs.Select(i => new OscMessage($"/gull/{i:00}/bar", Of((int)Math.Round(levels.Peak(i) * 10)))),
        Set = m => m is { Address: "/gull/set-trim", Arguments: [var i, { Text: { } text }] } ? ((int)i.Number!.Value, double.Parse(text, CultureInfo.InvariantCulture)) : null,
        Ask = m => m is { Address: "/gull/tell-trim", Arguments: [var i] } ? (int)i.Number!.Value : null,
        Tell = (i, db) => new($"/gull/{i:00}/trim", Of(string.Create(CultureInfo.InvariantCulture, $"{db:0.0} dB"))),
    };

    /// <summary>Speaks of sockets, not of inputs; its flag means open.</summary>
    private static Dialect Brook => new()
    {
        Id = "brook",
        Profile = $"""
            [[subscription]]
            address = "/brook/join"
            renew_s = 2.0
            [[meters]]
            address = "/brook/s{"{socket:000}"}/top"
            quantity = "peak"
            unit = "dbfs"
            frame_ms = 50
            {ForTrims}
            [controls.source]
            address = "/brook/{"{input}"}/from"
            [controls.trim]
            address = "/brook/s{"{socket:000}"}/gain"
            unit = "db"
            range_db = [0.0, 60.0]
            step_db = 1.0
            shared_with = ["monitors"]
            [controls.mute]
            address = "/brook/{"{input}"}/open"
            on = false
            off = true
            covers = ["main"]
            """,
        Meters = levels => levels.Inputs.Select(i => new OscMessage($"/brook/s{i:000}/top", Of((float)levels.Peak(i)))),
        Set = m => Dialect.Number(m, "/brook/s", "/gain") is { } s && m.Arguments is [var v] ? (s, v.Number!.Value) : null,
        Ask = m => Dialect.Number(m, "/brook/s", "/gain"),
        Tell = (s, db) => new($"/brook/s{s:000}/gain", Of((float)db)),
        Other = (desk, m) => Dialect.Number(m, "/brook/", "/from") is { } input ? new(m.Address, Of(desk.Sockets[input - 1]))
            : m.Address.EndsWith("/open", StringComparison.Ordinal) ? new(m.Address, Of(true)) : null,
    };

    /// <summary>Meters that fall back slowly; trims in whole steps of three dB.</summary>
    private static Dialect Dale
    {
        get
        {
            var shown = new double[DeskState.Inputs + 1];
            Array.Fill(shown, -90);
            return new()
            {
                Id = "dale",
                FrameS = 0.08,
                Profile = $"""
                    [[subscription]]
                    address = "/dale/join"
                    renew_s = 2.0
                    [[meters]]
                    address = "/dale/{"{input+100}"}/bar"
                    quantity = "peak"
                    unit = "dbfs"
                    release_db_per_s = 25
                    frame_ms = 80
                    {ForTrims}
                    [controls.trim]
                    address = "/dale/{"{input+100}"}/trim"
                    unit = "db"
                    value_type = "int"
                    range_db = [0.0, 60.0]
                    step_db = 3.0
                    """,
                Meters = levels => levels.Inputs.Select(i => new OscMessage($"/dale/{i + 100}/bar", Of((float)(shown[i] = Math.Max(levels.Peak(i), shown[i] - 2))))),
                Set = m => Dialect.Number(m, "/dale/", "/trim") - 100 is { } i && m.Arguments is [var v] ? (i, v.Number!.Value) : null,
                Ask = m => Dialect.Number(m, "/dale/", "/trim") - 100,
                Tell = (i, db) => new($"/dale/{i + 100}/trim", Of((int)db)),
            };
        }
    }

    /// <summary>A stream framed by length; peaks one by one, RMS all in one blob of floats, least byte first.</summary>
    private static Dialect Crag => new()
    {
        Id = "crag",
        Framing = "length",
        Profile = $"""
            [[subscription]]
            address = "/crag/join"
            [[meters]]
            address = "/crag/{"{input}"}/top"
            quantity = "peak"
            unit = "dbfs"
            frame_ms = 50
            {ForTrims}
            [[meters]]
            address = "/crag/means"
            quantity = "rms"
            unit = "amplitude"
            offset_db = 3.01
            packing = "blob"
            element = "float32"
            endian = "little"
            frame_ms = 50
            {ForTrims}
            [controls.trim]
            address = "/crag/{"{input}"}/gain"
            unit = "db"
            range_db = [0.0, 60.0]
            step_db = 1.0
            """,
        Meters = levels => levels.Inputs.Select(i => new OscMessage($"/crag/{i}/top", Of((float)levels.Peak(i))))
            .Append(new("/crag/means", Blob(0, 4, levels, (bytes, i) => BinaryPrimitives.WriteSingleLittleEndian(bytes, (float)Levels.Amplitude(levels.Rms(i) - 3.01))))),
        Set = m => Dialect.Number(m, "/crag/", "/gain") is { } i && m.Arguments is [var v] ? (i, v.Number!.Value) : null,
        Ask = m => Dialect.Number(m, "/crag/", "/gain"),
        Tell = (i, db) => new($"/crag/{i}/gain", Of((float)db)),
    };

    /// <summary>A stream in SLIP; a bundle with a time tag a frame, peak and RMS side by side; asked under one address for any other.</summary>
    private static Dialect Loch => new()
    {
        Id = "loch",
        Framing = "slip",
        Bundles = true,
        Profile = $"""
            [[subscription]]
            address = "/join"
            [[meters]]
            address = "/in/{"{input}"}/bars"
            quantity = "peak"
            unit = "dbfs"
            frame_ms = 50
            {ForTrims}
            [[meters]]
            address = "/in/{"{input}"}/bars"
            argument = 1
            quantity = "rms"
            unit = "dbfs"
            frame_ms = 50
            {ForTrims}
            [controls.trim]
            address = "/in/{"{input}"}/gain"
            unit = "db"
            range_db = [0.0, 60.0]
            step_db = 1.0
            query = {"{"} address = "/get", arguments = ["/in/{"{input}"}/gain"] {"}"}
            """,
        Meters = levels => levels.Inputs.Select(i => new OscMessage($"/in/{i}/bars", Of((float)levels.Peak(i)), Of((float)levels.Rms(i)))),
        Set = m => Dialect.Number(m, "/in/", "/gain") is { } i && m.Arguments is [var v] ? (i, v.Number!.Value) : null,
        Ask = m => m is { Address: "/get", Arguments: [{ Text: { } what }] } ? Dialect.Number(new OscMessage(what), "/in/", "/gain") : null,
        Tell = (i, db) => new($"/in/{i}/gain", Of((float)db)),
    };

    /// <summary>Cannot be asked: tells everything to whoever enrols, input by input. Its trim is an attenuator; its meters are wide integers.</summary>
    private static Dialect Weir => new()
    {
        Id = "weir",
        TellsAllOnEnrolling = true,
        Profile = $"""
            [[subscription]]
            address = "/weir/{"{input}"}/join"
            renew_s = 2.0
            [[meters]]
            address = "/weir/all"
            quantity = "peak"
            unit = "amplitude"
            packing = "blob"
            element = "int32"
            count_full = 2147483647
            frame_ms = 50
            {ForTrims}
            [controls.trim]
            address = "/weir/{"{input}"}/less"
            curve = [[0.0, 60.0], [60.0, 0.0]]
            step_db = 1.0
            query = "none"
            """,
        Meters = levels => [new("/weir/all", Blob(0, 4, levels, (bytes, i) => BinaryPrimitives.WriteInt32BigEndian(bytes, (int)(int.MaxValue * Levels.Amplitude(levels.Peak(i))))))],
        Set = m => Dialect.Number(m, "/weir/", "/less") is { } i && m.Arguments is [var v] ? (i, 60 - v.Number!.Value) : null,
        Ask = _ => null,
        Tell = (i, db) => new($"/weir/{i}/less", Of((float)(60 - db))),
    };

    private delegate void Writer(Span<byte> bytes, int input);

    private static OscArgument Blob(int skip, int size, Levels levels, Writer write)
    {
        var bytes = new byte[skip + (size * DeskState.Inputs)];
        foreach (var input in levels.Inputs)
            write(bytes.AsSpan(skip + (size * (input - 1))), input);
        return OfBlob(bytes);
    }

    private static double Bent(double fraction) => fraction < 0.5 ? -5 + (60 * fraction) : 25 + (70 * (fraction - 0.5));

    private static double Straight(double db) => db < 25 ? (db + 5) / 60 : 0.5 + ((db - 25) / 70);
}
