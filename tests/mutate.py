#!/usr/bin/env python3
"""Changes the core in small ways and counts how many of the changes the tests notice.

    tests/mutate.py FOLDER [--count 100] [--seed 1] [--modules load,liner]
    tests/mutate.py FOLDER --resume       goes on with a run that was stopped (with the same options)
    tests/mutate.py FOLDER --again        only the survivors of the last run, with the tests as they are now

FOLDER takes a copy of the tree, its build and `mutants.json`; it may not lie in the source tree, which is only read.
One mutant is one operator, constant, condition or early return changed in one line. It is compiled, and the test
programs of its own module are run: a failure, a crash or three times the usual processor time kills it.
"""
import argparse
import json
import os
import pathlib
import random
import re
import resource
import shutil
import signal
import subprocess
import sys

MODULES = ("units load liner leaktest packer resin cure schedule layout cutting excavation price survey intake plan "
           "sheet").split()
TESTS = {"sheet": ("sheets", "text", "drawing", "page")}  # test programs of a module, where it is not the one of its name
SOURCE = pathlib.Path(__file__).resolve().parent.parent

# Between spaces, as clang-format sets binary operators: so no template bracket, reference or pointer is taken for one.
OPERATORS = {
    "<": ("<=", ">="), "<=": ("<", ">"), ">": (">=", "<="), ">=": (">", "<"), "==": ("!=",), "!=": ("==",),
    "+": ("-",), "-": ("+",), "*": ("/",), "/": ("*",), "%": ("*",), "&&": ("||",), "||": ("&&",),
    "+=": ("-=",), "-=": ("+=",), "*=": ("/=",), "/=": ("*=",),
}
# A number times its unit is left alone: divided by it the line would not compile.
OPERATOR = re.compile(r"(?<= )(?!\* unit::)(<=|>=|==|!=|\+=|-=|\*=|/=|&&|\|\||[<>+\-*/%])(?= |$)")
WORDS = {"std::min": "std::max", "std::max": "std::min", "true": "false", "false": "true", "std::floor": "std::ceil",
         "std::ceil": "std::floor", "lower_bound": "upper_bound", "upper_bound": "lower_bound", "any_of": "all_of",
         "all_of": "any_of", "none_of": "any_of", "front()": "back()", "back()": "front()"}
WORD = re.compile(r"(?<![\w.])(std::min|std::max|true|false|std::floor|std::ceil)(?![\w.])|"
                  r"(?<=std::)(lower_bound|upper_bound|any_of|all_of|none_of)(?=\()|(?<=\.)(front\(\)|back\(\))")
NUMBER = re.compile(r"(?<![\w.'<\[])(\d+(?:\.\d+)?(?:e[+-]?\d+)?)(?![\w.'>])")
CONDITION = re.compile(r"\b(?:if|while) \((?!auto|const auto)(.*)\) \{$")
EARLY = re.compile(r"^\s*(if \(.*\) (?:return|throw|continue|break)\b.*;)$")
SKIPPED_LINE = re.compile(r"^\s*(#|case |static_assert|enum |template|using |namespace )")


def blanked(text):
    """The text with comments, strings and tables of formulas blanked out, every character still in its place."""
    out = list(text)

    def blank(start, end):
        for at in range(start, end):
            if out[at] != "\n":
                out[at] = " "

    pattern = re.compile(r'//[^\n]*|/\*.*?\*/|R"\((?:.*?)\)"|"(?:\\.|[^"\\\n])*"|(?<![0-9a-fA-F])\'(?:\\.|[^\'\\\n])+\'', re.S)
    for found in pattern.finditer(text):
        blank(found.start(), found.end())
    plain = "".join(out)
    for found in re.finditer(r"constexpr (?:std::array<)?Formula\b", plain):
        depth = 0
        for at in range(found.start(), len(plain)):
            depth += {"{": 1, "(": 1, "}": -1, ")": -1}.get(plain[at], 0)
            if plain[at] == ";" and depth == 0:
                blank(found.start(), at)
                break
    return "".join(out)


def other_number(text):
    """None for the tolerances of comparisons: a fifth more of 1e-9 is as good."""
    value = float(text)
    if 0 < value < 1e-4:
        return None
    if re.fullmatch(r"\d+", text):
        return str(int(text) + 1)
    return "1.0" if value == 0 else repr(round(value * 1.2, 12))


