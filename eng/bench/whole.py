#!/usr/bin/env python3
"""Whole-process runs: start, memory, CPU of a paced link, desks held on one core, alarm latency, measuring files.

Each figure stands beside its peer in the same run. Prints one JSON document. Standard library only.
usage: whole.py RUN... with RUN of: start memory paced flood desks latency measure all; --seconds N, --program DLL
"""
import argparse
import json
import os
import re
import socket
import statistics
import subprocess
import tempfile
import time
import urllib.request

ROOT = os.path.abspath(os.path.join(os.path.dirname(__file__), "../.."))
PEERS = os.path.join(ROOT, "artifacts/bench")
BENCHMARKS = os.path.join(ROOT, "tests/TrimAssist.Benchmarks/bin/Release/net10.0/TrimAssist.Benchmarks")
TICKS = os.sysconf("SC_CLK_TCK")


def free_port(kind=socket.SOCK_STREAM):
    with socket.socket(socket.AF_INET, kind) as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def profile(folder, number, port, inputs, form, rate=50):
    """Writes the profile of an invented desk that sends as peers/desks.c does."""
    meters = 'address = "/lv/all"\npacking = "blob"\nelement = "float32"' if form == "blob" else 'address = "/lv/{input}"'
    path = os.path.join(folder, f"desk{number}.toml")
    with open(path, "w", encoding="ascii") as file:
        file.write(f"""id = "desk-{number}"
inputs = {inputs}
[connection]
transport = "udp"
desk = "127.0.0.1:9"
listen = "127.0.0.1:{port}"
accept_from = ["127.0.0.1"]
[[meters]]
{meters}
quantity = "peak"
unit = "dbfs"
frame_ms = {1000 // rate}
tap = "converter"
follows_mute = false
""")
    return path


def get(url, timeout=2):
    with urllib.request.urlopen(url, timeout=timeout) as answer:
        return answer.read().decode()


class Process:
    """A server under measurement: started, awaited, looked at through /proc, ended."""

    def __init__(self, command, http, pin=None):
        self.url = f"http://127.0.0.1:{http}"
        environment = dict(os.environ, ASPNETCORE_ENVIRONMENT="Production", DOTNET_NOLOGO="1")
        prefix = ["taskset", "-c", str(pin)] if pin is not None else []
        began = time.monotonic()
        self.log = tempfile.TemporaryFile()
        self.process = subprocess.Popen(prefix + command, stdout=self.log, stderr=self.log, env=environment)
        while True:
            try:
                get(self.url + "/api/health")
                break
            except OSError:
                if self.process.poll() is not None:
                    self.log.seek(0)
                    raise SystemExit(f"{command} ended: {self.log.read().decode()}")
                time.sleep(0.004)
        self.ready_s = time.monotonic() - began

    def cpu_s(self):
        fields = open(f"/proc/{self.process.pid}/stat").read().rsplit(")", 1)[1].split()
        return (int(fields[11]) + int(fields[12])) / TICKS

    def resident_mib(self):
        return int(re.search(r"VmRSS:\s+(\d+)", open(f"/proc/{self.process.pid}/status").read())[1]) / 1024

    def threads(self):
        return len(os.listdir(f"/proc/{self.process.pid}/task"))

    def end(self):
        self.process.terminate()
        try:
            self.process.wait(10)
        except subprocess.TimeoutExpired:
            self.process.kill()

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.end()


def serve(options, folder, profiles, pin=None):
    http = free_port()
    command = options.program + ["serve", "--data", os.path.join(folder, "data"), "--urls", f"http://127.0.0.1:{http}"]
    for path in profiles:
        command += ["--desk", path]
    return Process(command, http, pin)


def desks(*arguments):
    return subprocess.Popen([os.path.join(PEERS, "desks"), *map(str, arguments)], stdout=subprocess.PIPE, text=True)


def run_start(options):
    """Start to first answer, and the CPU it took, ours and an empty ASP.NET Core app in turn: on a busy machine only the second says much. The page is put together right after: its first answer is told by itself."""
    ours, empty, ours_cpu, empty_cpu, page = [], [], [], [], []
    for _ in range(options.rounds):
        with tempfile.TemporaryDirectory() as folder:
            with serve(options, folder, [profile(folder, 1, free_port(socket.SOCK_DGRAM), 64, "blob")]) as service:
                ours.append(service.ready_s)
                ours_cpu.append(service.cpu_s())
                began = time.monotonic()
                get(service.url + "/", 30)
                page.append(time.monotonic() - began)
        http = free_port()
        with Process(options.empty + ["--urls", f"http://127.0.0.1:{http}"], http) as app:
            empty.append(app.ready_s)
            empty_cpu.append(app.cpu_s())
    return {"oursMs": spread(ours), "emptyMs": spread(empty), "ratioOfMedians": ratio(ours, empty),
            "oursCpuMs": spread(ours_cpu), "emptyCpuMs": spread(empty_cpu), "cpuRatioOfMedians": ratio(ours_cpu, empty_cpu), "firstPageMs": spread(page)}


