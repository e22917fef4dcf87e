"""What of two answers to the same request differs, in a few words each."""

import json
from dataclasses import dataclass
from typing import Any

_OWN = {True: ("code", "request_id"), False: ("request_id",)}
"""Members that follow from the rest of an answer, or from its request: of what was made, and of what was refused."""
_PARTS = ("finished", "pieces", "placements", "hardware", "checks", "worn", "steps", "cautions", "spec")


@dataclass(frozen=True, slots=True)
class Answer:
    """A status, and what the body says where that is JSON."""

    status: int
    body: str

    @property
    def document(self) -> dict[str, Any]:
        """The body without what follows from the rest of it."""
        read = json.loads(self.body) if self.body.startswith("{") else {"text": self.body}
        return {name: value for name, value in unsealed(read).items() if name not in _OWN[self.is_made]}

    @property
    def is_made(self) -> bool:
        """Whether a strap was made, or whatever was asked for given."""
        return self.status == 200


def unsealed(document: dict[str, Any]) -> dict[str, Any]:
    """An answer without what is made of the rest of it: its seals, and the digest of the shop's terms."""
    own = {name: value for name, value in document.items() if name not in ("sealed", "shop")}
    if "lines" in own:
        own["lines"] = [{name: value for name, value in line.items() if name != "sealed"} for line in own["lines"]]
    return own


def differs(before: Answer, after: Answer) -> tuple[str, ...]:
    """Each kind of difference between two answers; nothing where they say the same."""
    if before.is_made != after.is_made:
        return ("now made",) if after.is_made else ("now refused",)
    if before.is_made:
        return _made_otherwise(before.document, after.document)
    return _refused_otherwise(before, after)


def _made_otherwise(before: dict[str, Any], after: dict[str, Any]) -> tuple[str, ...]:
    named = [name for name in _PARTS if before.get(name) != after.get(name)]
    rest = {*before, *after} - {*_PARTS}
    named += sorted(name for name in rest if before.get(name) != after.get(name))
    return tuple(f"other {name}" for name in named)


def _refused_otherwise(before: Answer, after: Answer) -> tuple[str, ...]:
    old, new = before.document, after.document
    found = []
    if before.status != after.status or old.get("code") != new.get("code") or _codes(old) != _codes(new):
        found.append("other faults")
    elif old.get("errors") != new.get("errors") or old.get("detail") != new.get("detail"):
        found.append("faults told otherwise")
    if old.get("remedies") != new.get("remedies"):
        found.append("other remedies")
    return tuple(found) or (("other text",) if old != new else ())


def _codes(document: dict[str, Any]) -> list[tuple[object, object]]:
    return [(error.get("pointer"), error.get("code")) for error in document.get("errors", ())]
