"""Prints score.py's figures beside their goals: goals.py FRAME_MS < SCORE.json"""
import json
import sys

GOALS = [
    ("mean |landing|, dB", "landingMeanAbsDb", "at most", 3.3),
    ("landing within 6 dB", "within6Db", "at least", 0.88),
    ("clip in the show", "clipShare", "at most", 0.01),
    ("withheld", "withheldShare", "at most", 0.05),
    ("coverage of the 90 % interval", "coverage", "within", (0.85, 0.95)),
    ("loud dangers found", "loudRecall", "at least", 0.95),
    ("all visible dangers found", "recall", "at least", 0.85),
    ("right kind named", "namedShare", "at least", 0.90),
    ("false alarms per channel-hour", "falsePerChannelHour", "at most", 1.0),
    ("drop-outs found", "dropRecall", "at least", 0.90),
    ("false drop-outs per channel-hour", "dropFalsePerChannelHour", "at most", 0.5),
]


def met(rule, goal, value):
    if value is None:
        return False
    if rule == "within":
        return goal[0] <= value <= goal[1]
    return value <= goal if rule == "at most" else value >= goal


def main():
    score = json.load(sys.stdin)
    print(f"{sys.argv[1]} ms frames, {score['channels']} inputs, {score['dangers']} dangers, {score['channelHours']} channel-hours")
    print(f"  {'figure':34} {'got':>7}  goal")
    for name, key, rule, goal in GOALS:
        value = score[key]
        shown = "-" if value is None else f"{value:.3f}"
        wanted = f"{goal[0]} to {goal[1]}" if rule == "within" else f"{rule} {goal}"
        print(f"  {name:34} {shown:>7}  {wanted:18} {'met' if met(rule, goal, value) else 'not met'}")
    print(f"  also: within 3 dB {score['within3Db']:.3f}, mean landing {score['landingMeanDb']} dB")


if __name__ == "__main__":
    main()
