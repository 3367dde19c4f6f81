using TrimAssist.Core.Meters;
using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Reads <c>[[meters]]</c> and <c>[[overload]]</c>.</summary>
internal static class MeterReader
{
    private const int Most = 128;

    public static IReadOnlyList<MeterProfile> Read(TableReader root, ProfileContext context)
    {
        root.Required("meters", "at least one [[meters]] is needed, or there is nothing to listen to");
        return ReadAll(root, "meters", context, table =>
        {
            var quantity = table.Required("quantity", "\"peak\" or \"rms\"") is null
                ? null
                : table.Choice("quantity", ("peak", MeterQuantity.Peak), ("rms", MeterQuantity.Rms));
            return quantity ?? MeterQuantity.Peak;
        });
    }

    public static IReadOnlyList<MeterProfile> ReadOverloads(TableReader root, ProfileContext context) =>
        ReadAll(root, "overload", context, _ => MeterQuantity.Overload);

    private static List<MeterProfile> ReadAll(TableReader root, string key, ProfileContext context, Func<TableReader, MeterQuantity> quantity)
    {
        var tables = root.Tables(key);
        if (tables.Count > Most)
            root.Problems.Error(tables[Most].Table, $"is one of more than {Most} sources");

        List<MeterProfile> meters = [];
        foreach (var table in tables)
        {
            if (ReadOne(table, quantity(table), context) is { } meter)
                meters.Add(meter);
            table.RefuseUnknown();
        }

        return meters;
    }

    private static MeterProfile? ReadOne(TableReader table, MeterQuantity quantity, ProfileContext context)
    {
        var packing = table.Choice("packing", ("blob", MeterPacking.Blob), ("arguments", MeterPacking.Arguments)) ?? MeterPacking.OneInput;
        var (address, midi) = Where(table, context, packing);
        if (address is not null)
            CheckPlaces(table, address, packing);

        if (packing == MeterPacking.OneInput)
            RefuseWithoutPacking(table);
        var element = packing == MeterPacking.OneInput
            ? null
            : table.Choice("element", ("float32", MeterElement.Real32), ("int16", MeterElement.Whole16), ("int32", MeterElement.Whole32));
        var first = packing == MeterPacking.OneInput ? null : table.Whole("first_input", 1, context.Inputs);
        var count = packing == MeterPacking.OneInput ? null : table.Whole("count", 1, context.Inputs - (first ?? 1) + 1);
        var blob = packing == MeterPacking.Blob;
        var meter = new MeterProfile
        {
            Address = address,
            Midi = midi,
            Quantity = quantity,
            Packing = packing,
            Scale = LevelScaleReader.Read(table, quantity, element, midi),
            Argument = table.Whole("argument", 0, 1023) ?? 0,
            Element = element ?? MeterElement.Real32,
            LittleEndian = blob && (table.Choice("endian", ("big", false), ("little", true)) ?? false),
            SkipBytes = (blob ? table.Whole("skip_bytes", 0, 65536) : null) ?? 0,
            FirstInput = first ?? 1,
            Count = packing == MeterPacking.OneInput ? 0 : count ?? context.Inputs - (first ?? 1) + 1,
            Traits = Traits(table, quantity),
        };
        return address is null && midi is null ? null : meter;
    }

    private static (AddressTemplate? Address, MidiTemplate? Midi) Where(TableReader table, ProfileContext context, MeterPacking packing) => context.IsMidi
        ? (null, MidiReader.ForMeter(table, context, packing))
        : (MessageReader.Address(table, table.Required("address", "the address under which the values arrive")), null);

    private static void CheckPlaces(TableReader table, AddressTemplate address, MeterPacking packing)
    {
        var node = table.Table.Entries["address"].Value;
        if (packing == MeterPacking.OneInput && address.IsFixed)
            table.Problems.Error(node, "names no input: write {input} or {socket}, or say packing = \"blob\" or \"arguments\"");
        if (packing != MeterPacking.OneInput && !address.IsFixed)
            table.Problems.Error(node, "names one input, but packing says that one message holds many");
    }

    private static void RefuseWithoutPacking(TableReader table)
    {
        foreach (var key in new[] { "element", "endian", "skip_bytes", "first_input", "count" })
        {
            if (table.Node(key) is { } node)
                table.Problems.Error(node, "goes with packing = \"blob\" or \"arguments\"");
        }
    }

    private static MeterTraits Traits(TableReader table, MeterQuantity quantity)
    {
        var frame = quantity == MeterQuantity.Overload || table.Required("frame_ms", "the time between two values, in milliseconds") is not null
            ? table.Number("frame_ms", 1, 10_000)
            : null;
        if (quantity == MeterQuantity.Overload)
            return new((frame ?? 100) / 1000);

        return new(
            (frame ?? 50) / 1000,
            table.Number("release_db_per_s", 0, 10_000) ?? 0,
            table.Choice("tap", ("converter", MeterTap.Converter), ("digital-trim", MeterTap.DigitalTrim), ("processing", MeterTap.Processing), ("fader", MeterTap.Fader))
                ?? MeterTap.Unknown,
            table.Flag("follows_mute"));
    }
}
