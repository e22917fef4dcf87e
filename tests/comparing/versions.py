"""A version of the tree, and what the service says there."""

import json
import subprocess
import sys
from collections.abc import Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from tests.comparing.answering import MARK
from tests.comparing.differing import Answer

_ASKED = Path(__file__).with_name("answering.py")
ROOT = Path(__file__).parents[2]


@contextmanager
def tree_at(revision: str) -> Iterator[Path]:
    """The tree of a commit in a folder of its own. Raises `CalledProcessError` where there is no such commit."""
    with TemporaryDirectory() as folder:
        archive = subprocess.run(
            ["git", "archive", revision, "--", "service", "openapi"], cwd=ROOT, check=True, capture_output=True
        ).stdout
        subprocess.run(["tar", "-x", "-C", folder], input=archive, check=True)
        yield Path(folder)


def answers_of(tree: Path, asked: Iterable[dict[str, Any]]) -> list[Answer]:
    """What the service of that tree says to each request, all asked of one process."""
    lines = "".join(json.dumps(each) + "\n" for each in asked)
    done = subprocess.run(
        [sys.executable, "-P", str(_ASKED)],
        input=lines, text=True, check=True, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
        env={"PYTHONPATH": str(tree), "PYTHONDONTWRITEBYTECODE": "1"},
    ).stdout  # fmt: skip
    marked = (line for line in done.splitlines() if line.startswith(MARK))
    return [Answer(**json.loads(line.removeprefix(MARK))) for line in marked]


def answers_of_both(before: Path, asked: list[dict[str, Any]]) -> list[tuple[Answer, Answer]]:
    """What the services of that tree and of this one say to each request, the two asked side by side."""
    if not asked:
        return []
    with ThreadPoolExecutor() as pool:
        both = pool.map(answers_of, (before, ROOT), (asked, asked))
        return list(zip(*both, strict=True))
