"""One request sent, timed and judged: its status, its problem, its time, and whether its remedies are accepted."""

import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any

import pypdfium2
from PIL import Image

from service.app import create_app
from service.settings import Settings
from tests.contract.test_remedies import applied

LIMIT_MS = 250.0
"""Processor time on one core that a request may take, whatever it asks."""
LINE_MS = 5.0
"""And for each distinct line as much more."""
PLAN_MS = 500.0
"""What a cut plan may take beside the time that it states: to read, to describe."""
STATED = frozenset({"format_not_offered"})
"""Codes of answers from 500 on that are right."""


@dataclass(frozen=True, kw_only=True)
class Request:
    """A request, what it is allowed, and how it is sent again with a remedy."""

    door: str
    path: str
    method: str = "GET"
    body: bytes | None = None
    headers: dict[str, str] = field(default_factory=dict)
    limit_ms: float | None = LIMIT_MS
    """`None` for pictures and documents, whose cost is told by pixel and page."""
    document: Any = None
    """What the changes of a remedy are applied to."""
    again: "Callable[[Any], Request] | None" = None
    """The request for a document so changed."""


@dataclass(frozen=True, kw_only=True)
class Verdict:
    """What came of a request; `wrong` are sentences, empty where all is well."""

    status: int
    code: str
    ms: float
    remedies: int = 0
    size: int = 0
    """Pixels of a picture, pages of a document, bytes of anything else."""
    wrong: tuple[str, ...] = ()


def a_client() -> Any:
    """A caller of a service that remembers nothing."""
    return create_app(Settings(kept_bytes=0, deadline=300)).test_client()


def send(client: Any, request: Request) -> tuple[Any, float]:
    """The answer, and the milliseconds of processor time that it took."""
    started = time.process_time()
    answer = client.open(request.path, method=request.method, data=request.body, headers=request.headers)
    return answer, (time.process_time() - started) * 1000


def judge(client: Any, request: Request, *, timed: bool = True) -> Verdict:
    """Send a request and every remedy of its refusal."""
    answer, ms = send(client, request)
    limit = request.limit_ms
    if timed and limit is not None and ms > limit:
        ms = min(ms, *(send(client, request)[1] for _ in range(3)))
    problem = answer.get_json(silent=True) if answer.status_code >= 400 else {}
    wrong = [*_wrong_problem(answer, problem)] if request.method != "HEAD" else []
    if timed and limit is not None and ms > limit:
        wrong.append(f"took {ms:.0f} ms of {limit:.0f}")
    told = list((problem or {}).get("remedies", ())) if answer.status_code == 422 else []
    remedies = told if request.again or request.door != "raw" else []  # a text that happens to be a spec
    wrong += [each for remedy in remedies for each in _wrong_remedy(client, request, remedy)]
    return Verdict(
        status=answer.status_code,
        code=(problem or {}).get("code", ""),
        ms=ms,
        remedies=len(remedies),
        size=_size(answer),
        wrong=tuple(wrong),
    )


def _wrong_problem(answer: Any, problem: Any) -> Iterator[str]:
    """What is wrong with an answer's status or, if it is an error, with its problem document (RFC 9457)."""
    if answer.status_code < 400:
        return
    if answer.mimetype != "application/problem+json" or not isinstance(problem, dict):
        yield f"{answer.status_code} is told as {answer.mimetype}, not as a problem"
        return
    if answer.status_code >= 500 and problem.get("code") not in STATED:
        yield f"{answer.status_code} {problem.get('code')}"
    if problem.get("status") != answer.status_code:
        yield f"the problem says {problem.get('status')}, the answer {answer.status_code}"
    yield from (
        f"the problem has no {name}"
        for name in ("type", "title", "detail", "code")
        if not isinstance(problem.get(name), str) or not problem[name].strip()
    )


def _wrong_remedy(client: Any, request: Request, remedy: Any) -> Iterator[str]:
    if request.again is None:
        yield f"a remedy for what has none: {remedy['detail']}"
        return
    try:
        mended = _mended(request.document, remedy["changes"])
    except (LookupError, TypeError, ValueError) as error:
        yield f"remedy has no place: {remedy['changes']} ({error!r})"
        return
    answer, _ = send(client, request.again(mended))
    if answer.status_code != 200:
        told = (answer.get_json(silent=True) or {}).get("detail")
        yield f"remedy refused with {answer.status_code}: {remedy['detail']} ({told})"


def _mended(document: Any, changes: list[dict[str, Any]]) -> Any:
    """The document, or the choices of a design, with a remedy's changes made."""
    if "parameter" in changes[0]:
        return {**document, **{each["parameter"]: each["text"] for each in changes}}
    return applied(document, changes)


def _size(answer: Any) -> int:
    if answer.mimetype == "image/png":
        with Image.open(BytesIO(answer.data)) as picture:
            return picture.width * picture.height
    if answer.mimetype == "application/pdf":
        return len(pypdfium2.PdfDocument(answer.data))
    return len(answer.data)