def ratio(ours, theirs):
    return round(statistics.median(ours) / statistics.median(theirs), 2)


def spread(seconds):
    return [round(1000 * value) for value in (min(seconds), statistics.median(seconds), max(seconds))]


def run_memory(options):
    """Resident memory: an empty app, and ours with 1 and 8 desks of 64 inputs, idle and after a time under load with a page's stream open."""
    answer = {}
    http = free_port()
    with Process(options.empty + ["--urls", f"http://127.0.0.1:{http}"], http) as app:
        answer["emptyMib"] = round(app.resident_mib(), 1)
    for count in (1, 8):
        with tempfile.TemporaryDirectory() as folder:
            first = 30000 + 100 * count
            with serve(options, folder, [profile(folder, n, first + n, 64, "blob") for n in range(count)]) as service:
                time.sleep(2)
                idle = service.resident_mib()
                reader = subprocess.Popen(["curl", "-sN", service.url + "/api/events"], stdout=subprocess.DEVNULL)
                load = desks(first, count, 64, 50, options.seconds, "blob")
                load.wait()
                loaded = service.resident_mib()
                reader.kill()
                answer[f"desks{count}"] = {"idleMib": round(idle, 1), "loadedMib": round(loaded, 1), "threads": service.threads()}
    return answer


def run_paced(options):
    """3,200 evenly spaced datagrams a second: CPU of each for a recvfrom loop in C, for the desk's loop, for the whole service."""
    answer = {}
    port = free_port(socket.SOCK_DGRAM)
    receiver = subprocess.Popen([os.path.join(PEERS, "receive"), str(port), str(options.seconds)], stdout=subprocess.PIPE, text=True)
    load = desks(port, 1, 64, 50, options.seconds + 1, "even")
    answer["c"] = json.loads(receiver.communicate()[0])
    load.wait()
    port = free_port(socket.SOCK_DGRAM)
    receiver = subprocess.Popen([BENCHMARKS, "loop", str(port), str(options.seconds)], stdout=subprocess.PIPE, text=True)
    time.sleep(1)
    load = desks(port, 1, 64, 50, options.seconds + 2, "even")
    answer["loop"] = json.loads(receiver.communicate()[0])
    load.wait()
    with tempfile.TemporaryDirectory() as folder:
        port = free_port(socket.SOCK_DGRAM)
        with serve(options, folder, [profile(folder, 1, port, 64, "single")]) as service:
            load = desks(port, 1, 64, 50, options.seconds + 4, "even")
            time.sleep(3)
            before = service.cpu_s()
            time.sleep(options.seconds)
            used = service.cpu_s() - before
            answer["service"] = {"cpuUs": round(used * 1e6 / (3200 * options.seconds), 2)}
            load.wait()
    answer["ratio"] = round(answer["loop"]["cpuUs"] / answer["c"]["cpuUs"], 2)
    return answer


def run_flood(options):
    """A sender that never waits, against the desk's loop: what was sent is heard, or counted as thrown away by the system; nothing else is missing."""
    port = free_port(socket.SOCK_DGRAM)
    receiver = subprocess.Popen([BENCHMARKS, "loop", str(port), str(options.seconds)], stdout=subprocess.PIPE, text=True)
    time.sleep(3)
    began = time.monotonic()
    sent = json.loads(desks(port, 1, 64, 50, 20_000 * options.seconds, "flood").communicate()[0])["sent"]
    took = time.monotonic() - began
    time.sleep(1)
    # The kernel tells what it threw away with the next datagram that it hands on.
    sent += json.loads(desks(port, 1, 64, 50, 64, "flood").communicate()[0])["sent"]
    heard = json.loads(receiver.communicate()[0])
    return {"sent": sent, "perSecond": round(sent / took), "heard": heard["datagrams"], "countedAsThrownAway": heard["overflowed"],
            "missing": sent - heard["datagrams"] - heard["overflowed"]}


