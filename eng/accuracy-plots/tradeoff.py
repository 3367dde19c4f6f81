#!/usr/bin/env python3
"""Draws found dangers against false alarms for every kind of meter, by changing how much evidence a pop needs. Standard library only.

    tradeoff.py FOLDER PICTURE.svg

FOLDER holds the labelled acts, unpacked. Build JumpTrial first. Prints the table behind the picture.
"""
import sys
from concurrent.futures import ThreadPoolExecutor
from jumps import score

STRICTNESS = (-3, -1.5, -0.5, 0, 1, 3)
METERS = [("20 ms", 20, [], "#1b6ca8"), ("50 ms", 50, [], "#111111"), ("100 ms", 100, [], "#2e8b57"),
          ("50 ms, peak alone", 50, ["--peak-only"], "#b8860b"), ("50 ms, falls back at 20 dB/s", 50, ["--release", "20"], "#a83232"),
          ("50 ms, peak alone, falls back", 50, ["--peak-only", "--release", "20"], "#8a5fa8")]
WIDTH, HEIGHT, LEFT, TOP, MOST = 760, 460, 60, 20, 10.0
PLOT_W, PLOT_H = 440, 380


def x_of(false_per_hour):
    """false alarms on a square-root scale, so that the quiet end can be read"""
    return LEFT + PLOT_W * (min(false_per_hour, MOST) / MOST) ** 0.5


def y_of(share):
    return TOP + PLOT_H * (1 - share)


def draw(lines):
    svg = [f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" font-family="sans-serif" font-size="12" role="img">',
           "<title>Loud dangers found against false alarms per input-hour</title>", f'<rect width="{WIDTH}" height="{HEIGHT}" fill="white"/>']
    for share in (0, 0.2, 0.4, 0.6, 0.8, 1):
        svg.append(f'<path d="M{LEFT} {y_of(share):.0f}h{PLOT_W}" stroke="#ddd"/><text x="{LEFT - 8}" y="{y_of(share) + 4:.0f}" text-anchor="end">{share:.0%}</text>')
    for false in (0, 0.5, 1, 2, 5, 10):
        svg.append(f'<path d="M{x_of(false):.0f} {TOP}v{PLOT_H}" stroke="{"#999" if false == 1 else "#ddd"}"/>'
                   f'<text x="{x_of(false):.0f}" y="{TOP + PLOT_H + 18}" text-anchor="middle">{false:g}</text>')
    svg.append(f'<text x="{LEFT + PLOT_W / 2:.0f}" y="{TOP + PLOT_H + 40}" text-anchor="middle">false alarms per input-hour (dense material)</text>')
    for at, (name, colour, points) in enumerate(lines):
        path = " ".join(f"{x_of(p['falsePerHour']):.1f},{y_of(p['loudRecall']):.1f}" for _, p in points)
        svg.append(f'<polyline points="{path}" fill="none" stroke="{colour}" stroke-width="2"/>')
        svg += [f'<circle cx="{x_of(p["falsePerHour"]):.1f}" cy="{y_of(p["loudRecall"]):.1f}" r="{5 if s == 0 else 2.5}" fill="{colour}"/>' for s, p in points]
        svg.append(f'<circle cx="{LEFT + PLOT_W + 20}" cy="{TOP + 20 + 22 * at}" r="5" fill="{colour}"/><text x="{LEFT + PLOT_W + 32}" y="{TOP + 24 + 22 * at}">{name}</text>')
    svg.append(f'<text x="{LEFT + PLOT_W + 15}" y="{TOP + 34 + 22 * len(lines)}">large dot: as shipped</text></svg>')
    return "\n".join(svg) + "\n"


def main():
    folder, picture = sys.argv[1:]
    lines = []
    for name, ms, extra, colour in METERS:
        with ThreadPoolExecutor(2) as pool:
            points = list(zip(STRICTNESS, pool.map(lambda s: score(folder, ms, [*extra, "--strictness", str(s)]), STRICTNESS)))
        lines.append((name, colour, points))
        for s, p in points:
            print(f"{name:30} {s:5} false/h {p['falsePerHour']:5} found {p['recall']:.3f} loud {p['loudRecall']:.3f} named {p['named']:.3f} "
                  f"drops {p['dropRecall']:.2f} ({p['dropFalsePerHour']}) taken back/h {p['withdrawnPerHour']}", flush=True)
    with open(picture, "w") as file:
        file.write(draw(lines))


if __name__ == "__main__":
    main()
