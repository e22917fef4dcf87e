"""The page that shows what became otherwise: each as it was and as it is, in words and as drawings."""

import json
from collections import defaultdict
from dataclasses import dataclass, replace
from itertools import zip_longest
from pathlib import Path

from tests.comparing.differing import Answer
from tests.comparing.questions import PATTERNS, SVG, Question
from tests.comparing.versions import answers_of_both
from tests.support.review import Difference, write_review
from tests.support.sections import sections


@dataclass(frozen=True, slots=True)
class Found:
    """A question whose answers differ: its kind and name, both answers, and the kinds of difference."""

    kind: str
    name: str
    question: Question
    before: Answer
    after: Answer
    kinds: tuple[str, ...]


def chosen(found: list[Found], most: int) -> list[Found]:
    """At most so many, the first of each kind of question and of difference before the second of any."""
    groups: dict[tuple[str, str], list[Found]] = defaultdict(list)
    for each in found:
        groups[each.kind, each.kinds[0]].append(each)
    in_turn = (each for row in zip_longest(*groups.values()) for each in row if each)
    return [each for each, _ in zip(in_turn, range(most), strict=False)]


def write_page(page: Path, shown: list[Found], before: Path) -> Path:
    """Write it and return where it is; straps are drawn by both versions."""
    drawn = [each for each in shown if each.question.path == PATTERNS]
    asked = [replace(each.question, accept=SVG).asked for each in drawn]
    drawings = dict(zip((each.name for each in drawn), answers_of_both(before, asked), strict=True))
    differences = []
    for each in shown:
        about = f"{each.kind}: {', '.join(each.kinds)}\n{json.dumps(each.question.asked, ensure_ascii=False)[:2000]}"
        texts = [_shown(each, answer) for answer in (each.before, each.after)]
        differences.append(Difference(each.name, ".svg" if each.question.accept == SVG else ".json", *texts, about))
        pictures = [each.body.encode() if each.is_made else b"" for each in drawings.get(each.name, ())]
        if any(pictures) and pictures[0] != pictures[1]:
            differences.append(Difference(each.name, ".svg", *pictures))
    page.parent.mkdir(parents=True, exist_ok=True)
    return write_review(page, differences)


def _shown(found: Found, answer: Answer) -> bytes:
    """A drawing as it is, all else by sections; of what is made by one version alone that it is made."""
    if found.before.is_made != found.after.is_made and answer.is_made:
        return b"made\n"
    if found.question.accept == SVG and answer.is_made:
        return answer.body.encode()
    return sections(answer.document).encode()
