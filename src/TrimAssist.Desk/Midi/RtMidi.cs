using System.Runtime.InteropServices;
using System.Runtime.InteropServices.Marshalling;

namespace TrimAssist.Desk.Midi;

/// <summary>The C interface of librtmidi 5 (rtmidi_c.h), as far as it is needed. After each call <see cref="Handle.Ok"/> says whether it went well.</summary>
internal static unsafe partial class RtMidi
{
    private const string Library = "librtmidi.so.6";

    /// <summary>Whether the library is on this machine.</summary>
    public static bool IsInstalled
    {
        get
        {
            if (!OperatingSystem.IsLinux() || !NativeLibrary.TryLoad(Library, typeof(RtMidi).Assembly, null, out var handle))
                return false;
            NativeLibrary.Free(handle);
            return true;
        }
    }

    [LibraryImport(Library, EntryPoint = "rtmidi_in_create", StringMarshalling = StringMarshalling.Utf8)]
    public static partial Handle* InCreate(Api api, string client, uint queue);

    [LibraryImport(Library, EntryPoint = "rtmidi_in_free")]
    public static partial void InFree(Handle* device);

    [LibraryImport(Library, EntryPoint = "rtmidi_in_ignore_types")]
    public static partial void InIgnore(Handle* device, [MarshalAs(UnmanagedType.U1)] bool exclusive, [MarshalAs(UnmanagedType.U1)] bool time, [MarshalAs(UnmanagedType.U1)] bool sensing);

    /// <summary>The next message; <paramref name="size"/> is the room on the way in, and 0 where none waits on the way out.</summary>
    [LibraryImport(Library, EntryPoint = "rtmidi_in_get_message")]
    public static partial double InGetMessage(Handle* device, byte* message, nuint* size);

    [LibraryImport(Library, EntryPoint = "rtmidi_out_create", StringMarshalling = StringMarshalling.Utf8)]
    public static partial Handle* OutCreate(Api api, string client);

    [LibraryImport(Library, EntryPoint = "rtmidi_out_free")]
    public static partial void OutFree(Handle* device);

    [LibraryImport(Library, EntryPoint = "rtmidi_out_send_message")]
    public static partial int OutSend(Handle* device, byte* message, int length);

    [LibraryImport(Library, EntryPoint = "rtmidi_open_port", StringMarshalling = StringMarshalling.Utf8)]
    public static partial void OpenPort(Handle* device, uint port, string name);

    [LibraryImport(Library, EntryPoint = "rtmidi_get_port_count")]
    public static partial uint PortCount(Handle* device);

    [LibraryImport(Library, EntryPoint = "rtmidi_get_port_name")]
    public static partial int PortName(Handle* device, uint port, byte* name, int* length);

    /// <summary>enum RtMidiApi: the systems of Linux.</summary>
    public enum Api
    {
        /// <summary>The ALSA sequencer.</summary>
        Alsa = 2,

        /// <summary>A JACK server.</summary>
        Jack = 3,
    }

    /// <summary>struct RtMidiWrapper.</summary>
    [StructLayout(LayoutKind.Sequential)]
    public struct Handle
    {
        private readonly void* _device;
        private readonly void* _data;
        private readonly byte _ok;
        private readonly byte* _message;

        /// <summary>Whether the last call went well.</summary>
        public readonly bool Ok => _ok != 0;

        /// <summary>What went wrong.</summary>
        public readonly string Fault => Utf8StringMarshaller.ConvertToManaged(_message) ?? "no reason given";
    }
}
