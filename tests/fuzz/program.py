#!/usr/bin/env python3
"""The program as users get it, given what a hostile user would give it. Shares nothing with the other tests.

    tests/fuzz/program.py PROGRAM SECONDS [SEED]

Every execution must end by itself with a status from 0 to 4, say in words what is wrong and then write nothing, write
whole JSON when asked for JSON, take less than 600 MB, and never print a control character or call itself in error. What
breaks that is kept in a folder that is named, with the command; then the status is 1."""
import json
import os
import random
import resource
import shlex
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
EXAMPLES = ROOT / "examples"
MOST_MEMORY = 600_000_000
ODD_TEXT = ["", " ", "0", "-1", "1e309", "nan", "inf", "\u202e", "\x1b[2J", "A" * 5000, "100 mm", "-3 mm", "0 mm", "1e9 km",
            "99999999999999999999 mm", "12 furlongs", "25:61", "2026-02-30", "0.0000001 mm", "100", "%s%n", "../../etc", "\u00fc",
            "12 in 3", "1/0 in", "null", "10 C", "-274 C", "1000000 EUR", "0.001 EUR", "50 %", "250 %", "-5 %", "\u0000"]
COMMANDS = {
    "daysheet": ["-f", "--day", "--units", "--strict", "--paper"], "quote": ["-f", "--inside", "--units", "--variant", "--since"],
    "plan": ["-f", "--units", "--strict", "--stream", "--threads"], "check": ["-f", "--units", "--strict"],
    "picklist": ["-f", "--units"], "draw": ["-f", "--what", "--of", "--dpi"], "why": ["-f", "--units"],
    "whatif": ["-f", "--try"], "week": ["-f", "--from", "--days", "--crews", "--weekends", "--share", "--day", "--crew"],
    "now": ["-f", "--at", "--late", "--pipe", "--mixed", "--inflated", "--order"], "record": ["-f", "--new", "--guarantee"],
    "learn": ["-f"], "city": ["-f", "--worst"], "import": ["--depth", "--reference", "--keep-going", "--with-flow"],
    "new": ["--bore", "--length", "--defect"], "calc": [], "completion": [], "nonsense": ["-f"], "": [],
}
FLAGS = {"--strict", "--inside", "--stream", "--weekends", "--order", "--guarantee", "--keep-going", "--with-flow", "--new"}
LIKELY = {
    "-f": ["text", "json", "csv", "html", "svg", "pdf", "png", "ics"], "--units": ["us", "metric"], "--what": ["run", "section", "day",
    "cure", "price", "felt"], "--of": ["A", "A-P1", "1"], "--day": ["1", "2", "2026-07-13"], "--at": ["11:00", "23:59", "00:00"],
    "--late": ["12 min", "3 h"], "--pipe": ["7 C", "40 C"], "--mixed": ["A-P1=10:23"], "--inflated": ["A-P1=10:40"],
    "--from": ["2026-07-13", "2026-02-28"], "--days": ["1", "5"], "--crews": ["1", "3"], "--variant": ["1", "2"],
    "--try": ["site.finish=18:00", "limits.helpers=1", "runs.A=null", "runs.A.bore=70 mm"], "--depth": ["1.2 m"],
    "--bore": ["100 mm", "4 in"], "--length": ["30 m"], "--defect": ["12 ft crack", "3 m break"], "--threads": ["1", "2"],
    "--since": [str(EXAMPLES / "us-slab.json")], "--worst": ["1"], "--share": ["50 %"], "--paper": ["letter"], "--dpi": ["72"],
}
CALCS = ["thickness", "load", "bend", "airtest", "watertest", "leak", "energy", "thrust", "trench", "markup", "pressure", "cure", "resin",
         "felt", "nothing"]
CALC_OPTIONS = ["--bore", "--length", "--depth", "--method", "--thickness", "--resin", "--pipe-temperature", "--radius", "--angle",
                "--pressure", "--markup", "--margin", "--material"]


def nodes(value, path=()):
    """Every place in a JSON value."""
    yield path
    if isinstance(value, dict):
        for key, child in value.items():
            yield from nodes(child, path + (key,))
    elif isinstance(value, list):
        for i, child in enumerate(value):
            yield from nodes(child, path + (i,))


def at(value, path):
    for step in path:
        value = value[step]
    return value


