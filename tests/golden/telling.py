"""Answers and sentences against what is kept of them in `told/`, part by part."""

import hashlib
import json
from pathlib import Path

import pytest

from service.strap.remedies.cures import cures_for
from tests.support.review import ACCEPT, Difference, pretty, write_review

HERE = Path(__file__).parent
TOLD = HERE / "told"
STRAPS = json.loads((HERE / "straps.json").read_text(encoding="utf-8"))
"""Straps of every kind that can be made, and one or two for each way and place of being refused."""


def compare(name: str, part: str, found: object) -> None:
    """Hold what was found against that part of what is kept, or keep it."""
    path = TOLD / f"{name}.json"
    whole = json.loads(path.read_bytes()) if path.exists() else {}
    if ACCEPT:
        TOLD.mkdir(exist_ok=True)
        path.write_bytes(pretty(whole | {part: found}))
    elif whole.get(part) != json.loads(json.dumps(found)):
        texts = [pretty(each) for each in (whole.get(part), found)]
        page = write_review(HERE / f"review-{name}.html", [Difference(f"{name} {part}", ".json", *texts)])
        pytest.fail(f"differs: look at {page}, then tests/run --accept")


def outcome(answer) -> object:
    """What an answer says, in short."""
    assert answer.status_code in (200, 404, 414, 422)
    if answer.status_code == 200:
        document = {name: value for name, value in unsealed(answer.json).items() if name not in ("code", "spec")}
        return f"made {digest(document)}"
    errors = [_told(**each) for each in answer.json.get("errors", ())]
    remedies = [f"{each['detail']} {json.dumps(each['changes'])}" for each in answer.json.get("remedies", ())]
    return [answer.json["code"], answer.json["detail"], *errors, *remedies]


def unsealed(document: dict) -> dict:
    """An answer without what is made of the rest of it: its seals, and the digest of the shop's terms."""
    own = {name: value for name, value in document.items() if name not in ("sealed", "shop")}
    if "lines" in own:
        own["lines"] = [{name: value for name, value in line.items() if name != "sealed"} for line in own["lines"]]
    return own


def digest(document: object) -> str:
    """A short text that tells documents apart."""
    return hashlib.sha256(json.dumps(document, sort_keys=True, default=str).encode()).hexdigest()[:12]


def fault_told(fault) -> str:
    """A fault in a line, with its bounds."""
    bounds = f" {fault.found} {fault.limit}{' nm' * fault.is_length}" if fault.limit is not None else ""
    return f"{'.'.join(fault.path)} {fault.code}: {fault.detail}{bounds}"


def cures_told(spec, shop, faults) -> dict[str, list[str]]:
    """For each fault of a spec every change that is thought of, and why."""
    return {
        fault_told(fault): [
            "; ".join(f"{'.'.join(each.path)} = {each.value!r}{' nm' * each.is_length}: {each.why}" for each in cure)
            for cure in cures_for(spec, shop, fault)
        ]
        for fault in faults
    }


def _told(*, code: str, detail: str, pointer: str = "", parameter: str = "", **more) -> str:
    """One error in a line, with its bounds."""
    bounds = " " + json.dumps(more, sort_keys=True, ensure_ascii=False) if more else ""
    return f"{pointer or parameter} {code}: {detail}{bounds}"
