using System.Collections.Concurrent;

namespace TrimAssist.Service.Loops;

/// <summary>When each of the service's loops last came round. One that hangs cannot say so itself: whoever asks how the service is reads it here.</summary>
/// <param name="time">The clock.</param>
internal sealed class Vitals(TimeProvider time)
{
    /// <summary>A loop that has not come round for this long hangs, or the machine is far too busy.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromSeconds(3);

    private readonly ConcurrentBag<Pulse> _all = [];

    /// <summary>What does not come round, a sentence each; empty when all is well.</summary>
    public IReadOnlyList<string> Faults => [.. _all.Where(pulse => pulse.Since >= Patience).Select(pulse => $"{pulse.Who} has not come round for {pulse.Since.TotalSeconds:0} s.").Order(StringComparer.Ordinal)];

    /// <summary>Follows one more loop from now on.</summary>
    /// <param name="who">Whose loop, as the beginning of a sentence.</param>
    public Pulse Follow(string who)
    {
        var pulse = new Pulse(who, time);
        _all.Add(pulse);
        return pulse;
    }

    /// <summary>One loop's sign of life.</summary>
    internal sealed class Pulse(string who, TimeProvider time)
    {
        private const long Never = long.MinValue;

        private readonly Lock _guard = new();
        private int _underWay;
        private long _at = Never;

        /// <summary>Whose it is.</summary>
        public string Who => who;

        /// <summary>How long ago the loop came round; zero while nothing is expected of it.</summary>
        public TimeSpan Since => Interlocked.Read(ref _at) is var at && at == Never ? TimeSpan.Zero : time.GetElapsedTime(at);

        /// <summary>The loop came round, or begins.</summary>
        public void Beat() => Interlocked.Exchange(ref _at, time.GetTimestamp());

        /// <summary>The loop has ended, or has nothing to do.</summary>
        public void Rest() => Interlocked.Exchange(ref _at, Never);

        /// <summary>One more piece of work was given to it.</summary>
        public void Begin()
        {
            lock (_guard)
            {
                if (++_underWay == 1)
                    Beat();
            }
        }

        /// <summary>One piece of work was done.</summary>
        public void Done()
        {
            lock (_guard)
            {
                if (--_underWay > 0)
                    Beat();
                else
                    Rest();
            }
        }
    }
}