class Hostile:
    def __init__(self, seed, folder):
        self.dice = random.Random(seed)
        self.folder = folder
        self.jobs = [EXAMPLES / "us-slab.json", ROOT / "tests/support/one_patch.json", *sorted((EXAMPLES / "week").glob("1*.json"))]
        self.surveys = [EXAMPLES / name for name in ("survey.txt", "survey.xml", "survey.csv", "survey-quoted.txt")]
        self.count = 0

    def number(self, text):
        """The text with its first number another one."""
        digits = [i for i, c in enumerate(text) if c.isdigit()]
        if not digits:
            return text
        end = digits[0]
        while end < len(text) and (text[end].isdigit() or text[end] == "."):
            end += 1
        value = self.dice.choice(["0", "0.1", "1", "3", "7.5", "12", "48", "90", "150", "600", "9999", "1e7"])
        return text[: digits[0]] + value + text[end:]

    def bent(self, value):
        value = json.loads(json.dumps(value))
        for _ in range(self.dice.choice([0, 1, 1, 2, 3, 6])):
            places = [p for p in nodes(value) if p]
            if not places:
                break
            place = self.dice.choice(places)
            holder, key = at(value, place[:-1]), place[-1]
            old = holder[key]
            way = self.dice.random()
            if way < 0.5 and isinstance(old, str):
                holder[key] = self.number(old)
            elif way < 0.6:
                holder[key] = self.dice.choice(ODD_TEXT[:-1])
            elif way < 0.7:
                holder[key] = at(value, self.dice.choice(places))
                holder[key] = json.loads(json.dumps(holder[key]))
            elif way < 0.8:
                del holder[key]
            elif way < 0.9 and isinstance(holder, list):
                holder.extend(json.loads(json.dumps(holder[: self.dice.choice([1, 3, 12])])))
            else:
                holder[key] = self.dice.choice([None, True, -1, 1e308, [], {}, [[]] * 5, 2**63])
        return value

    def file(self, source, suffix):
        """A file made of that one: as it is, its values and structure changed, or its bytes."""
        path = self.folder / f"in{self.count}{suffix}"
        self.count += 1
        data = Path(source).read_bytes()
        way = self.dice.random()
        if suffix == ".json" and way < 0.75:
            try:
                data = json.dumps(self.bent(json.loads(data)), indent=self.dice.choice([None, 1])).encode()
            except (ValueError, RecursionError):
                pass
        elif way < 0.9:
            data = bytearray(data)
            for _ in range(self.dice.choice([1, 2, 8, 40])):
                place = self.dice.randrange(len(data) + 1)
                if self.dice.random() < 0.5:
                    data[place:place] = self.dice.randbytes(self.dice.randrange(4))
                else:
                    del data[place : place + self.dice.choice([1, 2, 30, 2000])]
        elif way < 0.93:
            data = self.dice.choice([b"", b"[" * 100_000, b"\xff\xfe", b"\0" * 100, b"{}", b"null", b'{"a":' * 2000])
        path.write_bytes(bytes(data))
        return str(path)

    def option(self, name):
        if name in FLAGS:
            return [name]
        likely = LIKELY.get(name, [])
        value = self.dice.choice(likely) if likely and self.dice.random() < 0.93 else self.dice.choice(ODD_TEXT[:-1])
        return [name, value]

    def arguments(self):
        command = self.dice.choice(list(COMMANDS))
        words = [command] if command else []
        job = lambda: self.file(self.dice.choice(self.jobs), ".json")
        if command == "calc":
            words.append(self.dice.choice(CALCS))
            for name in self.dice.sample(CALC_OPTIONS, self.dice.randrange(6)):
                words += [name, self.dice.choice(["100 mm", "30 m", "1.2 m", "LC", "3 mm", "standard", "10 C", "45 deg", "0.7 bar", "25 %",
                                                  *ODD_TEXT[:-1]])]
            return words
        if command == "completion":
            return words + [self.dice.choice(["bash", "zsh", "fish", "man", "csh", ""])]
        if command == "import":
            source = self.dice.choice(self.surveys)
            words.append(self.file(source, source.suffix))
        elif command == "week":
            words += [job() for _ in range(self.dice.choice([1, 2, 3]))]
            words += ["--from", "2026-07-13"] if self.dice.random() < 0.8 else []
        elif command == "learn":
            words += [self.file(EXAMPLES / "demo-record.json", ".json") for _ in range(self.dice.choice([1, 2]))]
        elif command == "city":
            words.append(job())
        elif command == "record":
            words += [job(), self.file(EXAMPLES / "demo-record.json", ".json")]
        elif command != "new":
            words.append(job())
        if command == "why" and self.dice.random() < 0.7:
            words.append(self.dice.choice(["price", "A-P1.thickness", "M1.part-a", "layout", "A.flow", *ODD_TEXT[:-1]]))
        if command in ("daysheet", "quote", "plan", "check", "week", "whatif", "picklist") and self.dice.random() < 0.4:
            words += ["--yard", self.file(self.dice.choice([ROOT / "data/yard.json", EXAMPLES / "week/yard.json"]), ".json")]
        for name in COMMANDS[command]:
            if self.dice.random() < 0.25:
                words += self.option(name)
        if self.dice.random() < 0.1:
            words.append(self.dice.choice(["--", "-", "--help", "-o", "--stremg", "\u00e9", "-qqq"]))
        return words


