"""The folder in memory where the workers' counts lie: one for each master, and none left of those that are no more.

A master holds a lock on its folder, which the system takes back however it ends. So whoever gets the lock of another
folder knows that nobody needs it: no number of a process has to be believed, which another may have by then.
"""

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from fcntl import LOCK_EX, LOCK_NB, flock
from pathlib import Path

PREFIX = "strap-metrics-"
_LOCK = "master.lock"


def make_folder(where: str | None) -> tuple[Path, int]:
    """A new folder under `where`, and the descriptor that holds its lock for as long as it is open."""
    while True:
        folder = Path(tempfile.mkdtemp(prefix=PREFIX, dir=where))
        lock = os.open(folder / _LOCK, os.O_CREAT | os.O_RDWR | os.O_CLOEXEC, 0o600)
        flock(lock, LOCK_EX)
        if (folder / _LOCK).exists():  # else another start took it for left over, before it was locked
            return folder, lock
        os.close(lock)


def sweep_folders(where: str | None) -> list[Path]:
    """Remove the folders under `where` that are this user's and nobody's any more; gives those that are gone."""
    found = Path(where or tempfile.gettempdir()).glob(f"{PREFIX}*")
    return [each for each in found if _is_ours(each) and _removed(each)]


def _is_ours(folder: Path) -> bool:
    with suppress(OSError):
        return folder.is_dir() and not folder.is_symlink() and folder.stat().st_uid == os.getuid()
    return False


def _removed(folder: Path) -> bool:
    with suppress(OSError), _locked(folder / _LOCK):
        shutil.rmtree(folder)
        return True
    return False


@contextmanager
def _locked(file: Path) -> Iterator[None]:
    """Hold the lock of a file that is there. Raises `OSError` where somebody else does, or there is none."""
    lock = os.open(file, os.O_RDWR | os.O_NOFOLLOW | os.O_CLOEXEC)
    try:
        flock(lock, LOCK_EX | LOCK_NB)
        yield
    finally:
        os.close(lock)
