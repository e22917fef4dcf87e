"""Small changes of the code, each of which some check should notice. The changes are mutmut's own."""

import ast
import json
import re
import shutil
import subprocess
import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from difflib import unified_diff
from pathlib import Path

from mutmut.mutation.file_mutation import mutate_file_contents

ROOT = Path(__file__).parents[2]
BUILD = ROOT / ".venv" / "mutants"
PACKAGES = ("service/strap", "service/workshop", "service/schemas")

_MARKED = re.compile(r"x(?:ǁ(?P<owner>\w+?)ǁ|_)(?P<name>\w+?)__mutmut_(?P<number>\d+|orig)")
_FUNCTION = re.compile(r"^\s*(?:async )?def (\w+)\(", re.MULTILINE)
_OF_THE_WRITING = {"has-type", "ignore-without-code", "no-redef", "unused-ignore"}
"""Codes of mypy that come from how the changed functions stand side by side in one file."""


@dataclass(frozen=True, slots=True)
class Mutant:
    """One changed function. `owner` is its class, or empty; `text` its source under a name of its own.

    `lines` are those of the whole function in its file, `line` the first that is changed.
    """

    path: str
    owner: str
    name: str
    number: int
    marked: str
    text: str
    difference: str
    lines: range
    line: int

    @property
    def function(self) -> str:
        """The function's name, with its class's."""
        return f"{self.owner}.{self.name}" if self.owner else self.name

    @property
    def id(self) -> str:
        """What tells it from all others."""
        return f"{self.path}:{self.function}:{self.number}"


def sources(wanted: Iterable[str]) -> list[Path]:
    """The modules under the wanted paths, or of all packages."""
    paths = [ROOT / path for path in (list(wanted) or PACKAGES)]
    return sorted(file for path in paths for file in ([path] if path.is_file() else path.rglob("*.py")))


def generate(files: Iterable[Path]) -> list[Mutant]:
    """Every mutant of the files; the changed files are left under `BUILD` for mypy."""
    shutil.rmtree(BUILD, ignore_errors=True)
    for package in ("service", "openapi"):
        shutil.copytree(ROOT / package, BUILD / package, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", BUILD)
    return [mutant for file in files for mutant in _mutants_of(file)]


def _mutants_of(file: Path) -> list[Mutant]:
    path = str(file.relative_to(ROOT))
    source = file.read_text(encoding="utf-8")
    places = dict(_places(ast.parse(source)))
    mutated = mutate_file_contents(path, source)
    (BUILD / path).write_text(mutated.code, encoding="utf-8")
    lines = mutated.code.splitlines()
    texts = {
        name: "\n".join(lines[span.start - 1 : span.end]) for name, span in mutated.line_span_by_function_name.items()
    }
    found = []
    for marked, text in texts.items():
        parts = _MARKED.fullmatch(marked)
        if parts and parts["number"] != "orig":
            original = texts[marked.rpartition("_")[0] + "_orig"]
            owner, name, number = parts["owner"] or "", parts["name"], int(parts["number"])
            span = places[owner, name]
            line = span.start + _first_changed(original, text)
            found.append(Mutant(path, owner, name, number, marked, text, _difference(original, text), span, line))
    return found


def _places(tree: ast.Module) -> Iterator[tuple[tuple[str, str], range]]:
    """The lines of every function and method, from its `def` on, by class and name."""
    for owner in (tree, *(each for each in tree.body if isinstance(each, ast.ClassDef))):
        for each in owner.body:
            if isinstance(each, ast.FunctionDef | ast.AsyncFunctionDef):
                key = (owner.name if isinstance(owner, ast.ClassDef) else "", each.name)
                yield key, range(each.lineno, (each.end_lineno or each.lineno) + 1)


def _first_changed(before: str, after: str) -> int:
    """How many lines below `def` the first change is; 0 where it is in the line of `def` itself."""
    pairs = zip(_below_def(before), _below_def(after), strict=False)
    return next((count for count, (one, other) in enumerate(pairs, 1) if one != other), 0)


def _below_def(text: str) -> list[str]:
    """The lines of a function without its first, whose name tells the mutants apart."""
    found = _FUNCTION.search(text)
    return text[found.end() :].splitlines()[1:] if found else []


def _difference(before: str, after: str) -> str:
    lines = list(unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm=""))[2:]
    changed = [line for line in lines if line[:1] in "+-" and "__mutmut_" not in line]
    return "\n".join(re.sub(r"^([+-])\s+", r"\1 ", line) for line in changed)


def noticed_by_types() -> set[tuple[str, str]]:
    """Path and marked name of each mutant that `mypy --strict` refuses."""
    command = [sys.executable, "-m", "mypy", "--output", "json"]
    said = subprocess.run(command, cwd=BUILD, capture_output=True, text=True, check=False)
    if not said.stdout.startswith("{"):
        raise RuntimeError(f"mypy looked at nothing: {said.stderr or said.stdout}")
    functions = {}
    found = set()
    for error in map(json.loads, filter(None, said.stdout.splitlines())):
        if error["severity"] != "error" or error["code"] in _OF_THE_WRITING:
            continue
        path = error["file"]
        if path not in functions:
            functions[path] = _functions(BUILD / path)
        before = [name for line, name in functions[path] if line <= error["line"]]
        if before and _MARKED.fullmatch(before[-1]) and not before[-1].endswith("_orig"):
            found.add((path, before[-1]))
    return found


def _functions(file: Path) -> list[tuple[int, str]]:
    """Line and name of each function in which a mutant may stand: those within a mutant are its own."""
    text = file.read_text(encoding="utf-8")
    every = [(text.count("\n", 0, each.start(1)) + 1, each.group(1)) for each in _FUNCTION.finditer(text)]
    return [(line, name) for line, name in every if "__mutmut_" in name]