def faults_of(status, out, err, memory, words, written):
    """What must not be, in words."""
    faults = []
    if status not in range(5):
        faults.append(f"ended with {status}")
    if memory > MOST_MEMORY:
        faults.append(f"took {memory} bytes")
    if b"internal error" in err or b"bad_alloc" in err or b"terminate" in err:
        faults.append("called itself in error")
    if any(c in out[:200_000] or c in err for c in (b"\x1b", b"\x07", b"\x08")) and not out.startswith((b"%PDF", b"\x89PNG")):
        faults.append("printed a control character")
    if status in (1, 2, 3):
        tells_on_output = words[:1] == ["check"] and status == 3
        if out and not tells_on_output:
            faults.append("printed a result beside an error")
        if written and not tells_on_output:
            faults.append("wrote a file beside an error")
        if not err and not tells_on_output:
            faults.append("did not say what is wrong")
    whole = written if written else out
    if status in (0, 4) and "json" in words and "--stream" not in words and "--help" not in words:
        try:
            json.loads(whole)
        except ValueError:
            faults.append("wrote JSON that is none")
    return faults


def run(program, words, folder):
    """Status, output, errors, memory."""
    with tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err:
        child = subprocess.Popen([program, *words], stdin=subprocess.DEVNULL, stdout=out, stderr=err, cwd=folder,
                                 env={"LC_ALL": "C.UTF-8"}, preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_CPU, (120, 120)))
        _, state, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(state)
        out.seek(0)
        err.seek(0)
        return child.returncode, out.read(), err.read(), used.ru_maxrss * 1024


def main():
    if len(sys.argv) not in (3, 4):
        sys.exit(__doc__)
    program, seconds, seed = os.path.abspath(sys.argv[1]), float(sys.argv[2]), int(sys.argv[3]) if len(sys.argv) == 4 else 1
    kept = Path(tempfile.mkdtemp(prefix="hostile-"))
    begin, statuses, commands, findings, most = time.time(), Counter(), Counter(), 0, 0
    while time.time() - begin < seconds:
        seed += 1
        folder = kept / str(seed)
        folder.mkdir()
        hostile = Hostile(seed, folder)
        words = hostile.arguments()
        to_file = hostile.dice.random() < 0.3
        if to_file:
            words += ["-o", str(folder / "out")]
        if any("\0" in w for w in words):
            continue
        status, out, err, memory = run(program, words, folder)
        written = (folder / "out").read_bytes() if to_file and (folder / "out").exists() else b""
        left = [n for n in os.listdir(folder) if n.startswith(".patchwright")]
        faults = faults_of(status, out, err, memory, words, written) + [f"left {n}" for n in left]
        statuses[status] += 1
        commands[words[0] if words and words[0] in COMMANDS else ""] += 1
        most = max(most, memory)
        if faults:
            findings += 1
            print(f"{', '.join(faults)}: {shlex.join(words)}\n  {err[:200]!r}", flush=True)
        else:
            shutil.rmtree(folder)
    print(f"{sum(statuses.values())} executions, {findings} findings, statuses {dict(sorted(statuses.items()))}, "
          f"most memory {most // 1_000_000} MB, seeds up to {seed}")
    print(", ".join(f"{name or '(nothing)'} {count}" for name, count in sorted(commands.items())))
    if findings:
        print(f"kept in {kept}")
    else:
        shutil.rmtree(kept)
    sys.exit(1 if findings else 0)


main()
