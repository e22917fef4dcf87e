"""A day at the bench: several straps made by one sheet, each tool picked up for all of them.

The sheet is walked task by task. What each strap comes to is walked anew, by the steps in the order in which the sheet
does them: a bench that knows leather stops at the first that cannot be done so.
"""

from collections import Counter, defaultdict
from typing import Any

from tests.walker.bench import Bench
from tests.walker.hands import Botched

Json = dict[str, Any]


class Day:
    """The work that an answer lays out, and the goods that lie ready for it."""

    def __init__(self, answer: Json) -> None:
        self.answer = answer
        self.straps = {each["number"]: each for each in answer["straps"]}
        self.ready: Counter[tuple[str, float | None]] = Counter()
        for line in answer["goods"]:
            self.ready[line["item"], line.get("length_mm")] += line["count"]
        self.done: dict[int, list[Json]] = defaultdict(list)

    def must(self, holds: object, why: str) -> None:
        """Stop unless it holds."""
        if not holds:
            raise Botched(why)

    def work(self) -> None:
        """Every task, and then every strap. Raises `Botched`."""
        numbers: set[int] = set()
        for task in self.answer["tasks"]:
            self.must(set(task["after"]) <= numbers and task["n"] not in numbers, f"task {task['n']} comes too early")
            numbers.add(task["n"])
            self.must(task["do"] and task["parts"], f"task {task['n']} says nothing")
            for part in task["parts"]:
                self.do(task, part)
        self.must(not +self.ready, f"{+self.ready} are left over")
        for number, strap in self.straps.items():
            Bench(strap["pattern"] | {"steps": self.done[number]}).make()

    def do(self, task: Json, part: Json) -> None:
        """A strap's part of a task, with the tool that is in hand."""
        strap = self.straps[part["strap"]]
        self.must(part["times"] == strap["quantity"], f"strap {part['strap']} is wanted {strap['quantity']} times")
        by_number = {step["n"]: step for step in strap["pattern"]["steps"]}
        self.must(len(part["steps"]) == len(part["sentences"]), "a step is not told")
        for n in part["steps"]:
            step = by_number[n]
            same = (step["op"], step.get("tool")) == (task["op"], task.get("tool"))
            self.must(same, f"step {n} of strap {part['strap']} is not done with what is in hand")
            self.done[part["strap"]].append(step)
            for goods in step["uses"]:
                key = goods["item"], goods.get("length_mm")
                self.ready[key] -= goods["count"] * part["times"]
                self.must(self.ready[key] >= 0, f"not enough {goods['item']} was laid out")
