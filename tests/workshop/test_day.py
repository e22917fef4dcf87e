"""A day's work: merged steps that the walker can do, tools seldom picked up, sums that are one wherever they stand."""

import copy
import json
import time
from collections import Counter, defaultdict
from decimal import Decimal
from functools import cache
from random import Random
from typing import get_args

import pytest

from openapi.example_requests import examples, requests
from service.desk.quoting import QuoteSubject, make_quote
from service.desk.work_order import WorkOrderSubject, make_work_order
from service.forms.data import JSON
from service.forms.form import OutputOptions
from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.model.likeness import pattern_digest
from service.strap.plane.lengths import MM, parse_length
from service.strap.solve import solve
from service.workshop.bench.step import Op
from service.workshop.cautions import cautions, cautions_of
from service.workshop.day.batch import Share, jobs_of
from service.workshop.day.goods import minutes_of
from service.workshop.day.merging import courses_of, least_rounds, merged
from service.workshop.day.task_words import HEADS, TaskWords
from tests.support.two_ended import PAIRS, pair_of
from tests.walker.day import Day
from tests.walker.hands import Botched
from tests.workshop.test_walker import answer_or_none

SHOP = demo_shop()
EXAMPLES = {name: spec for name, spec in examples().items() if not name.startswith("refused")}
DESIGNS = [{"ref": name, "design": name, "quantity": n} for n, name in enumerate(SHOP.designs, 1)]
ODD = [pair_of(*pair) for pair in PAIRS if answer_or_none(pair_of(*pair))]


def answer(lines, **more):
    order = make_work_order({"lines": lines, **more}, SHOP, time.monotonic)
    subject = WorkOrderSubject(order, SHOP, OutputOptions(form=JSON), 100)
    return json.loads(json.dumps(subject.data()))


@cache
def day(name):
    """An order: every design, every example, the request of the documents, or some straps drawn by a seed."""
    if name == "designs":
        return answer(DESIGNS)
    if name == "request":
        return answer(requests("WorkOrderRequest")["a_day"]["lines"])
    specs = [*EXAMPLES.values(), *ODD]
    if name != "all examples":
        random = Random(name)
        specs = random.sample(specs, random.choice([2, 5, 9, 16]))
    else:
        specs = list(EXAMPLES.values())
    return answer([{"ref": f"A{n}", "spec": spec, "quantity": 1 + n % 3} for n, spec in enumerate(specs)])


DAYS = ("designs", "request", "all examples", *(f"seed {n}" for n in range(12)))


@pytest.mark.parametrize("name", DAYS)
def test_every_strap_of_a_day_can_be_made_by_the_one_sheet(name):
    Day(day(name)).work()


@pytest.mark.parametrize("name", ["designs", "request", "seed 1"])
def test_a_wrong_sheet_is_noticed(name):
    """A task before one that it comes after, a step left out or done twice, goods that are not there."""
    random = Random(name)
    wrong = []
    for _ in range(20):
        spoiled = copy.deepcopy(day(name))
        tasks = spoiled["tasks"]
        late = random.choice([task for task in tasks if task["after"]])
        tasks.remove(late)
        first = random.choice(late["after"])
        tasks.insert(next(n for n, task in enumerate(tasks) if task["n"] == first), late)
        wrong.append(spoiled)
        for change in ("left out", "twice"):
            spoiled = copy.deepcopy(day(name))
            part = random.choice(random.choice(spoiled["tasks"])["parts"])
            part["steps"] = part["steps"][1:] if change == "left out" else part["steps"] * 2
            part["sentences"] = part["sentences"][1:] if change == "left out" else part["sentences"] * 2
            wrong.append(spoiled)
        spoiled = copy.deepcopy(day(name))
        random.choice(spoiled["goods"])["count"] += random.choice([-1, 1])
        wrong.append(spoiled)
    for spoiled in wrong:
        with pytest.raises(Botched):
            Day(spoiled).work()