def changes_of_line(plain):
    """(column, old, new) for every change this line allows."""
    if SKIPPED_LINE.match(plain):
        return
    early = EARLY.match(plain)
    if early:
        yield early.start(1), early.group(1), ";"
    condition = CONDITION.search(plain)
    if condition:
        yield condition.start(1), condition.group(1), f"!({condition.group(1)})"
    for found in OPERATOR.finditer(plain):
        for new in OPERATORS[found.group(1)]:
            yield found.start(1), found.group(1), new
    for found in WORD.finditer(plain):
        yield found.start(), found.group(), WORDS[found.group()]
    for found in NUMBER.finditer(plain):
        new = other_number(found.group(1))
        if new:
            yield found.start(1), found.group(1), new


def all_mutants(module):
    mutants = []
    for path in sorted((SOURCE / "src" / module).glob("*.cpp")):
        text = path.read_text()
        lines = text.split("\n")
        for index, plain in enumerate(blanked(text).split("\n")):
            for column, old, _new in changes_of_line(plain):
                # A condition or early return is replaced with its strings as they stand.
                old_text = lines[index][column:column + len(old)]
                new = _new.replace(old, old_text) if old != old_text else _new
                mutants.append({"module": module, "file": str(path.relative_to(SOURCE)), "line": index + 1,
                                "text": lines[index], "column": column, "old": old_text, "new": new})
    return mutants


def sample(modules, count, seed):
    """Half shared out evenly among the modules, half by their size; one mutant a line at most."""
    drawn = []
    pools = {}
    for module in modules:
        pool = all_mutants(module)
        random.Random(f"{seed} {module}").shuffle(pool)
        seen = set()
        pools[module] = [m for m in pool if (m["file"], m["line"]) not in seen and not seen.add((m["file"], m["line"]))]
    total = sum(len(pool) for pool in pools.values())
    for module, pool in pools.items():
        share = round(0.5 * count / len(modules) + 0.5 * count * len(pool) / total)
        drawn += pool[:share]
    return drawn


def run(command, limit=None):
    """Exit status. `limit` is in seconds of the processor, not of the clock: a busy machine kills no mutant."""

    def bounded():
        if limit is not None:
            resource.setrlimit(resource.RLIMIT_CPU, (limit, limit))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_AS, (8 << 30, 8 << 30))  # a loop that fills memory ends there

    return subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, stdin=subprocess.DEVNULL,
                          preexec_fn=bounded, env={**os.environ, "RC_PARAMS": "seed=1", "CCACHE_DISABLE": "1"}).returncode


def processor_seconds():
    spent = resource.getrusage(resource.RUSAGE_CHILDREN)
    return spent.ru_utime + spent.ru_stime


class Bench:
    """The copy of the tree with its build."""

    def __init__(self, folder, jobs):
        self.tree = folder / "tree"
        self.build = folder / "out"
        self.jobs = jobs
        self.usual = {}

    def refresh(self):
        """Copies what changed, so that a second run builds little."""
        listed = subprocess.run(["git", "ls-files", "-co", "--exclude-standard"], cwd=SOURCE, check=True,
                                capture_output=True, text=True).stdout.split("\n")
        for name in filter(None, listed):
            source, target = SOURCE / name, self.tree / name
            if source.is_file() and not (target.is_file() and target.read_bytes() == source.read_bytes()):
                target.parent.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(source, target)
        subprocess.run(["cmake", "-S", self.tree, "-B", self.build, "-G", "Ninja", "-DCMAKE_BUILD_TYPE=Debug",
                        "-DCMAKE_CXX_FLAGS_DEBUG=-O1", "-DCMAKE_CXX_COMPILER_LAUNCHER=", "-DPATCHWRIGHT_BENCHMARKS=OFF"],
                       check=True, stdout=subprocess.DEVNULL)

    def compile(self, module):
        targets = [f"test_{name}" for name in TESTS.get(module, (module,))]
        return run(["ninja", "-C", self.build, f"-j{self.jobs}", *targets]) == 0

    def passes(self, module, limit=None):
        """Each program of the module within its limit of processor seconds."""
        programs = [self.build / "tests" / module / f"test_{name}" for name in TESTS.get(module, (module,))]
        return all(run([program, "--abort"], limit) == 0 for program in programs)

    def measure(self, module):
        if module in self.usual:
            return
        if not self.compile(module):
            sys.exit(f"test_{module} does not build without changes")
        start = processor_seconds()
        if not self.passes(module):
            sys.exit(f"test_{module} fails without changes")
        self.usual[module] = processor_seconds() - start

    def judge(self, mutant):
        """killed, survived or did not compile. Object and source are put back as they were, so that only one file is
        compiled for each mutant; the archive is removed, since it holds the mutant."""
        module = mutant["module"]
        self.measure(module)
        source = self.tree / mutant["file"]
        archive = self.build / "src" / module / f"libpatchwright_{module}.a"
        thing = self.build / "src" / module / "CMakeFiles" / f"patchwright_{module}.dir" / (source.name + ".o")
        for path in (source, thing):
            shutil.copy2(path, f"{path}.kept")
        lines = source.read_text().split("\n")
        line, column = lines[mutant["line"] - 1], mutant["column"]
        lines[mutant["line"] - 1] = line[:column] + mutant["new"] + line[column + len(mutant["old"]):]
        try:
            source.write_text("\n".join(lines))
            if not self.compile(module):
                return "did not compile"
            return "survived" if self.passes(module, int(3 * self.usual[module]) + 5) else "killed"
        finally:
            for path in (source, thing):
                shutil.copy2(f"{path}.kept", path)
                os.remove(f"{path}.kept")
            archive.unlink(missing_ok=True)


