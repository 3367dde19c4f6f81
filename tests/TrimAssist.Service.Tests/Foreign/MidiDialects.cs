namespace TrimAssist.Service.Tests.Foreign;

/// <summary>Four MIDI desks of our own invention, as different as the profile language allows.</summary>
internal static class MidiDialects
{
    private const string ForTrims = """
        frame_ms = 50
        tap = "converter"
        follows_mute = false
        """;

    private const double FloorDbfs = -95;
    private const double RangeDb = 60;

    public static IReadOnlyList<MidiDialect> All => [Reed, Fen, Mire, Tarn];

    /// <summary>Trims as pairs of controllers, told but never asked for; meters as polyphonic pressure. What is lost is restored from the journal.</summary>
    private static MidiDialect Reed => new()
    {
        Id = "reed",
        TellsAllAtFirst = true,
        Profile = $$"""
            [[meters]]
            poly_pressure = { channel = 1, note = "{input+35}" }
            quantity = "peak"
            range_db = [-95.0, 0.0]
            {{ForTrims}}
            [controls.trim]
            cc14 = { channel = 1, controller = "{input+15}" }
            range_db = [0.0, 60.0]
            step_db = 1.0
            """,
        Meters = levels => levels.Inputs.Select(i => (byte[])[0xA0, (byte)(35 + i), Seven(levels.Peak(i))]),
        Set = () =>
        {
            var upper = new int[DeskState.Inputs + 1];
            return message =>
            {
                if (message is [0xB0, >= 16 and <= 19 and var first, var high])
                    upper[first - 15] = high;
                return message is [0xB0, >= 48 and <= 51 and var second, var low] ? (second - 47, RangeDb * ((upper[second - 47] << 7) | low) / 16383) : null;
            };
        },
        Tell = (i, db) =>
        {
            var value = Two((int)Math.Round(16383 * db / RangeDb));
            return [[0xB0, (byte)(15 + i), value[0]], [0xB0, (byte)(47 + i), value[1]]];
        },
    };

    /// <summary>Trims as parameters across a part of their range, asked for by a message of its own; meters as controllers, least first.</summary>
    private static MidiDialect Fen => new()
    {
        Id = "fen",
        Profile = $$"""
            [[meters]]
            cc = { channel = 2, controller = "{input+79}" }
            range = [10, 120]
            quantity = "peak"
            unit = "fraction"
            range_db = [-95.0, 0.0]
            {{ForTrims}}
            [controls.trim]
            nrpn = { channel = 3, parameter = "{input+299}" }
            range = [1000, 7000]
            range_db = [0.0, 60.0]
            step_db = 1.0
            query = { sysex = "F0 7D 22 {input-1} F7" }
            [controls.mute]
            note = { channel = 4, note = "{input+59}" }
            on = 127
            off = 0
            covers = ["main", "sends", "direct"]
            """,
        Meters = levels => levels.Inputs.Select(i => (byte[])[0xB1, (byte)(79 + i), (byte)(10 + (110 * (levels.Peak(i) - FloorDbfs) / -FloorDbfs))]),
        Set = () =>
        {
            var heard = new Dictionary<int, int>();
            return message =>
            {
                if (message[0] != 0xB2)
                    return null;
                heard[message[1]] = message[2];
                return message[1] == 38 ? (((heard[99] << 7) | heard[98]) - 299, (((heard[6] << 7) | heard[38]) - 1000) / 100.0) : null;
            };
        },
        Ask = message => message is [0xF0, 0x7D, 0x22, var input, 0xF7] ? input + 1 : null,
        Tell = (i, db) =>
        {
            var (parameter, value) = (Two(299 + i), Two((int)Math.Round(1000 + (100 * db))));
            return [[0xB2, 99, parameter[0]], [0xB2, 98, parameter[1]], [0xB2, 6, value[0]], [0xB2, 38, value[1]]];
        },
    };

    /// <summary>Everything in system exclusive messages with a checksum: one form to set, another to ask and to tell; all meters in one message.</summary>
    private static MidiDialect Mire => new()
    {
        Id = "mire",
        Pushes = false,
        Profile = $$"""
            [[subscription]]
            sysex = "F0 7D 05 10 01 F7"
            renew_s = 4.0
            [[meters]]
            sysex = "F0 7D 05 30 {value:2} F7"
            packing = "blob"
            range = [0, 9500]
            quantity = "peak"
            range_db = [-95.0, 0.0]
            {{ForTrims}}
            [controls.trim]
            sysex = "F0 7D 05 12 {input-1} {value:2} {checksum} F7"
            checksum = { rule = "sum-to-zero", from = 4 }
            reply = { sysex = "F0 7D 05 13 {input-1} {value:2} {checksum} F7", checksum = { rule = "sum-to-zero", from = 4 }, range = [0, 600] }
            query = { sysex = "F0 7D 05 11 {input-1} {checksum} F7", checksum = { rule = "sum-to-zero", from = 4 } }
            range = [0, 600]
            range_db = [0.0, 60.0]
            step_db = 1.0
            verify = "query"
            """,
        Meters = levels => [[0xF0, 0x7D, 5, 0x30, .. levels.Inputs.SelectMany(i => Two((int)(100 * (levels.Peak(i) - FloorDbfs)))), 0xF7]],
        Set = () => message => message is [0xF0, 0x7D, 5, 0x12, var input, var high, var low, var check, 0xF7] && ((input + high + low + check) & 0x7F) == 0
            ? (input + 1, ((high << 7) | low) / 10.0)
            : null,
        Ask = message => message is [0xF0, 0x7D, 5, 0x11, var input, var check, 0xF7] && ((input + check) & 0x7F) == 0 ? input + 1 : null,
        Tell = (i, db) =>
        {
            var value = Two((int)Math.Round(10 * db));
            return [[0xF0, 0x7D, 5, 0x13, (byte)(i - 1), .. value, (byte)(-(i - 1 + value[0] + value[1]) & 0x7F), 0xF7]];
        },
    };

    /// <summary>Trims as plain controllers along a bent curve, one channel an input; meters as notes.</summary>
    private static MidiDialect Tarn => new()
    {
        Id = "tarn",
        TellsAllAtFirst = true,
        Profile = $$"""
            [[meters]]
            note = { channel = 16, note = "{input+11}" }
            quantity = "peak"
            range_db = [-95.0, 0.0]
            {{ForTrims}}
            [controls.trim]
            cc = { channel = "{input}", controller = 7 }
            curve = [[0, 0.0], [64, 32.0], [120, 60.0], [127, 61.0]]
            step_db = 1.0
            """,
        Meters = levels => levels.Inputs.Select(i => (byte[])[0x9F, (byte)(11 + i), Seven(levels.Peak(i))]),
        Set = () => message => message is [>= 0xB0 and <= 0xB3 and var status, 7, var value] ? (status - 0xB0 + 1, value / 2.0) : null,
        Tell = (i, db) => [[(byte)(0xB0 + i - 1), 7, (byte)Math.Round(2 * db)]],
    };

    private static byte Seven(double dbfs) => (byte)Math.Round(127 * Math.Clamp((dbfs - FloorDbfs) / -FloorDbfs, 0, 1));

    private static byte[] Two(int value) => [(byte)(value >> 7), (byte)(value & 0x7F)];
}
