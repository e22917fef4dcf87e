"""How long each stage of a request takes: for `Server-Timing` (W3C Server Timing) and the metrics."""

from time import perf_counter
from types import TracebackType
from typing import Literal

from flask import g

Stage = Literal["read", "solve", "draw", "encode", "cache", "wait"]
STAGES: tuple[Stage, ...] = ("cache", "read", "wait", "solve", "draw", "encode")


class stage:  # noqa: N801 # it is used as a `with` statement's verb, like contextlib.suppress
    """Time what is done inside as one stage of the request at hand, but for what is a stage of its own in there."""

    __slots__ = ("_before", "_name", "_started")

    def __init__(self, name: Stage) -> None:
        self._name = name
        self._started = self._before = 0.0

    def __enter__(self) -> None:
        self._before = sum(stages_taken().values())
        self._started = perf_counter()

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        taken, ended = stages_taken(), perf_counter()
        inside = sum(taken.values()) - self._before
        taken[self._name] = taken.get(self._name, 0.0) + ended - self._started - inside


def stages_taken() -> dict[Stage, float]:
    """Seconds by stage of the request at hand; what is written into it stays."""
    try:
        taken: dict[Stage, float] = g.stages
    except AttributeError:
        taken = g.stages = {}
    return taken


def server_timing(taken: dict[Stage, float], cache: str | None) -> str:
    """The value of `Server-Timing`: milliseconds by stage, and whether the cache had the answer."""
    parts = [f"{name};dur={taken[name] * 1000:.2f}" for name in STAGES if name in taken and name != "cache"]
    looked_up = f";dur={taken['cache'] * 1000:.2f}" if "cache" in taken else ""
    return ", ".join([f"cache;desc={cache}{looked_up}"] * (cache is not None) + parts)
