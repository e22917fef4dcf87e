"""Texts and pictures against what is kept of them; a difference writes a page to look at.

`./tests/run --accept` takes what is found for golden.
"""

import hashlib
import json
import os
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageStat

from tests.support.review import Difference, write_review

HERE = Path(__file__).parent
ACCEPT = bool(os.environ.get("GOLDEN_ACCEPT"))
"""Whether what is found is taken for golden."""
MEAN_APART = 1.5
"""Greatest mean difference of two pictures' pixels, of 255: what versions of cairo differ by."""


def hold(name: str, found: str | bytes) -> None:
    """Hold what was found against the file of that name, or keep it there."""
    path, data = HERE / name, found.encode() if isinstance(found, str) else found
    before = path.read_bytes() if path.exists() else b""
    if before and is_alike(path.suffix, before, data):
        return
    if ACCEPT:
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(data)
        return
    page = HERE / f"review-{path.stem}{path.suffix}.html"
    write_review(page, [Difference(path.stem, path.suffix, before, data)])
    pytest.fail(f"{name} differs: look at {page}, then tests/run --accept")


def is_alike(suffix: str, before: bytes, found: bytes) -> bool:
    """The same text, or pictures that cannot be told apart."""
    if suffix != ".png":
        return before == found
    one, other = (Image.open(BytesIO(data)).convert("RGB") for data in (before, found))
    if one.size != other.size:
        return False
    return max(ImageStat.Stat(ImageChops.difference(one, other)).mean) <= MEAN_APART


def names_in(folder: str) -> set[str]:
    """What is kept in a folder, without suffixes."""
    return {path.stem for path in (HERE / folder).glob("*")}


def digest(data: str | bytes) -> str:
    """A short text that tells texts apart, where no reader would look at them."""
    return hashlib.sha256(data.encode() if isinstance(data, str) else data).hexdigest()[:12]


def told(answer) -> str:
    """What a refusal says: each fault with its bounds and each remedy with its changes on a line."""
    document = answer.json
    faults = [_fault(**each) for each in document.get("errors", ())]
    remedies = [f"  remedy: {each['detail']} {json.dumps(each['changes'])}" for each in document.get("remedies", ())]
    return "".join(f"{line}\n" for line in (f"{document['code']}: {document['detail']}", *faults, *remedies))


def _fault(*, code: str, detail: str, pointer: str = "", parameter: str = "", **more) -> str:
    """One error in a line, with its bounds."""
    bounds = " " + json.dumps(more, sort_keys=True, ensure_ascii=False) if more else ""
    return f"  {pointer or parameter} {code}: {detail}{bounds}"