def found_again(mutant):
    """The same mutant at the line where it now stands, or None when its line is gone."""
    same = [m for m in all_mutants(mutant["module"])
            if all(m[key] == mutant[key] for key in ("file", "text", "column", "old", "new"))]
    return min(same, key=lambda m: abs(m["line"] - mutant["line"]), default=None)


def shown(mutant):
    return f'{mutant["file"]}:{mutant["line"]}: {mutant["old"]}  ->  {mutant["new"]}   in: {mutant["text"].strip()}'


def report(mutants):
    print(f'\n{"module":<12}{"mutants":>8}{"killed":>8}{"survived":>10}{"did not compile":>17}')
    rows = [(module, [m for m in mutants if m["module"] == module]) for module in MODULES] + [("all", mutants)]
    for module, of_module in rows:
        counts = [sum(m["result"] == result for m in of_module) for result in ("killed", "survived", "did not compile")]
        if of_module:
            print(f"{module:<12}{len(of_module):>8}{counts[0]:>8}{counts[1]:>10}{counts[2]:>17}")
    print("\nSurvived:")
    for mutant in mutants:
        if mutant["result"] == "survived":
            print(shown(mutant))


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=pathlib.Path)
    parser.add_argument("--count", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--modules", type=lambda text: text.split(","), default=MODULES)
    parser.add_argument("--jobs", type=int, default=2, help="of the compiler")
    parser.add_argument("--resume", action="store_true", help="go on with a run that was stopped")
    parser.add_argument("--again", action="store_true", help="only the survivors of the last run")
    parser.add_argument("--list", action="store_true", help="show the sample, run nothing")
    options = parser.parse_args()
    folder = options.folder.resolve()
    if folder == SOURCE or SOURCE in folder.parents:
        sys.exit(f"{folder} lies in the source tree; take a folder outside it")

    record = folder / "mutants.json"
    old = json.loads(record.read_text()) if options.again or options.resume else []
    if options.again:
        survivors = [found_again(m) for m in old if m["result"] == "survived"]
        gone = survivors.count(None)
        if gone:
            print(f"{gone} survivors stand in lines that have changed since; they are dropped")
        mutants = [m for m in survivors if m]
    else:
        mutants = sample(options.modules, options.count, options.seed)
    if options.list:
        print("\n".join(map(shown, mutants)))
        return

    folder.mkdir(parents=True, exist_ok=True)
    signal.signal(signal.SIGTERM, lambda *_: sys.exit("stopped"))  # source and object are put back on the way out
    bench = Bench(folder, options.jobs)
    bench.refresh()
    done = [m for m in old if m["result"] != "survived"] if options.again else old
    if options.resume:
        place = lambda m: (m["file"], m["text"], m["column"], m["new"])
        judged = {place(m) for m in old}
        mutants = [m for m in mutants if place(m) not in judged]
    for number, mutant in enumerate(mutants, 1):
        mutant["result"] = bench.judge(mutant)
        done.append(mutant)
        print(f'{number}/{len(mutants)} {mutant["result"]}: {shown(mutant)}', flush=True)
        if not options.again:
            record.write_text(json.dumps(done, indent=1))
    if options.again:
        record.write_text(json.dumps(done, indent=1))
    report(done)


if __name__ == "__main__":
    main()
