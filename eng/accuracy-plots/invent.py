#!/usr/bin/env python3
"""Invents labelled acts that no weight or threshold was chosen on, in the form of tests/corpus. Needs numpy.

    invent.py FOLDER [--acts 4] [--first 0] [--seed 1]      writes actNN_(check|show).meters(20|50|100).csv and actNN_truth.json

Everything is computed from samples at 48 kHz: struck, plucked, bowed and sung sources, spill into open microphones, rooms, mains of 50 or 60 Hz,
and then the desk: (source + noise) x cable [stage's ceiling] + bang, times gain, plus the preamp's and the converter's noise. Sizes, lengths and
rates are drawn more widely than in the corpus; the players and the stage are invented.
"""
import argparse, json, os
import numpy as np

FS, FULL_DBU, TARGET = 48000, 18.0, -12.0
EIN_DBU, CONVERTER_DBFS = -126.0, -106.0
MICS = {"kick", "snare", "overheads", "amp", "lead", "second", "horn"}
STAGE = ["kick", "snare", "overheads", "bass", "amp", "guitar", "fiddle", "cello", "keys", "lead", "second", "horn"]


def lin(db):
    return 10.0 ** (np.asarray(db) / 20)


class Act:
    def __init__(self, number, seed):
        self.r = np.random.default_rng([seed, number])
        r = self.r
        self.number, self.mains, self.beat = number, float(r.choice([50.0, 60.0])), 60 / r.uniform(70, 150)
        self.inputs = []
        for ch, kind in enumerate(STAGE, 1):
            mic = kind in MICS
            peak = r.uniform(-30, 0) if mic else r.uniform(-35, 6)
            self.inputs.append(dict(
                ch=ch, name=kind, kind=kind, mic=mic, peak=peak, trim=float(np.clip(np.round(2 * (TARGET + FULL_DBU - peak - 6 + r.normal(0, 4))) / 2, -5, 45)),
                room=peak - r.uniform(35, 60) if mic else None, noise=r.uniform(-118, -88) if mic else peak - r.uniform(50, 85),
                buzz=r.uniform(0, 2.5), pad=0.0, hold=r.normal(-6, 3), ceiling=peak - r.uniform(1, 5) if not mic and r.random() < 0.2 else None,
                spill={k: r.uniform(-55, -18) for k in STAGE if k != kind and r.random() < (0.5 if mic else 0)}))

    # ---- sound

    def noise(self, n, colour=0.0):
        x = self.r.standard_normal(n).astype(np.float32)
        if colour:
            f = np.fft.rfft(x)
            f *= (1 / np.maximum(np.arange(len(f)), 20) ** colour).astype(np.float32)
            x = np.fft.irfft(f, n).astype(np.float32)
            x /= x.std()
        return x

    def hum(self, n, rich):
        t = np.arange(n, dtype=np.float64) / FS
        x = sum(self.r.uniform(0.2, 1) / k ** (1.6 - 0.4 * rich) * np.sin(2 * np.pi * self.mains * k * t + self.r.uniform(0, 6.3)) for k in range(1, 12))
        return (x / np.abs(x).max()).astype(np.float32)

    def hit(self, seconds, decay, tone, noisy):
        n = int(seconds * FS)
        t = np.arange(n) / FS
        body = np.sin(2 * np.pi * (tone * t + 30 * (1 - np.exp(-t * 30)) / 30))
        x = ((1 - noisy) * body + noisy * self.r.standard_normal(n) / 3) * np.exp(-t / decay) + 0.6 * self.r.standard_normal(n) / 3 * np.exp(-t / 0.004)
        return (x / np.abs(x).max()).astype(np.float32)

    def string(self, seconds, hz, decay, damped, attack=0.003):
        n = int((seconds + 0.15) * FS)
        t = np.arange(n) / FS
        x = sum(self.r.uniform(0.3, 1) / k * np.sin(2 * np.pi * hz * k * (1 + 0.0002 * k * k) * t + self.r.uniform(0, 6.3)) * np.exp(-t / decay * k ** 0.7) for k in range(1, 8))
        x *= (1 - np.exp(-t / attack)) * np.where(t < seconds, 1, np.exp(-(t - seconds) / damped))
        return (x / np.abs(x).max()).astype(np.float32)

    def bow(self, seconds, hz, attack, noisy=0.05):
        n = int((seconds + 0.2) * FS)
        t = np.arange(n) / FS
        vibrato = 2 * np.pi * hz * t + self.r.uniform(0, 3) * np.sin(2 * np.pi * self.r.uniform(4.5, 6.5) * t)
        x = sum(self.r.uniform(0.3, 1) / k * np.sin(k * vibrato + self.r.uniform(0, 6.3)) for k in range(1, 9)) + noisy * self.r.standard_normal(n)
        swell = 1 + self.r.uniform(-0.4, 0.6) * np.sin(np.pi * t / seconds)
        x *= swell * (1 - np.exp(-t / attack)) * np.where(t < seconds, 1, np.exp(-(t - seconds) / self.r.uniform(0.01, 0.06)))
        return (x / np.abs(x).max()).astype(np.float32)

    def alive(self, x, spread_db):
        """no hand, bow or breath holds a level: it wanders a few times a second"""
        points = np.arange(0, len(x) + FS // 4, FS // 12)
        return (x * lin(np.interp(np.arange(len(x)), points, self.r.normal(0, spread_db, len(points))))).astype(np.float32)

    def syllable(self, seconds):
        n = int(seconds * FS)
        t = np.arange(n) / FS
        hz = self.r.uniform(100, 350)
        phase = 2 * np.pi * hz * t * (1 + self.r.uniform(-0.05, 0.05) * t)
        x = sum(np.exp(-((k * hz - self.r.uniform(400, 900)) / 700) ** 2) * np.sin(k * phase + self.r.uniform(0, 6.3)) for k in range(1, 12))
        if self.r.random() < 0.4:
            x = x * (t > 0.06) + 0.3 * self.r.standard_normal(n) * (t < 0.08)
        x *= np.sin(np.pi * np.clip(t / seconds, 0, 1)) ** self.r.uniform(0.3, 1)
        return (x / np.abs(x).max()).astype(np.float32)

    # ---- what is played

    def sections(self, length):
        """when an input plays and when it rests"""
        r, at, out = self.r, self.r.exponential(4), []
        while at < length - 2:
            end = min(length, at + r.uniform(4, 35))
            out.append((at, end))
            at = end + (r.uniform(0.5, 3) if r.random() < 0.5 else r.uniform(3, 15))
        return out

    def play(self, kind, take, length, events, source):
        """samples with a highest peak of about 1, and the look-alikes labelled"""
        r = self.r
        out = np.zeros(int(length * FS), np.float32)
        last = -9.0

        def put(x, t, level_db):
            a = int(t * FS)
            b = min(len(out), a + len(x))
            if a < b:
                out[a:b] += x[: b - a] * lin(level_db)

        def label(name, t, t_end, **more):
            events.append(dict(kind=name, t=round(t, 3), t_end=round(t_end, 3), ch=source["ch"], channel=kind, **{"class": "negative"}, **more))

        sample = {}
        for start, end in self.sections(length):
            t, mood = start, r.normal(-4, 3)
            while t < end:
                soft = mood + r.normal(0, 2.5) - (r.exponential(8) if r.random() < 0.2 else 0)
                gap = self.beat * r.choice([0.25, 0.5, 1, 2], p=[0.15, 0.4, 0.3, 0.15])
                rest = t - last
                if kind in ("kick", "snare", "overheads"):
                    key = (kind, int(r.integers(3)))
                    if key not in sample:
                        sample[key] = self.hit(0.5, r.uniform(0.03, 0.12), r.uniform(45, 75), 0.15) if kind == "kick" else \
                            self.hit(0.5, r.uniform(0.03, 0.09), r.uniform(150, 260), 0.7) if kind == "snare" else self.hit(2.5, r.uniform(0.1, 0.9), 4000, 0.95)
                    put(sample[key], t, soft)
                    if kind != "overheads" and rest > 1.5:
                        label(f"{kind}_from_silence", t, t + 0.25, rest_s=round(rest, 2))
                    if kind == "overheads" and r.random() < 0.02:
                        put(self.hit(4, r.uniform(0.5, 1.2), 5000, 0.97), t, soft + r.uniform(4, 10))
                        label("cymbal_crash", t, t + 0.32)
                    gap = self.beat * r.choice([0.5, 1, 2]) if kind != "overheads" else self.beat / 2
                elif kind in ("bass", "guitar", "keys", "amp"):
                    hz = r.uniform(45, 130) if kind == "bass" else r.uniform(110, 600)
                    length_s = gap * r.uniform(0.5, 1)
                    for _ in range(1 if kind == "bass" else int(r.integers(1, 4))):
                        put(self.alive(self.string(length_s, hz * r.choice([1, 1.25, 1.5, 2]), r.uniform(0.3, 2), r.choice([0.008, 0.03, 0.08])), 0.4), t + r.uniform(0, 0.02), soft - 3)
                elif kind in ("fiddle", "cello", "horn"):
                    slam = r.random() < 0.04
                    put(self.alive(self.bow(gap * r.uniform(0.7, 1.05), r.uniform(100, 700), 0.008 if slam else r.uniform(0.02, 0.12)), 0.8), t, soft + (6 if slam else 0))
                    if slam:
                        label("slammed_attack", t, t + 0.32)
                else:
                    gap = r.uniform(0.12, 0.45)
                    if r.random() < 0.1:
                        gap += r.uniform(0.3, 2)
                    put(self.syllable(min(gap, 0.45) * r.uniform(0.8, 1.2)), t, soft - 2)
                    if r.random() < 0.015:
                        n = int(0.3 * FS)
                        tt = np.arange(n) / FS
                        burst = self.noise(n, 0.9) * (1 - np.exp(-tt / 0.004)) * np.exp(-tt / r.uniform(0.015, 0.06))
                        put(burst / np.abs(burst).max(), t, soft + r.uniform(-2, 10))
                        label("plosive", t, t + 0.21)
                if rest > 2 and kind not in ("kick", "snare"):
                    label("first_note_after_rest", t, t + 0.25, rest_s=round(rest, 2))
                last = t + min(gap, 0.3)
                t += gap
        if kind == "amp":
            drive = r.uniform(1, 6)
            out = np.tanh(out * drive).astype(np.float32) / np.tanh(drive)
        if take == "show" and kind in ("guitar", "fiddle", "keys", "amp") and r.random() < 0.5:
            at = r.uniform(20, length - 30)
            gain, a, b = r.uniform(4, 10), int(at * FS), int((at + r.uniform(6, 20)) * FS)
            ramp = np.clip(np.arange(b - a) / (0.05 * FS), 0, 1)
            out[a:b] *= lin(gain * ramp)
            label("boost_engage", at, at + 0.35, size_db=round(float(gain), 1))
        return out

    # ---- what goes wrong

    def bang(self, size_db, ms=(1, 25)):
        r = self.r
        n = int(1.2 * FS)
        t = np.arange(n) / FS
        x = np.zeros(n, np.float32)
        for _ in range(int(r.integers(1, 4))):
            a = int(r.uniform(0, 0.06) * FS) if x.any() else 0
            y = (self.noise(n) * np.exp(-t / 0.002) + np.cos(2 * np.pi * r.uniform(15, 150) * t) * 2 + self.noise(n, 0.8) * r.uniform(0.2, 1)) * np.exp(-t / r.uniform(0.02, 0.09))
            x[a:] += y[: n - a].astype(np.float32) * (1 if a == 0 else r.uniform(0.1, 1))
        return x / np.abs(x).max() * lin(size_db)

    def faults(self, source, length, events):
        """what is added behind the source, what multiplies the source and its noise, and the pad's gain; in dBu"""
        r, n = self.r, int(length * FS)
        add, cable, pad = np.zeros(n, np.float32), np.ones(n, np.float32), np.zeros(n, np.float32)
        busy = []

        def free(seconds):
            for _ in range(40):
                at = r.uniform(1.5, length - seconds - 1.5)
                if all(at + seconds + 1 < a or at > b + 1 for a, b in busy):
                    busy.append((at, at + seconds))
                    return at
            return None

        def put(x, at):
            a = int(at * FS)
            b = min(n, a + len(x))
            add[a:b] += x[: b - a]

        def label(kind, group, t, t_end, **more):
            events.append(dict(kind=kind, t=round(t, 3), t_end=round(t_end, 3), ch=source["ch"], channel=source["name"], **{"class": group}, **more))

        def dead(a, b, gain=0.0):
            cable[int(a * FS): int(b * FS)] = gain

        size = lambda: source["peak"] + r.choice([r.uniform(-25, -12), r.uniform(-12, 0), r.uniform(0, 14)])
        for _ in range(r.poisson(length / 70)):
            out, humming = r.uniform(0.8, 12), r.random() < 0.5
            at = free(out + 2)
            if at is None:
                continue
            s, wait = size(), r.uniform(0.08, 0.9) if humming else 0.0
            level = s + r.uniform(-15, 3)
            if r.random() < 0.7:
                put(self.bang(s), at)
                if humming:
                    put(self.hum(int(wait * FS), 1) * lin(level), at)
                label("unplug_pop", "alert", at, at + 0.25 + wait, size_dbu=round(float(s), 1))
                dead(at, at + out)
            else:
                dead(max(0, at - 2), at + out)
                label("unplug_muted", "drop", max(0, at - 2), max(0, at - 2) + 0.3)
            back = at + out
            s, wait = size(), r.uniform(0.08, 0.9) if r.random() < 0.5 else 0.0
            if wait:
                put(self.hum(int(wait * FS), 1) * lin(s + r.uniform(-15, 3)), back)
            put(self.bang(s), back + wait)
            dead(back, back + wait)
            label("plug_pop", "alert", back, back + 0.25 + wait, size_dbu=round(float(s), 1))
        for _ in range(r.poisson(length / 1000)):
            at = free(2)
            if at is not None:
                m = int(2 * FS)
                t = np.arange(m) / FS
                x = (np.exp(-t / r.uniform(0.1, 0.35)) * (1 + 0.6 * np.sin(2 * np.pi * r.uniform(2, 9) * t)) + 0.7 * self.noise(m, 0.7) / 3 * np.exp(-t / 0.08)).astype(np.float32)
                s = source["peak"] + r.uniform(-8, 16)
                put(x / np.abs(x).max() * lin(s), at)
                label("phantom_thump", "alert", at, at + 0.6, size_dbu=round(float(s), 1))
        for _ in range(r.poisson(length / 500)):
            hold = r.uniform(2.5, 12)
            at = free(hold + 1)
            if at is not None:
                step = float(r.choice([10.0, 20.0]))
                pad[int(at * FS): int((at + hold) * FS)] = step
                label("pad_release", "alert", at, at + 0.3, step_db=step)
                label("pad_engage", "info", at + hold, at + hold + 0.3, step_db=-step)
        for _ in range(r.poisson(length / 500)):
            lasts = r.uniform(0.5, 4)
            at = free(lasts)
            if at is not None:
                s = size()
                for t in np.cumsum(r.exponential(1 / r.uniform(5, 25), 200)):
                    if t > lasts:
                        break
                    m = int(r.uniform(0.0001, 0.002) * FS) + 2
                    put((self.noise(m) / 3 * lin(s - r.exponential(6))).astype(np.float32), at + t)
                    if r.random() < 0.1:
                        dead(at + t, at + t + r.uniform(0.005, 0.06))
                label("crackle", "alert", at, at + lasts, size_dbu=round(float(s), 1))
        for _ in range(r.poisson(length / 450)):
            growth, rise = r.uniform(7, 45), r.uniform(15, 40)
            lasts = rise / growth + r.uniform(0.3, 1)
            at = free(lasts)
            if at is not None:
                t = np.arange(int((lasts + 0.5) * FS)) / FS
                top = source["peak"] + r.uniform(-8, 8)
                level = np.minimum(top, top - rise + growth * t) - 170 * np.maximum(0, t - lasts)
                put((lin(level) * np.sin(2 * np.pi * r.uniform(200, 6000) * t)).astype(np.float32), at)
                label("feedback", "alert", at, at + lasts, growth_db_s=round(float(growth), 1), size_dbu=round(float(top), 1))
        for _ in range(r.poisson(length / 400)):
            times = int(r.integers(1, 5))
            gaps = [(r.uniform(0.06, 1.5), r.uniform(0.1, 2)) for _ in range(times)]
            lasts = sum(a + b for a, b in gaps)
            at = free(lasts)
            if at is not None:
                t = at
                for away, back in gaps:
                    dead(t, t + away)
                    t += away + back
                label("dropout", "drop", at, t - gaps[-1][1], repeats=times)
        return add, cable, pad

    # ---- the desk

    def take(self, take, length):
        n, events, r = int(length * FS), [], self.r
        dry = {i["name"]: self.play(i["kind"], take, length, events, i) * lin(i["peak"] + (i["hold"] if take == "check" else 0)) for i in self.inputs}
        applause = [(t, r.uniform(3, 6)) for t in ([length * r.uniform(0.4, 0.6)] if take == "show" else [])]
        meters = {20: [], 50: [], 100: []}
        for i in self.inputs:
            x = dry[i["name"]].copy()
            for other, db in i["spill"].items():
                gain = lin(db + i["peak"] - [j for j in self.inputs if j["name"] == other][0]["peak"])
                delay = int(r.uniform(0.001, 0.012) * FS)
                x[delay:] += dry[other][: n - delay] * gain
            i[take] = dict(peak_dbu=round(20 * float(np.log10(np.abs(x).max())), 2))
            if i["mic"]:
                slow = np.interp(np.arange(n), np.arange(0, n + FS, FS // 4), r.normal(0, 2, n // (FS // 4) + 5)[: len(np.arange(0, n + FS, FS // 4))])
                x += self.noise(n, 0.3) * lin(i["room"] - 9 + slow).astype(np.float32)
                for at, lasts in applause:
                    m = int(lasts * FS)
                    swell = np.sin(np.pi * np.arange(m) / m) ** 0.5
                    size = i["peak"] - r.uniform(25, 50)
                    x[int(at * FS): int(at * FS) + m] += (self.noise(m, 0.2) * lin(size) * swell).astype(np.float32)
                    events.append(dict(kind="applause", t=round(at, 3), t_end=round(at + lasts, 3), ch=i["ch"], channel=i["name"], **{"class": "negative"}))
            x += self.noise(n) * lin(i["noise"] - 3).astype(np.float32)
            if i["buzz"] > 0:
                x += self.hum(n, 0) * lin(i["noise"] - 3 + i["buzz"] * 4).astype(np.float32)
            mine = []
            add, cable, pad = self.faults(i, length, mine)
            x *= cable
            if i["ceiling"] is not None:
                np.clip(x, -lin(i["ceiling"]), lin(i["ceiling"]), out=x)
            x += add
            x *= lin(i["trim"] - FULL_DBU + pad).astype(np.float32)
            x += self.noise(n) * lin(EIN_DBU + i["trim"] - FULL_DBU).astype(np.float32) + self.noise(n) * np.float32(lin(CONVERTER_DBFS))
            np.clip(x, -1, 1, out=x)
            for ms in meters:
                f = x[: n // (FS * ms // 1000) * (FS * ms // 1000)].reshape(-1, FS * ms // 1000)
                peak, rms = np.abs(f).max(1), np.sqrt((f.astype(np.float64) ** 2).mean(1))
                meters[ms].append((20 * np.log10(np.maximum(peak, 1e-7)), 20 * np.log10(np.maximum(rms, 1e-7))))
            events += mine
        events.sort(key=lambda e: e["t"])
        for number, e in enumerate(events):
            peak = meters[20][e["ch"] - 1][0]
            a, b = int(e["t"] / 0.02), int(np.ceil(e["t_end"] / 0.02)) + 1
            before = peak[max(0, a - 50): a]
            top, pre = float(peak[a:b].max()), float(before.max()) if len(before) else -120.0
            if e["class"] == "drop":
                masked = float(np.median(before)) - float(peak[a:b].min()) < 10 if len(before) else True
            else:
                masked = top - pre < 3
            e.update(id=number, peak_dbfs=round(top, 2), pre_max_dbfs=round(pre, 2), jump_over_max_db=round(top - pre, 2), masked=bool(masked), drop_db=None)
        return meters, events

    def write(self, folder):
        truth = dict(act=self.number, mains_hz=self.mains, fs_dbu=FULL_DBU, target_dbfs=TARGET, takes={})
        for take, length in (("check", 90), ("show", 180)):
            meters, events = self.take(take, length)
            truth["takes"][take] = dict(duration_s=length, events=events)
            for ms, inputs in meters.items():
                with open(os.path.join(folder, f"act{self.number:02d}_{take}.meters{ms}.csv"), "w") as log:
                    log.write("time_s,channel,peak_dbfs,rms_dbfs\n")
                    for k in range(len(inputs[0][0])):
                        for ch, (peak, rms) in enumerate(inputs, 1):
                            log.write(f"{(k + 1) * ms / 1000:.3f},{ch},{peak[k]:.2f},{rms[k]:.2f}\n")
        truth["channels"] = [dict(ch=i["ch"], name=i["name"], kind=i["kind"], check_trim_db=i["trim"], pad_db=0, show_peak_dbu=i["show"]["peak_dbu"],
                                  check_peak_dbu=i["check"]["peak_dbu"]) for i in self.inputs]
        with open(os.path.join(folder, f"act{self.number:02d}_truth.json"), "w") as file:
            json.dump(truth, file)


def main():
    o = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    o.add_argument("folder")
    o.add_argument("--acts", type=int, default=4)
    o.add_argument("--first", type=int, default=0)
    o.add_argument("--seed", type=int, default=1)
    o = o.parse_args()
    os.makedirs(o.folder, exist_ok=True)
    for number in range(o.first, o.first + o.acts):
        Act(number, o.seed).write(o.folder)


if __name__ == "__main__":
    main()
