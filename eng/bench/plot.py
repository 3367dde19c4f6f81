#!/usr/bin/env python3
"""Draws columns of a CSV file as small line charts, one above the other, in one SVG. Standard library only.

usage: plot.py CSV X-COLUMN Y-COLUMN... > picture.svg
"""
import csv
import sys

WIDTH, HEIGHT, LEFT, GAP = 760, 110, 90, 34


def nice(value):
    return f"{value:,.0f}" if abs(value) >= 100 else f"{value:.3g}"


def chart(xs, ys, name, top):
    low, high = min(0, min(ys)), max(ys) or 1
    span = (max(xs) - min(xs)) or 1
    points = " ".join(
        f"{LEFT + (x - min(xs)) / span * WIDTH:.1f},{top + HEIGHT - (y - low) / ((high - low) or 1) * HEIGHT:.1f}" for x, y in zip(xs, ys))
    return (f'<rect x="{LEFT}" y="{top}" width="{WIDTH}" height="{HEIGHT}" class="frame"/>'
            f'<text x="{LEFT - 8}" y="{top + 10}" class="end">{nice(high)}</text><text x="{LEFT - 8}" y="{top + HEIGHT}" class="end">{nice(low)}</text>'
            f'<text x="{LEFT}" y="{top - 6}">{name}</text><polyline points="{points}"/>')


def main():
    with open(sys.argv[1], encoding="ascii") as file:
        rows = list(csv.DictReader(file))
    x, names = sys.argv[2], sys.argv[3:]
    xs = [float(row[x]) for row in rows]
    parts = [chart(xs, [float(row[name]) for row in rows], name, GAP + i * (HEIGHT + GAP)) for i, name in enumerate(names)]
    bottom = GAP + len(names) * (HEIGHT + GAP)
    print(f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {LEFT + WIDTH + 20} {bottom + 16}" font-family="sans-serif" font-size="12">'
          '<style>.frame{fill:#fff;stroke:#bbb}polyline{fill:none;stroke:#0a5;stroke-width:1.6}.end{text-anchor:end}text{fill:#333}</style>'
          '<rect width="100%" height="100%" fill="#fafafa"/>' + "".join(parts) +
          f'<text x="{LEFT}" y="{bottom}">{x}: {nice(min(xs))} to {nice(max(xs))}</text></svg>')


if __name__ == "__main__":
    main()
