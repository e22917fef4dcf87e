"""A climb towards the slowest request: `tests/heavy slowest [SECONDS [SEED]]`.

From a seed on, requests that are slow for what they may take are changed a little, again and again, and what is
slower still is kept. Prints the slowest ten, and where the time of the slowest goes.
"""

import argparse
import copy
import cProfile
import json
import os
import pstats
import random
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from io import StringIO
from pathlib import Path
from typing import Any

from tests.attacks.hostile import calibration_ms
from tests.attacks.hostile_requests import (
    Goods,
    design_query,
    designed,
    goods_of,
    plan_document,
    planned,
    posted,
    quote_document,
    quoted,
)
from tests.attacks.hostile_specs import crowd, hostile_spec, reorder, repeat
from tests.attacks.judging import Request, a_client, send

SECONDS = 120.0
SEED = 1
KEPT = 24
"""Requests of each kind that are climbed from."""
_FRESH = 0.15
"""The share of requests that begin anew."""


@dataclass(frozen=True, kw_only=True)
class Kind:
    """A kind of request: how one is begun, changed and sent. What is climbed from is its document."""

    begin: Callable[[random.Random, Goods], Any]
    change: Callable[[random.Random, Goods, Any], Any]
    request: Callable[[Any], Request]


@dataclass(frozen=True, kw_only=True)
class Found:
    """A request that was tried."""

    kind: str
    document: Any
    ms: float
    limit_ms: float
    status: int

    @property
    def share(self) -> float:
        """How much of what it may take it took."""
        return self.ms / self.limit_ms


def _changed_spec(dice: random.Random, _goods: Goods, spec: Any) -> Any:
    if not isinstance(spec, dict):
        return hostile_spec(dice)
    for _ in range(dice.choice((1, 1, 2, 3))):
        spec = dice.choice((crowd, crowd, crowd, repeat, reorder))(dice, spec)
    return spec


def _changed_lines(name: str) -> Callable[[random.Random, Goods, Any], Any]:
    def change(dice: random.Random, goods: Goods, document: Any) -> Any:
        document = copy.deepcopy(document)
        lines = document[name]
        other = quote_document(dice, goods)
        way = dice.random()
        if way < 0.4:
            specs = [line for line in lines if isinstance(line.get("spec"), dict)]
            for line in dice.sample(specs, min(len(specs), dice.choice((1, 5, 200)))):
                line["spec"] = crowd(dice, line["spec"])
        elif way < 0.6:
            lines += copy.deepcopy(dice.sample(lines, min(len(lines), 200 - len(lines))))
        elif way < 0.8:
            lines[: len(other["lines"])] = other["lines"]
        else:
            more = {key: value for key, value in other.items() if key != "lines" and name == "lines"}
            document |= more
            for line in lines:
                line["quantity"] = dice.choice((1, 2, 7, 20))
        for number, line in enumerate(lines):
            line["ref"] = f"A{number}"
        return document

    return change


def _changed_query(dice: random.Random, _goods: Goods, query: Any) -> Any:
    name, asked, chosen = query
    other, _, more = design_query(dice)
    return (name, asked, {**chosen, **more}) if other == name else (name, asked, dict(list(chosen.items())[1:]))


KINDS = {
    "pattern": Kind(
        begin=lambda dice, _: hostile_spec(dice),
        change=_changed_spec,
        request=lambda document: posted("/v1/patterns", "pattern", document),
    ),
    "design": Kind(
        begin=lambda dice, _: design_query(dice), change=_changed_query, request=lambda query: designed(*query)
    ),
    "quote": Kind(begin=quote_document, change=_changed_lines("lines"), request=quoted),
    "cut plan": Kind(begin=plan_document, change=_changed_lines("orders"), request=planned),
}


class Climb:
    """The slowest of each kind so far, and the client that they are asked by."""

    def __init__(self, seed: int) -> None:
        self.dice = random.Random(seed)
        self.client = a_client()
        self.goods = goods_of(self.client)
        self.best: dict[str, list[Found]] = {name: [] for name in KINDS}
        self.tried = 0

    def step(self) -> None:
        """Try one request more; it is kept if it is among the slowest of its kind."""
        name = self.dice.choices(list(KINDS), (5, 2, 3, 1))[0]
        kind, best = KINDS[name], self.best[name]
        if not best or self.dice.random() < _FRESH:
            document = kind.begin(self.dice, self.goods)
        else:
            document = kind.change(
                self.dice, self.goods, self.dice.choice(best[: self.dice.choice((1, 4, KEPT))]).document
            )
        self.tried += 1
        found = self.measured(name, document)
        if len(best) == KEPT and found.share <= best[-1].share:
            return
        found = min(found, self.measured(name, document), key=lambda each: each.ms)
        if all(each.document != document for each in best):
            best.append(found)
        best.sort(key=lambda each: -each.share)
        del best[KEPT:]

    def measured(self, name: str, document: Any) -> Found:
        """A request and its processor time."""
        request = KINDS[name].request(document)
        answer, ms = send(self.client, request)
        return Found(kind=name, document=document, ms=ms, limit_ms=request.limit_ms, status=answer.status_code)

    def slowest(self, count: int) -> list[Found]:
        """The slowest of all kinds by what they may take, the least of four times of each that is over."""
        found = sorted((each for best in self.best.values() for each in best), key=lambda each: -each.share)
        again = [self.settled(each) for each in found[: 2 * count]]
        return sorted(again, key=lambda each: -each.share)[:count]

    def settled(self, found: Found) -> Found:
        """A request that is over its limit, measured three times more."""
        tries = [self.measured(found.kind, found.document) for _ in range(3)] if found.share > 1 else []
        return min((found, *tries), key=lambda each: each.ms)

    def profile(self, found: Found) -> str:
        """The twelve functions that most of a request's time is spent in."""
        profiler, told = cProfile.Profile(), StringIO()
        request = KINDS[found.kind].request(found.document)
        profiler.runcall(send, self.client, request)
        pstats.Stats(profiler, stream=told).sort_stats("tottime").print_stats(12)
        return told.getvalue()


def lines(climb: Climb, slowest: list[Found]) -> Iterator[str]:
    """What is printed."""
    yield f"{climb.tried} requests tried; solving the parade harness strap: {calibration_ms(50):.2f} ms"
    for each in slowest:
        text = json.dumps(each.document)
        yield f"{each.ms:8.1f} of {each.limit_ms:.0f} ms  {each.status} {each.kind}: {text[:1500]}"
    yield climb.profile(slowest[0])


def main() -> None:
    """Print what was found; fail where a request takes more than it may."""
    reader = argparse.ArgumentParser(prog="tests/heavy slowest")
    reader.add_argument("seconds", nargs="?", type=float, default=SECONDS)
    reader.add_argument("seed", nargs="?", type=int, default=SEED)
    reader.add_argument("--save", help="a file that the slowest are written to, as JSON")
    asked = reader.parse_args()
    sys.stdout = os.fdopen(os.dup(1), "w")
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)  # what the service logs
    climb = Climb(asked.seed)
    until = time.monotonic() + asked.seconds
    while time.monotonic() < until:
        climb.step()
    slowest = climb.slowest(10)
    print(*lines(climb, slowest), sep="\n", flush=True)
    if asked.save:
        kept = [{"kind": each.kind, "document": each.document, "ms": each.ms} for each in slowest]
        Path(asked.save).write_text(json.dumps(kept), encoding="utf-8")
    if slowest[0].share > 1:
        raise SystemExit("a request takes more than it may")


if __name__ == "__main__":
    main()
