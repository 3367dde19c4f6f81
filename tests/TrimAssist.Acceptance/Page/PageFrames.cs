using System.Globalization;
using Xunit;

namespace TrimAssist.Acceptance.Page;

/// <summary>Measures the engineer's view with 64 inputs at 50 frames a second. Runs only where <c>TRIMASSIST_FRAMES</c> names a file: eng/page-frames.sh.</summary>
[Collection(nameof(TheBrowser))]
public sealed class PageFrames(TheBrowser browser)
{
    [Fact]
    public async Task Browser_frames_are_measured_with_64_inputs_at_50_frames_a_second()
    {
        var file = Environment.GetEnvironmentVariable("TRIMASSIST_FRAMES");
        Assert.SkipWhen(string.IsNullOrEmpty(file), "TRIMASSIST_FRAMES names no file");
        await using var stage = new PageStage(browser, inputs: 64);
        await stage.StartAsync();
        for (var input = 1; input <= 64; input++)
            stage.Desk.Play(input, -10 - (input % 30));
        // The bench desk sends 20 frames a second; on a clock two and a half times as fast they are 50.
        stage.SetPace(2.5);
        var page = await stage.OpenAsync(height: 1800);
        var weight = await PageStage.WeightAsync(page);
        var measured = await page.EvaluateAsync<string>("""
            () => new Promise(done => {
              const gaps = [], heard = { meters: 0 }, long = [];
              const source = new EventSource('/api/events');
              source.addEventListener('meters', () => heard.meters++);
              new PerformanceObserver(list => long.push(...list.getEntries().map(one => one.duration))).observe({ entryTypes: ['longtask'] });
              let last = 0; const began = performance.now();
              const frame = at => {
                if (last) gaps.push(at - last);
                last = at;
                if (performance.now() - began < 20000) { requestAnimationFrame(frame); return; }
                source.close();
                gaps.sort((left, right) => left - right);
                const at2 = share => gaps[Math.floor(gaps.length * share)].toFixed(1);
                done(`${(gaps.length / 20).toFixed(1)} browser frames a second; between frames p50 ${at2(.5)} ms, p95 ${at2(.95)} ms, p99 ${at2(.99)} ms, max ${gaps.at(-1).toFixed(1)} ms; `
                  + `${(heard.meters / 20).toFixed(1)} meter frames a second heard; ${long.length} tasks over 50 ms; ${document.querySelectorAll('canvas.bar').length} bars, ${innerHeight} px high`);
              };
              requestAnimationFrame(frame);
            })
            """);
        await File.WriteAllTextAsync(file, string.Create(CultureInfo.InvariantCulture, $"{measured}; first view {weight / 1000:0} kB beside the framework's script\n"));
    }
}