@pytest.mark.parametrize("name", DAYS)
def test_each_strip_width_of_a_leather_is_set_once(name):
    answered = day(name)
    set_to = []
    for task in answered["tasks"]:
        if task["op"] == "strip":
            strap = next(each for each in answered["straps"] if each["number"] == task["parts"][0]["strap"])
            step = strap["pattern"]["steps"][task["parts"][0]["steps"][0] - 1]
            piece = next(each for each in strap["pattern"]["pieces"] if each["name"] == step["pieces"][0])
            set_to.append((piece["leather"], round(piece["width_mm"] + 2 * piece.get("over_mm", 0), 3)))
    assert len(set_to) == len(set(set_to))
    assert Counter(set_to) == Counter((s["leather"], s["width_mm"]) for s in answered["materials"]["strips"])


def jobs_for(specs):
    shares = [
        Share(
            ref=str(n), strap="", tag=str(n), title="", quantity=1, code="", pattern=solve(read_spec(spec, "in"), SHOP)
        )
        for n, spec in enumerate(specs)
    ]
    return jobs_of(shares, SHOP)


def test_each_tool_of_a_usual_day_is_picked_up_as_often_as_one_strap_needs_it():
    """No sheet can do with less: the strap that needs a tool again after something else needs it so by itself."""
    usual = day("designs")["tasks"]
    courses = courses_of(jobs_for([each["pattern"]["spec"] for each in day("designs")["straps"]]))
    assert len(usual) == sum(least_rounds(courses).values())


@pytest.mark.parametrize("seed", range(6))
def test_an_odd_day_takes_few_more_tasks_than_its_straps_need(seed):
    random = Random(seed)
    jobs = jobs_for(random.sample([*EXAMPLES.values(), *ODD], 14))
    least = sum(least_rounds(courses_of(jobs)).values())
    assert least <= len(merged(jobs)) <= 1.3 * least


def test_every_way_of_working_has_its_words():
    assert {*HEADS, *TaskWords(SHOP, "in")._by_op} == set(get_args(Op))


def test_straps_that_are_alike_are_one():
    spec = EXAMPLES["dancers_bell_garter"]
    answered = answer([{"ref": "a", "spec": spec, "pair": True}, {"ref": "b", "spec": spec, "quantity": 3}])
    (strap,) = answered["straps"]
    assert [(each["tag"], each["quantity"]) for each in strap["of"]] == [("a left", 1), ("a right", 1), ("b", 3)]
    assert strap["quantity"] == answered["quantity"] == 5


def test_a_left_and_a_right_that_differ_are_two():
    left, right = answer([{"ref": "a", "design": "staggered_garter", "pair": True}])["straps"]
    assert [left["pattern"]["spec"]["hand"], right["pattern"]["spec"]["hand"]] == ["left", "right"]
    assert all(piece["face"] == "grain" for piece in (*left["pattern"]["pieces"], *right["pattern"]["pieces"]))
    for mine in (left, right):
        assert pattern_digest(solve(read_spec(mine["pattern"]["spec"], "in"), SHOP))
    at = [{(f["x_mm"], f["y_mm"]) for f in s["pattern"]["pieces"][0]["features"]} for s in (left, right)]
    assert at[0] != at[1]
    assert at[0] == {(x, -y) for x, y in at[1]}


# ------------------------------------------------------------------ sums


@pytest.mark.parametrize("name", DAYS)
def test_what_is_cut_laid_out_and_worked_on_is_one_sum(name):
    """The cut plan's strip, the bench sheet's and the materials' are one, by leather and width."""
    answered = day(name)
    plan = defaultdict(float)
    for sheet in answered["cut_plan"]["sheets"]:
        for strip in sheet["strips"]:
            plan[sheet["leather"], strip["width_mm"]] += sum(piece["length_mm"] for piece in strip["pieces"])
    for piece in answered["cut_plan"]["missing"]:
        plan[piece["leather"], piece["width_mm"]] += piece["length_mm"]
    materials = {(s["leather"], s["width_mm"]): s["length_mm"] for s in answered["materials"]["strips"]}
    assert plan == pytest.approx(materials, abs=0.05)
    heads = [task["do"].partition(" and cut ")[2] for task in answered["tasks"] if task["op"] == "strip"]
    told = [parse_length(head.partition(" of strip")[0].removeprefix("≈ "), "in") / MM for head in heads]
    assert sorted(told) == pytest.approx(sorted(materials.values()), abs=25.4 / 64)


