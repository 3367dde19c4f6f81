#!/usr/bin/env python3
"""Scores the jump listeners on a folder of labelled acts. Standard library only.

    jumps.py FOLDER [--ms 50] [--peak-only] [--release 20] [--strictness N] [--details]     prints one table

FOLDER holds actNN_truth.json and actNN_(check|show).metersMS.csv. A danger counts as found where a reported pop, crackle, step-up, ring or
overload starts between 0.1 s before it and 0.15 s after it ends; a false alarm is a reported pop, crackle, step-up or ring outside every
danger, drop-out, handling, clip and pad window, at most one each 0.5 s. Masked dangers (under 3 dB over the second before) are left out.
liveLoud: loud dangers about which a first word was out with the frame that began them or the next, taken back later or not.
"""
import argparse, glob, json, os, subprocess
from collections import Counter, defaultdict

HERE = os.path.dirname(os.path.abspath(__file__))
TRIAL = os.path.join(HERE, "JumpTrial", "bin", "Release", "net10.0", "JumpTrial")
DANGER = {"plug_pop": {"pop"}, "unplug_pop": {"pop"}, "phantom_thump": {"pop"}, "crackle": {"pop", "crackle"},
          "pad_release": {"step-up", "pop"}, "feedback": {"ring"}}
ALARM = {"pop", "crackle", "step-up", "ring"}
QUIET = {"drop", "ambiguous", "quality", "info"}
NAME = {"StepUp": "step-up", "StepDown": "step-down", "NoiseRise": "noise-rise"}


def trial(what, ms, files, extra=()):
    """what JumpTrial prints, one run a log"""
    text = []
    for path in files:
        run = subprocess.run([TRIAL, what, str(ms), path, *extra], capture_output=True, text=True)
        if run.returncode:
            raise SystemExit(f"JumpTrial failed ({run.returncode}) on {path}: {run.stderr.strip()[-400:]}")
        text += run.stdout.splitlines()
    return text


def words(files, ms, extra):
    """file -> input -> id -> [(stage, kind, time, said at)]"""
    said = defaultdict(lambda: defaultdict(lambda: defaultdict(list)))
    for line in trial("words", ms, files, extra):
        name, channel, number, stage, kind, time, at, _, _ = line.split(",")
        said[name][int(channel)][int(number)].append((stage, NAME.get(kind, kind.lower()), float(time), float(at)))
    return said


def within(t, e, after):
    return e["t"] - 0.10 <= t <= e["t_end"] + after


def score(folder, ms, extra=(), details=False):
    found, named, danger, loud, false_by = Counter(), Counter(), Counter(), Counter(), Counter()
    lists = {"missed": [], "false": []}
    live_loud, withdrawn = 0, 0
    drops = drops_found = drops_false = 0
    hours = false = 0.0
    truths = sorted(glob.glob(os.path.join(folder, "act*_truth.json")))
    logs = [os.path.join(folder, f"{os.path.basename(t)[:5]}_{take}.meters{ms}.csv") for t in truths for take in ("check", "show")]
    said = words(logs, ms, extra)
    for path in truths:
        truth = json.load(open(path))
        for take in ("check", "show"):
            heard = said[f"act{truth['act']:02d}_{take}.meters{ms}.csv"]
            for channel in truth["channels"]:
                hours += truth["takes"][take]["duration_s"] / 3600
                mine = [e for e in truth["takes"][take]["events"] if e["ch"] == channel["ch"]]
                ids = heard.get(channel["ch"], {})
                last_words = [w[-1] if w[-1][0] != "Ended" else (w[-1][0], w[-1][1], w[0][2], w[-1][3]) for w in ids.values()]
                final = sorted((t, kind) for stage, kind, t, _ in last_words if stage != "Withdrawn")
                withdrawn += sum(stage == "Withdrawn" for stage, *_ in last_words)
                for e in mine:
                    if e["class"] == "alert" and not e["masked"]:
                        is_loud = e["peak_dbfs"] >= -20
                        danger[e["kind"]] += 1
                        hits = [k for t, k in final if within(t, e, 0.15) and (k in ALARM or k == "overload")]
                        found[e["kind"]] += bool(hits)
                        named[e["kind"]] += any(k in DANGER[e["kind"]] for k in hits)
                        loud["all"] += is_loud
                        loud["found"] += is_loud and bool(hits)
                        first = [at for w in ids.values() for s, k, t, at in w[:1]
                                 if e["t"] - 0.01 <= at <= e["t"] + 2.1 * ms / 1000 and (k in ALARM or k == "overload")]
                        if is_loud and first:
                            live_loud += 1
                        if not hits:
                            lists["missed"].append((truth["act"], take, channel["name"], e["kind"], round(e["t"], 2), e["peak_dbfs"], e["jump_over_max_db"]))
                    if e["class"] == "drop" and not e["masked"]:
                        drops += 1
                        hit = any(k == "dropout" and within(t, e, 1.0) for t, k in final)
                        drops_found += hit
                        if not hit:
                            lists["missed"].append((truth["act"], take, channel["name"], e["kind"], round(e["t"], 2), e["peak_dbfs"], e.get("drop_db")))
                last = -9.0
                for t, k in final:
                    if k == "dropout" and not any(e["class"] == "drop" and within(t, e, 1.0) for e in mine):
                        drops_false += 1
                        lists["false"].append((truth["act"], take, channel["name"], k, t))
                    if k not in ALARM or any(e["class"] == "alert" and within(t, e, 0.15) for e in mine) \
                            or any(e["class"] in QUIET and within(t, e, 0.60) for e in mine) \
                            or (k == "step-up" and any(e["kind"] == "boost_engage" and within(t, e, 0.60) for e in mine)) \
                            or t - last <= 0.5:
                        continue
                    last = t
                    false += 1
                    near = [e["kind"] for e in mine if e["class"] == "negative" and within(t, e, 0.15)]
                    false_by[f"{k} at {near[0] if near else 'plain playing'}"] += 1
                    lists["false"].append((truth["act"], take, channel["name"], k, t))
    total, hit = sum(danger.values()), sum(found.values())
    result = {"ms": ms, "recall": round(hit / max(1, total), 3), "dangers": total, "loudRecall": round(loud["found"] / max(1, loud["all"]), 3),
              "loud": loud["all"], "named": round(sum(named.values()) / max(1, hit), 3), "falsePerHour": round(false / hours, 2),
              "dropRecall": round(drops_found / max(1, drops), 3), "dropFalsePerHour": round(drops_false / hours, 2),
              "liveLoud": round(live_loud / max(1, loud["all"]), 3), "withdrawnPerHour": round(withdrawn / hours, 1),
              "byKind": {k: f"{found[k]}/{danger[k]}" for k in sorted(danger)}, "falseBy": dict(false_by)}
    if details:
        result |= lists
    return result


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("folder")
    options.add_argument("--ms", type=int, default=50)
    options.add_argument("--peak-only", action="store_true")
    options.add_argument("--release", type=float, default=0)
    options.add_argument("--strictness", type=float, default=0)
    options.add_argument("--details", action="store_true")
    o = options.parse_args()
    extra = (["--peak-only"] if o.peak_only else []) + (["--release", str(o.release)] if o.release else []) + ["--strictness", str(o.strictness)]
    for key, value in score(o.folder, o.ms, extra, o.details).items():
        if isinstance(value, list):
            print(f"{key}:")
            for item in value:
                print("   ", *item)
        else:
            print(f"{key:18} {value}")


if __name__ == "__main__":
    main()
