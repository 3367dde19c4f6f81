using TrimAssist.Audio.Loudness;
using TrimAssist.Audio.Tests.Kit;
using TrimAssist.Audio.Wav;
using TrimAssist.Core.Meters;

namespace TrimAssist.Audio.Tests.Recordings;

/// <summary>Recordings from Debian's packages alsa-utils (speech and noise, WAV) and sound-theme-freedesktop (Ogg Vorbis, 8 to 96 kHz, converted), measured beside FFmpeg's <c>astats</c> and <c>ebur128=peak=true</c>.</summary>
public sealed class RealRecordings : IDisposable
{
    private const double Aes17Db = 3.0103;
    private const string Alsa = "/usr/share/sounds/alsa";
    private const string Freedesktop = "/usr/share/sounds/freedesktop/stereo";

    private readonly string _folder = Directory.CreateTempSubdirectory("trimassist-recordings-").FullName;

    public static TheoryData<string> Recordings =>
    [
        .. new[] { "Front_Center", "Front_Left", "Front_Right", "Noise", "Rear_Center", "Rear_Left", "Rear_Right", "Side_Left", "Side_Right" }
            .Select(name => $"{Alsa}/{name}.wav"),
        .. new[]
        {
            "alarm-clock-elapsed", "audio-channel-front-center", "audio-test-signal", "bell", "camera-shutter", "complete", "device-added",
            "dialog-error", "message-new-instant", "phone-incoming-call", "phone-outgoing-busy", "service-login", "service-logout",
            "suspend-error", "trash-empty",
        }.Select(name => $"{Freedesktop}/{name}.oga"),
    ];

    [Theory]
    [MemberData(nameof(Recordings))]
    public void Peak_and_RMS_equal_those_of_astats_within_a_hundredth_of_a_dB(string recording)
    {
        var wav = AsWav(recording);

        var channels = Measured(wav).Channels;

        var expected = Ffmpeg.Levels(wav);
        Assert.Equal(expected.Count, channels.Count);
        Assert.All(channels.Zip(expected), pair =>
        {
            Assert.Equal(pair.Second.PeakDb, pair.First.SamplePeak.Value, 0.01);
            Assert.Equal(pair.Second.RmsDb, pair.First.Rms.Value - Aes17Db, 0.01);
        });
    }

    [Theory]
    [MemberData(nameof(Recordings))]
    public void Loudness_and_true_peak_equal_those_of_ebur128_within_a_tenth(string recording)
    {
        var wav = AsWav(recording);
        var (integratedLufs, truePeakDbtp) = Ffmpeg.Loudness(wav);

        var measured = Measured(wav);

        Assert.Equal(truePeakDbtp, measured.Channels.Max(c => c.TruePeak.Value), 0.1);
        if (measured.DurationS > 0.5)
            Assert.Equal(integratedLufs, Mix(wav).IntegratedLufs!.Value, 0.1);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private string AsWav(string recording)
    {
        Prerequisite.Need(Ffmpeg.Present, "ffmpeg is not installed (Debian package ffmpeg)");
        Prerequisite.Need(File.Exists(recording), $"{recording} is missing (Debian packages alsa-utils and sound-theme-freedesktop)");
        if (recording.EndsWith(".wav", StringComparison.Ordinal))
            return recording;
        var wav = Path.Combine(_folder, "recording.wav");
        Ffmpeg.Convert(recording, wav);
        return wav;
    }

    private static WavMeasurement Measured(string wav)
    {
        Assert.True(WavMeasurement.TryRead(wav, new MeterTraits(0.05), _ => { }, out var measured, out var error), error?.Reason);
        return measured!;
    }

    private static Programme Mix(string wav)
    {
        Assert.True(WavFile.TryOpen(wav, out var file, out _));
        using (file)
        {
            var meter = LoudnessMeter.OfMix(file!.Format.SampleRate, Enumerable.Repeat(1.0, file.Format.Channels));
            var block = file.NewBlock();
            while (file.Read(block))
                meter.Hear(block);
            return meter.Programmes[0];
        }
    }
}