@pytest.mark.parametrize("name", DAYS)
def test_every_piece_of_every_strap_is_cut_to_length_once(name):
    answered = day(name)
    straps = {each["number"]: each for each in answered["straps"]}
    cut, pieces = Counter(), Counter()
    for part in (part for task in answered["tasks"] if task["op"] == "cut" for part in task["parts"]):
        for n in part["steps"]:
            cut[straps[part["strap"]]["pattern"]["steps"][n - 1]["pieces"][0]] += part["times"]
    for strap in straps.values():
        pieces.update({piece["name"]: strap["quantity"] for piece in strap["pattern"]["pieces"]})
    assert cut == pieces


@pytest.mark.parametrize("name", DAYS)
def test_goods_are_those_of_the_materials_and_of_each_strap(name):
    answered = day(name)
    counts = Counter()
    for line in answered["goods"]:
        assert line["count"] == sum(each["count"] for each in line["of"])
        if "length_mm" not in line:
            counts[line["item"]] += line["count"]
    assert counts == Counter({each["item"]: each["count"] for each in answered["materials"]["items"]})
    for strap in answered["straps"]:
        hardware = Counter()
        for line in strap["pattern"]["hardware"]:
            hardware[line["item"], line.get("length_mm")] += line["count"] * strap["quantity"]
        laid = {
            (line["item"], line.get("length_mm")): each["count"]
            for line in answered["goods"]
            for each in line["of"]
            if each["strap"] == strap["number"]
        }
        assert laid == hardware


def test_the_minutes_of_one_line_are_those_that_a_quote_charges():
    line = {"ref": "a", "design": "parade_harness_strap", "quantity": 4}
    made = make_quote({"lines": [line]}, SHOP, time.monotonic)
    quoted = QuoteSubject(made, SHOP, OutputOptions(form=JSON)).data()["lines"][0]
    assert Decimal(answer([line])["minutes"]) == Decimal(quoted["minutes"])


def test_setting_up_is_paid_once_for_the_whole_day():
    """By hand: the set-ups of both, less those of tools that both take set alike; what is done is added up."""
    specs = [EXAMPLES["dancers_bell_garter"], EXAMPLES["parade_harness_strap"]]
    jobs = jobs_for(specs)
    together = {use.operation: use for use in minutes_of(jobs, SHOP)}
    alone = [{use.operation: use for use in minutes_of([job], SHOP)} for job in jobs]
    tools = [{(step.work.operation, step.work.tool) for step in job.steps if step.work.amount} for job in jobs]
    for name, use in together.items():
        counts = [each[name].count for each in alone if name in each]
        assert use.count == sum(counts)
        assert use.tools == len({each for each in tools[0] | tools[1] if each[0] == name})
    shared = len({each for each in tools[0] & tools[1] if each[0] in together})
    assert shared
    assert sum(use.tools for use in together.values()) == sum(u.tools for a in alone for u in a.values()) - shared


def test_a_tag_tells_what_its_own_strap_fits():
    answered = answer([{"ref": "a", "design": "bell_garter", "sizes": ["S", "L"], "pair": True, "quantity": 2}])
    assert [(tag["tag"], tag["quantity"]) for tag in answered["tags"]] == [
        ("a S left", 2), ("a S right", 2), ("a L left", 2), ("a L right", 2)
    ]  # fmt: skip
    straps = {each["number"]: each["pattern"] for each in answered["straps"]}
    for tag in answered["tags"]:
        pattern = straps[tag["number"]]
        down = {each["hole"] for each in pattern["worn"] if each["lies_down"]}
        worn = [each for each in pattern["finished"]["holes"] if each["hole"] in down]
        assert [(each["hole"], each["fits"]) for each in tag["holes"]] == [(e["hole"], e["fits"]) for e in worn]
        assert tag["care"] == list(SHOP.care)
        assert set(tag["cautions"]) < set(pattern["cautions"])
        assert any("small parts" in text for text in tag["cautions"])
        assert not any("tool maker" in text for text in tag["cautions"])


@pytest.mark.parametrize("name", ["designs", "all examples"])
def test_every_caution_is_for_the_bench_or_for_use(name):
    for strap in day(name)["straps"]:
        pattern = solve(read_spec(strap["pattern"]["spec"], "in"), SHOP)
        parted = cautions_of(pattern, SHOP)
        assert sorted((*parted.at_the_bench, *parted.in_use)) == sorted(cautions(pattern, SHOP))
