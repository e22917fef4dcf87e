"""Tries a change of a schema in a fresh process: fields are made when a module is imported, before tests run."""

import re
import shutil
import subprocess
import sys
import textwrap

from tests.mutation.mutants import ROOT, Mutant
from tests.mutation.session import BY_GOLDEN, NOTICED, SURVIVED

COPY = ROOT / ".venv" / "fresh"
TESTS = {"tests/schemas": NOTICED, "tests/golden/test_shop_file_told.py": BY_GOLDEN}
"""What is run, one after the other, and what it means where it fails."""


def make_copy() -> None:
    """A copy of the checkout in which one change after another is made."""
    shutil.rmtree(COPY, ignore_errors=True)
    for folder in ("service", "tests", "openapi"):
        shutil.copytree(ROOT / folder, COPY / folder, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", COPY)


def end_of(mutant: Mutant) -> str:
    """What notices the mutant, with the change in its file."""
    file = COPY / mutant.path
    source = file.read_text(encoding="utf-8")
    file.write_text(changed(source, mutant), encoding="utf-8")
    try:
        return next((end for tests, end in TESTS.items() if _fails(tests)), SURVIVED)
    finally:
        file.write_text(source, encoding="utf-8")


def _fails(tests: str) -> bool:
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:xdist", "-p", "no:cacheprovider", tests]
    return subprocess.run(command, cwd=COPY, capture_output=True, check=False).returncode != 0


def changed(source: str, mutant: Mutant) -> str:
    """The source with the mutant in the place of its function."""
    lines = source.splitlines()
    first, last = mutant.lines.start - 1, mutant.lines.stop - 1
    text = textwrap.dedent(mutant.text.strip("\n")).replace(mutant.marked, mutant.name)
    indent = re.match(" *", lines[first])
    new = textwrap.indent(text, indent[0] if indent else "").splitlines()
    return "\n".join([*lines[:first], *new, *lines[last:]]) + "\n"
