"""A work order of 30 lines over all designs against 30 single answers, JSON and PDF: processor time of one core."""

import statistics
import time
from collections.abc import Callable
from itertools import cycle, islice, zip_longest
from typing import Any

from service.desk.pipeline import PatternSubject
from service.desk.selling import request_of
from service.desk.work_order import WorkOrderSubject, make_work_order
from service.forms.data import JSON
from service.forms.form import Budget, Form, OutputOptions
from service.forms.pdf import PDF
from service.shop.designs import Design
from service.shop_file import demo_shop
from tests.benchmarks._timing import line

LINES, MOST = 30, 200
ROUNDS = 3
SHOP = demo_shop()
BUDGET = Budget(pixels=1, pages=1000)
_ENDLESS = 10_000


def straps(wanted: int) -> list[tuple[Design, int]]:
    """So many straps: every design in turn, each time in another length, and from the first again when all are told."""
    offered = [(design, list(design.length.offer)) for design in SHOP.designs.values()]
    longer = [[(design, length) for length in offer[len(offer) // 2 :]] for design, offer in offered]
    different: list[Any] = [strap for turn in zip_longest(*longer) for strap in turn if strap]
    return list(islice(cycle(different), wanted))


def order(wanted: int, form: Form) -> bytes:
    """One work order of so many lines."""
    lines = [
        {"ref": f"A{n}", "design": design.name, "choices": {design.length.name: f"{length / 1e6} mm"}}
        for n, (design, length) in enumerate(straps(wanted))
    ]
    made = make_work_order({"lines": lines}, SHOP, time.monotonic)
    options = OutputOptions(form=form)
    return form.encode(WorkOrderSubject(made, SHOP, options, _ENDLESS), options, BUDGET)


def singles(form: Form) -> None:
    """As many single answers, as `/v1/designs/{design}/pattern` gives them."""
    options = OutputOptions(form=form)
    for design, length in straps(LINES):
        asked = request_of(design, design.defaults() | {design.length.name: length}, SHOP)
        pattern = asked.make(SHOP)
        subject = PatternSubject(pattern=pattern, code=asked.code, shop=SHOP, options=options, units="in")
        form.encode(subject, options, BUDGET)


def seconds(do: Callable[[], Any]) -> float:
    """Of one core's processor time, in the middle of some rounds."""
    taken = []
    for _ in range(ROUNDS):
        started = time.process_time()
        do()
        taken.append(time.process_time() - started)
    return statistics.median(taken)


def main() -> None:
    """Print seconds, and the ratios to single answers."""
    for form, aim in ((JSON, 1), (PDF, 3)):
        one = seconds(lambda form=form: order(LINES, form))  # type: ignore[misc] # a lambda's default has no type
        alone = seconds(lambda form=form: singles(form))  # type: ignore[misc]
        line(f"a work order of {LINES} lines, {form.title}", one, "s", f"aim: below {aim}")
        line(f"the same: times {LINES} single answers", one / alone, "x")
    line(f"a work order of {MOST} lines, JSON", seconds(lambda: order(MOST, JSON)), "s")


if __name__ == "__main__":
    main()
