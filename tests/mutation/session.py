"""Runs the tests on one mutant after another, each in a process of its own, forked after the tests are collected."""

import functools
import gc
import importlib
import json
import os
import random
import resource
import signal
import tempfile
import textwrap
import time
from collections import Counter, defaultdict
from collections.abc import Callable
from dataclasses import dataclass, field
from hashlib import sha256
from itertools import accumulate, chain, pairwise, zip_longest
from pathlib import Path
from types import FunctionType
from typing import TypeAlias

import pytest
from _pytest.runner import runtestprotocol  # pytest's own way of running one test, which has no public name
from coverage import Coverage

from tests.mutation.mutants import ROOT, Mutant

NOTICED, SURVIVED = "noticed", "survived"
BY_GOLDEN = "noticed by golden files alone"
GOLDEN = "tests/golden/"
NEVER_EXECUTED, NEVER_ENDED = "no test executes it", "ran out of time or memory"
MOST_MEMORY = 4 * 2**30
Cache: TypeAlias = "functools._lru_cache_wrapper[object]"
Lines = dict[str, dict[int, list[str]]]
"""For each file of the service the tests that execute a line of it."""


@dataclass(slots=True)
class Plugin:
    """Takes the place of pytest's own loop over the tests.

    `longest` is of one test, `budget` of all that are run on one mutant, both in seconds of the processor.
    """

    mutants: list[Mutant]
    workers: int
    longest: float
    budget: float
    tell: Callable[[Mutant, str, float], None]
    _items: dict[str, pytest.Item] = field(default_factory=dict)
    _seconds: dict[str, float] = field(default_factory=dict)
    _lines: dict[str, dict[int, set[str]]] = field(default_factory=lambda: defaultdict(lambda: defaultdict(set)))
    _killers: dict[tuple[str, str], Counter[str]] = field(default_factory=lambda: defaultdict(Counter))

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Learn what executes what, then try each mutant."""
        self._items = {item.nodeid: item for item in session.items}
        self._learn()
        kept = caches()
        gc.freeze()
        running: dict[int, tuple[Mutant, Path, float]] = {}
        for number, mutant in enumerate(self.mutants):
            if len(running) >= self.workers:
                self._reap(running)
            names = self._names(mutant)
            if names:
                note = Path(tempfile.gettempdir()) / f"mutant-{os.getpid()}-{number}"
                running[self._fork(mutant, names, note, kept)] = (mutant, note, time.monotonic())
            else:
                self.tell(mutant, NEVER_EXECUTED, 0.0)
        while running:
            self._reap(running)
        return True

    def _reap(self, running: dict[int, tuple[Mutant, Path, float]]) -> None:
        """Wait for one of the processes to end, and tell how it did."""
        pid, status = os.wait()
        mutant, note, started = running.pop(pid)
        killers = note.read_text().splitlines() if note.exists() else []
        note.unlink(missing_ok=True)
        for killer in killers:
            for function in (mutant.function, ""):
                self._killers[mutant.path, function][killer] += 1
        how = NEVER_ENDED if os.WIFSIGNALED(status) else (SURVIVED, NOTICED)[os.WEXITSTATUS(status)]
        if how == NOTICED and killers and all(map(is_golden, killers)):
            how = BY_GOLDEN
        self.tell(mutant, how, time.monotonic() - started)

    def _names(self, mutant: Mutant) -> list[str]:
        """The tests that execute the line that is changed, until the budget is spent: of all of them, then of claims.

        First those that noticed most mutants of the function, then of the file, then those of the test file that is
        named after it, then in turn the quickest of all and any of those that hold whole answers against golden ones.
        """
        here, about = self._killers[mutant.path, mutant.function], self._killers[mutant.path, ""]
        quick = sorted(self._tests(mutant), key=self._seconds.__getitem__)
        golden = list(filter(is_golden, quick))
        random.Random(mutant.id).shuffle(golden)
        own = [name for name in quick if f"/test_{Path(mutant.path).stem}.py" in name]
        mixed = dict.fromkeys(filter(None, (*own, *chain.from_iterable(zip_longest(golden, quick)))))
        names = sorted(mixed, key=lambda name: (-here[name], -about[name]))
        claims = [name for name in names if not is_golden(name)]
        return list(dict.fromkeys((*self._within_budget(names), *self._within_budget(claims))))

    def _within_budget(self, names: list[str]) -> list[str]:
        spent = accumulate(self._seconds[name] for name in names)
        return [name for name, until in zip(names, spent, strict=True) if until <= self.budget]

    def _tests(self, mutant: Mutant) -> set[str]:
        """The tests that execute the line; where none is known to, as of a default value, the whole function."""
        lines = self._lines[mutant.path]
        before = range(mutant.line, mutant.lines.start, -1)
        known = next((lines[line] for line in before if line in lines), None)
        return known or {name for line in mutant.lines if line in lines for name in lines[line]}

    def _fork(self, mutant: Mutant, names: list[str], note: Path, kept: list[Cache]) -> int:
        pid = os.fork()
        if pid:
            return pid
        noticed = True
        try:
            hush()
            signal.setitimer(signal.ITIMER_PROF, 10 + 5 * sum(self._seconds[name] for name in names))
            resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
            put_in_place(mutant)
            forget(kept, shop=mutant.path.startswith("service/schemas"))
            noticed = self._is_noticed(names, note)
        finally:  # whatever a mutant does, its process ends here
            os._exit(int(noticed))

    def _is_noticed(self, names: list[str], note: Path) -> bool:
        """Whether a test fails. Where the first that does holds golden files, claims are tried after it.

        Both are noted, the claim at the end.
        """
        killers: list[str] = []
        for name, after in pairwise([*names, names[-1]]):
            if killers and is_golden(name):
                continue
            if not self._passes(name, after):
                killers.append(name)
                note.write_text("\n".join(killers))
            if killers and not is_golden(killers[-1]):
                break
        return bool(killers)

    def _passes(self, name: str, following: str) -> bool:
        """Run one test; fixtures that the following one needs too stay as they are."""
        reports = runtestprotocol(self._items[name], log=False, nextitem=self._items[following])
        return all(not report.failed for report in reports)

    def _learn(self) -> None:
        """In processes of their own run every test, and note how long it takes and which lines it executes."""
        started = time.monotonic()
        state = self._state()
        notes = [ROOT / ".venv" / f"lines-{state}-{part}.json" for part in range(self.workers)]
        learning = [self._fork_to_learn(note, part) for part, note in enumerate(notes) if not note.exists()]
        for pid in learning:
            os.waitpid(pid, 0)
        count = 0
        for note in notes:
            told = json.loads(note.read_text())
            if "failed" in told:
                note.unlink()
                raise RuntimeError(f"the tests do not pass as they are: {told['failed']}")
            self._seconds |= told["seconds"]
            for path, lines in told["lines"].items():
                for line, names in lines.items():
                    self._lines[path][int(line)].update(names)
            count += len(told["seconds"])
        print(f"{count} tests, run and traced in {time.monotonic() - started:.0f} s", flush=True)

    def _fork_to_learn(self, note: Path, part: int) -> int:
        pid = os.fork()
        if pid:
            return pid
        hush()
        try:
            told: object = self._executed(part)
        except Exception as error:  # noqa: BLE001 - it is the parent that tells it
            told = {"failed": repr(error)}
        note.write_text(json.dumps(told))
        os._exit(0)

    def _state(self) -> str:
        """What tells whether the lines may have changed since they were written down."""
        state = sha256(repr((sorted(self._items), self.longest, self.workers)).encode())
        for folder in ("service", "tests", "openapi/examples"):
            files = (each for each in (ROOT / folder).rglob("*.*") if each.suffix in (".json", ".py", ".toml"))
            for file in sorted(each for each in files if each.parent.name != "mutation"):
                state.update(file.read_bytes())
        return state.hexdigest()[:16]

    def _executed(self, part: int) -> dict[str, object]:
        """Of every so manieth test its seconds, and the lines that it executes unless it takes too long."""
        seconds = {}
        tracer = Coverage(data_file=None, include=[f"{ROOT}/service/*"])
        for name, item in list(self._items.items())[part :: self.workers]:
            started = time.process_time()
            passed = self._passes(name, name)
            seconds[name] = time.process_time() - started
            item.session._setupstate.teardown_exact(None)
            if not passed:
                raise RuntimeError(name)
            if seconds[name] <= self.longest:
                self._trace(name, tracer)
                item.session._setupstate.teardown_exact(None)
        return {"seconds": seconds, "lines": lines_of(tracer)}

    def _trace(self, name: str, tracer: Coverage) -> None:
        forget(caches(), shop=False)
        tracer.start()
        tracer.switch_context(name)
        self._passes(name, name)
        tracer.stop()


def is_golden(name: str) -> bool:
    """Whether a test holds answers against kept ones, and claims nothing of its own."""
    return name.startswith(GOLDEN)


def lines_of(tracer: Coverage) -> Lines:
    """What was executed, by file, line and test."""
    data = tracer.get_data()
    return {
        str(Path(file).relative_to(ROOT)): {
            line: [name for name in names if name] for line, names in data.contexts_by_lineno(file).items()
        }
        for file in data.measured_files()
    }


def hush() -> None:
    """Let nothing that is printed here be seen."""
    null = os.open(os.devnull, os.O_WRONLY)
    os.dup2(null, 1)
    os.dup2(null, 2)


def put_in_place(mutant: Mutant) -> None:
    """Give the function the mutant's code, wherever it is already known under its name."""
    module = importlib.import_module(mutant.path.removesuffix(".py").replace("/", "."))
    text = textwrap.dedent(mutant.text)
    if mutant.owner:
        text = f"class {mutant.owner}:\n" + textwrap.indent(text, "    ")
    made: dict[str, object] = {}
    exec(compile(text, mutant.path, "exec"), vars(module), made)
    new = plain(vars(made[mutant.owner])[mutant.marked] if mutant.owner else made[mutant.marked])
    old = plain(vars(getattr(module, mutant.owner) if mutant.owner else module)[mutant.name])
    old.__code__ = new.__code__
    old.__defaults__, old.__kwdefaults__ = new.__defaults__, new.__kwdefaults__


def plain(function: object) -> FunctionType:
    """The function itself of a static or class method."""
    return getattr(function, "__func__", function)


def caches() -> list[Cache]:
    """Every cache of the service."""
    every = (each for each in gc.get_objects() if isinstance(each, functools._lru_cache_wrapper))
    return [each for each in every if each.__module__.startswith("service")]


def forget(kept: list[Cache], *, shop: bool) -> None:
    """Empty the caches; that of the demo shop, which every test needs, only where it is said."""
    for each in kept:
        if shop or each.__module__ != "service.shop_file":
            each.cache_clear()