def run_desks(options):
    """CPU and lost frames against the number of desks of 64 inputs at 50 frames a second, the service pinned to one core."""
    answer = []
    for count in options.desks:
        for form in ("blob", "single"):
            if form == "single" and count > 16:
                continue
            with tempfile.TemporaryDirectory() as folder:
                first = 31000
                with serve(options, folder, [profile(folder, n, first + n, 64, form) for n in range(count)], pin=0) as service:
                    load = subprocess.Popen(
                        ["taskset", "-c", "1", os.path.join(PEERS, "desks"), *map(str, (first, count, 64, 50, options.seconds + 6, form))],
                        stdout=subprocess.PIPE, text=True)
                    time.sleep(4)
                    before, at = service.cpu_s(), time.monotonic()
                    time.sleep(options.seconds)
                    share = (service.cpu_s() - before) / (time.monotonic() - at)
                    load.wait()
                    time.sleep(0.5)
                    heard = json.loads(get(service.url + "/api/desks", 10))
                    answer.append({
                        "desks": count, "form": form, "readingsPerS": count * 64 * 50, "cpuPercent": round(100 * share, 1),
                        "framesLost": sum(desk["framesLost"] for desk in heard),
                        "framesHeard": sum(desk["framesHeard"] for desk in heard),
                        "overflowed": sum(desk["datagramsOverflowed"] or 0 for desk in heard),
                        "residentMib": round(service.resident_mib(), 1)})
    return answer


def run_latency(options):
    """From the jump's datagram to the alarm on the event stream, in microseconds, beside a relay in C that does nothing else."""
    answer = []
    for inputs in (24, 64):
        udp, http = free_port(socket.SOCK_DGRAM), free_port()
        with subprocess.Popen([os.path.join(PEERS, "relay"), str(udp), str(http)]) as relay:
            time.sleep(0.3)
            floor = latency(udp, http, inputs, options)
            relay.kill()
        with tempfile.TemporaryDirectory() as folder:
            udp = free_port(socket.SOCK_DGRAM)
            with serve(options, folder, [profile(folder, 1, udp, inputs, "single")]) as service:
                request = urllib.request.Request(
                    service.url + "/api/desks/desk-1/watch", b'{"on":true}', {"Content-Type": "application/json"})
                urllib.request.urlopen(request).read()
                ours = latency(udp, int(service.url.rsplit(":", 1)[1]), inputs, options)
        answer.append({"inputs": inputs, "relay": floor, "service": ours, "p50Ratio": round(ours["p50"] / floor["p50"], 2)})
    return answer


def latency(udp, http, inputs, options):
    every = 5
    arguments = [os.path.join(PEERS, "latency"), *map(str, (udp, http, inputs, 50, options.jumps * every // 50, every))]
    return json.loads(subprocess.run(arguments, capture_output=True, text=True, check=True).stdout)


def run_measure(options):
    """CPU of `measure` and of ffmpeg's ebur128=peak=true over the same file, as times real time and channel, start included."""
    minutes = 10
    with tempfile.TemporaryDirectory() as folder:
        file = os.path.join(folder, "noise.wav")
        subprocess.run(
            ["ffmpeg", "-loglevel", "error", "-f", "lavfi", "-i", f"anoisesrc=color=pink:duration={60 * minutes}:sample_rate=48000:amplitude=0.3",
             "-ac", "2", "-c:a", "pcm_s24le", file], check=True)
        ours = least_cpu(options.program + ["measure", "--json", file], options.rounds)
        theirs = least_cpu(
            ["ffmpeg", "-nostdin", "-hide_banner", "-loglevel", "error", "-threads", "1", "-i", file, "-filter_complex", "ebur128=peak=true",
             "-f", "null", "-"], options.rounds)
        start = least_cpu(options.program + ["--help"], options.rounds)
    seconds = 60 * minutes * 2
    return {"oursCpuS": round(ours, 2), "ffmpegCpuS": round(theirs, 2), "ourStartCpuS": round(start, 2),
            "oursTimesRealTime": round(seconds / ours), "ffmpegTimesRealTime": round(seconds / theirs), "ratio": round(theirs / ours, 2)}


def least_cpu(command, rounds):
    best = float("inf")
    for _ in range(rounds):
        before = os.times()
        subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=True)
        after = os.times()
        best = min(best, after.children_user + after.children_system - before.children_user - before.children_system)
    return best


def main():
    runs = {name[4:]: run for name, run in globals().items() if name.startswith("run_")}
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("runs", nargs="+", choices=[*runs, "all"])
    parser.add_argument("--seconds", type=int, default=10)
    parser.add_argument("--rounds", type=int, default=7)
    parser.add_argument("--jumps", type=int, default=1000)
    parser.add_argument("--desks", type=int, nargs="+", default=[1, 2, 4, 8, 16, 32, 64])
    parser.add_argument("--program", default=os.path.join(ROOT, "src/TrimAssist.Service/bin/Release/net10.0/trimassist.dll"))
    parser.add_argument("--empty", default=os.path.join(ROOT, "eng/bench/EmptyApp/bin/Release/net10.0/EmptyApp.dll"))
    options = parser.parse_args()
    for name in ("program", "empty"):
        path = getattr(options, name)
        setattr(options, name, ["dotnet", path] if path.endswith(".dll") else [path])
    for name in runs if "all" in options.runs else options.runs:
        print(json.dumps({name: runs[name](options)}), flush=True)


if __name__ == "__main__":
    main()
