using System.Net;
using System.Net.Sockets;
using System.Runtime.InteropServices;

namespace TrimAssist.Desk.Network;

/// <summary>
/// Many datagrams a call, by <c>recvmmsg(2)</c> of 64-bit Linux: a quarter of the cost of one at a time, and a burst does not
/// overflow the buffer. Counts what the kernel threw away (<c>SO_RXQ_OVFL</c>, <c>socket(7)</c>).
/// </summary>
internal sealed unsafe partial class BatchReceiver : IDatagramReceiver
{
    private const int Batch = 64;
    private const int LargestDatagram = 65_536;
    private const int AddressRoom = 32;
    private const int ControlRoom = 64;

    // <asm-generic/socket.h>, <bits/socket.h>
    private const int SocketLevel = 1;
    private const int OverflowOption = 40;
    private const int DoNotWait = 0x40;
    private const int WaitForOne = 0x1_0000;

    private readonly Socket _socket;
    private readonly SocketAddress _from;
    private readonly MessageHead* _heads = (MessageHead*)NativeMemory.AllocZeroed(Batch, (nuint)sizeof(MessageHead));
    private readonly BufferPart* _parts = (BufferPart*)NativeMemory.AllocZeroed(Batch, (nuint)sizeof(BufferPart));
    private readonly byte* _addresses = (byte*)NativeMemory.AllocZeroed(Batch, AddressRoom);
    private readonly byte* _controls = (byte*)NativeMemory.AllocZeroed(Batch, ControlRoom);

    // Four MiB of address space, of which only the pages that a datagram ever reached are real memory.
    private readonly byte* _datagrams = (byte*)NativeMemory.AllocZeroed(Batch, LargestDatagram);
    private int _used = Batch;

    private BatchReceiver(Socket socket)
    {
        _socket = socket;
        _from = new SocketAddress(socket.AddressFamily);
        Overflowed = TellsOverflow(socket) ? 0 : null;
        for (var i = 0; i < Batch; i++)
        {
            _parts[i] = new() { Start = _datagrams + (i * LargestDatagram), Length = LargestDatagram };
            _heads[i] = new() { Parts = &_parts[i], PartCount = 1, Name = _addresses + (i * AddressRoom), Control = _controls + (i * ControlRoom) };
        }
    }

    /// <summary>Takes the datagrams of a socket.</summary>
    /// <returns><see langword="null"/> where the system, or the sandbox around the program, does not have the call in the form used here.</returns>
    public static BatchReceiver? TryOpen(Socket socket)
    {
        // For no datagram at all: only whether there is such a call.
        var isThere = OperatingSystem.IsLinux() && Environment.Is64BitProcess && ReceiveMany(socket.SafeHandle, null, 0, DoNotWait, null) >= 0;
        return isThere ? new(socket) : null;
    }

    /// <inheritdoc/>
    public int Most => Batch;

    /// <inheritdoc/>
    public long? Overflowed { get; private set; }

    /// <inheritdoc/>
    public int Receive(bool wait)
    {
        for (var i = 0; i < _used; i++)
            (_heads[i].NameLength, _heads[i].ControlLength) = (AddressRoom, ControlRoom);
        // Nothing in time, an interruption, the network's word that nobody listens over there: the link's state will tell.
        _used = Math.Max(0, ReceiveMany(_socket.SafeHandle, _heads, Batch, wait ? WaitForOne : DoNotWait, null));
        if (_used > 0)
            ReadOverflow(ref _heads[_used - 1]);
        return _used;
    }

    /// <inheritdoc/>
    public ReadOnlySpan<byte> Datagram(int index, out SocketAddress from)
    {
        ref var head = ref _heads[index];
        var length = Math.Min((int)head.NameLength, _from.Buffer.Length);
        new ReadOnlySpan<byte>(head.Name, length).CopyTo(_from.Buffer.Span);
        _from.Size = length;
        from = _from;
        return new(_parts[index].Start, (int)head.Received);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        NativeMemory.Free(_heads);
        NativeMemory.Free(_parts);
        NativeMemory.Free(_addresses);
        NativeMemory.Free(_controls);
        NativeMemory.Free(_datagrams);
    }

    // Where the option is unknown (an emulated system, some sandboxes) what is thrown away is unknown too; nothing else depends on it.
    private static bool TellsOverflow(Socket socket)
    {
        try
        {
            socket.SetRawSocketOption(SocketLevel, OverflowOption, BitConverter.GetBytes(1));
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }

    // cmsg(3): the length of head and data, the level, the type, then the data: the count since the socket was opened.
    private void ReadOverflow(ref MessageHead head)
    {
        var control = new ReadOnlySpan<byte>(head.Control, (int)head.ControlLength);
        const int HeadSize = 16;
        while (control.Length >= HeadSize)
        {
            var length = (int)MemoryMarshal.Read<nuint>(control);
            if (length < HeadSize || length > control.Length)
                return;
            if (MemoryMarshal.Read<int>(control[8..]) == SocketLevel && MemoryMarshal.Read<int>(control[12..]) == OverflowOption && length >= HeadSize + sizeof(uint))
                Count(MemoryMarshal.Read<uint>(control[HeadSize..]));
            control = control[Math.Min(control.Length, (length + 7) & ~7)..];
        }
    }

    // The kernel counts in 32 bits and begins anew.
    private void Count(uint counted) => Overflowed += unchecked(counted - (uint)Overflowed!.Value);

    [LibraryImport("libc", EntryPoint = "recvmmsg")]
    private static partial int ReceiveMany(SafeSocketHandle socket, MessageHead* heads, uint count, int flags, void* timeout);

    // struct iovec
    [StructLayout(LayoutKind.Sequential)]
    private struct BufferPart
    {
        public byte* Start;
        public nuint Length;
    }

    // struct mmsghdr: a struct msghdr of 56 bytes, and how much was received
    [StructLayout(LayoutKind.Explicit, Size = 64)]
    private struct MessageHead
    {
        [FieldOffset(0)]
        public byte* Name;
        [FieldOffset(8)]
        public uint NameLength;
        [FieldOffset(16)]
        public BufferPart* Parts;
        [FieldOffset(24)]
        public nuint PartCount;
        [FieldOffset(32)]
        public byte* Control;
        [FieldOffset(40)]
        public nuint ControlLength;
        [FieldOffset(56)]
        public uint Received;
    }
}
