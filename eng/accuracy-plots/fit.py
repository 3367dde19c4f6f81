#!/usr/bin/env python3
"""Fits the weights of PopEvidence and FirstWord by logistic regression on what JumpTrial measured, acts left out one by one. Needs numpy and scipy.

    fit.py FOLDER [--ms 50 20 100] [--false-per-hour 0.8]              the weights of PopEvidence
    fit.py FOLDER [--ms 50 20 100] --first [--false-per-hour 10]        the weights of FirstWord, the word in the rise's own frame

A labelled pop counts once, by its best rise. Rises in windows that are neither danger nor music (drop-out, clip, handling, pad in) are left out.
Prints the trade-off of the acts left out and the weights fitted on all acts, the bias moved so that the wanted false alarms remain.
"""
import argparse, glob, json, os
import numpy as np
from scipy.optimize import minimize
from jumps import QUIET, trial, within

POPS = {"plug_pop", "unplug_pop", "phantom_thump"}
RIDGE = 5e-4
SURE = {2: 0.15, 15: 0.15, 16: 0.15, 18: 0.15, 20: 0.15, 21: 0.15, 22: 0.15}  # thump, hum after, hum before, fall through the floor, capacitor, straight tail, left on something else: music hardly shows them, so they are held back less
POP_WEIGHT = 5.0


def rises(folder, ms, what, extra=()):
    truths = sorted(glob.glob(os.path.join(folder, "act*_truth.json")))
    logs = [os.path.join(folder, f"{os.path.basename(t)[:5]}_{take}.meters{ms}.csv") for t in truths for take in ("check", "show")]
    events, hours = {}, 0.0
    for path in truths:
        truth = json.load(open(path))
        for take in ("check", "show"):
            events[f"act{truth['act']:02d}_{take}.meters{ms}.csv"] = truth["takes"][take]["events"]
            hours += truth["takes"][take]["duration_s"] / 3600 * len(truth["channels"])
    rows = []
    for line in trial(what, ms, logs, extra):
        left, right = line.split(",|,", 1)
        name, channel, time, odds, *terms = left.split(",")
        t, mine = float(time), [e for e in events[name] if e["ch"] == int(channel)]
        near = [e for e in mine if e["class"] == "alert" and within(t, e, 0.15)]
        if not near and any(e["class"] in QUIET and within(t, e, 0.60) for e in mine):
            continue
        event = near[0] if near else None
        if event and event["kind"] not in POPS:
            continue
        rows.append(dict(act=int(name[3:5]), take=name, ch=int(channel), t=t, x=np.array(list(map(float, terms))), more=[float(m) for m in right.split(",") if m],
                         event=(name, event["id"]) if event else None, kind=event["kind"] if event else "plain",
                         masked=event["masked"] if event else False, loud=event["peak_dbfs"] >= -20 if event else False))
    return rows, hours


def logistic(x, y, sure=SURE):
    w = np.where(y > 0, POP_WEIGHT, 1.0)
    ridge = RIDGE * np.array([sure.get(i, 1.0) for i in range(x.shape[1])])

    def loss(b):
        z = x @ b[1:] + b[0]
        g = w * (1 / (1 + np.exp(-z)) - y) / len(y)
        return (w * (np.logaddexp(0, z) - y * z)).mean() + (ridge * b[1:] ** 2).sum(), np.concatenate([[g.sum()], x.T @ g + 2 * ridge * b[1:]])
    return minimize(loss, np.zeros(x.shape[1] + 1), jac=True, method="L-BFGS-B", options=dict(maxiter=500)).x


def best_rises(rows, x, y, keep, sure):
    """fits, keeps each pop's best rise, fits again"""
    use = keep.copy()
    for _ in range(3):
        b = logistic(x[use], y[use], sure)
        s, best = x @ b[1:] + b[0], {}
        for i, r in enumerate(rows):
            if r["event"] and (r["event"] not in best or s[best[r["event"]]] < s[i]):
                best[r["event"]] = i
        chosen = set(best.values())
        use = keep & np.array([not r["event"] or (i in chosen and not r["masked"]) for i, r in enumerate(rows)])
    return b


def tradeoff(rows, s, hours):
    events = {r["event"]: r["loud"] for r in rows if r["event"] and not r["masked"]}
    order = np.argsort(-s)
    found, last, false, line = set(), {}, 0, []
    for i in order:
        r = rows[i]
        if r["event"]:
            if not r["masked"]:
                found.add(r["event"])
        else:
            key = (r["take"], r["ch"])
            if all(abs(r["t"] - t) > 0.5 for t in last.get(key, [])):
                false += 1
                last.setdefault(key, []).append(r["t"])
        line.append((false / hours, len(found), sum(events[e] for e in found), s[i]))
    return line, len(events), sum(events.values())


def main():
    o = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    o.add_argument("folder")
    o.add_argument("--ms", type=int, nargs="+", default=[50])
    o.add_argument("--false-per-hour", type=float, default=0.8)
    o.add_argument("--first", action="store_true")
    o.add_argument("--details", action="store_true")
    o = o.parse_args()
    rows, hours = [], 0
    for ms in o.ms:
        more, h = rises(o.folder, ms, "first" if o.first else "terms")
        rows, hours = rows + more, hours + h
    x = np.array([r["x"] for r in rows])
    y = np.array([float(r["event"] is not None) for r in rows])
    act = np.array([r["act"] for r in rows])
    s, sure = np.zeros(len(y)), {} if o.first else SURE
    for a in sorted(set(act)):
        b = best_rises(rows, x, y, act != a, sure)
        s[act == a] = x[act == a] @ b[1:] + b[0]
    line, total, loud = tradeoff(rows, s, hours)
    print(f"{len(rows)} rises, {total} visible pops, {loud} loud, {hours:.1f} input-hours")
    for limit in (0.3, 0.6, 0.8, 1.2, 2, 4, 8, 12, 16, 32):
        at = [p for p in line if p[0] <= limit]
        if at:
            print(f"{limit:5} false/h: {at[-1][1]}/{total} found, loud {at[-1][2]}/{loud} at {at[-1][3]:.2f}")
    b = best_rises(rows, x, y, act >= 0, sure)
    bar = [p for p in line if p[0] <= o.false_per_hour][-1][3]
    print("weights", "[" + ", ".join(f"{v:.2f}f" for v in b[1:]) + "]", "bias", f"{b[0] - bar:.2f}f")
    if o.details:
        show = lambda i: print("  ", rows[i]["take"][:10], rows[i]["ch"], round(rows[i]["t"], 2), rows[i]["kind"], f"{s[i]:.1f}", [round(v, 1) for v in rows[i]["more"]], [round(v, 1) for v in rows[i]["x"]])
        print("music taken for pops")
        for i in [i for i in np.argsort(-s) if y[i] == 0][:20]:
            show(i)
        best = {}
        for i, r in enumerate(rows):
            if r["event"] and not r["masked"] and (r["event"] not in best or s[best[r["event"]]] < s[i]):
                best[r["event"]] = i
        print("pops by rank")
        for i in sorted(best.values(), key=lambda i: s[i])[:34]:
            show(i)


if __name__ == "__main__":
    main()
