"""The shop's reckoning: quotes, cut plans and work orders, of orders as JSON or as a table."""

import time
from collections.abc import Callable
from typing import TypeVar

import orjson
from flask import g

from service.desk.comparing import make_comparison
from service.desk.quoting import Quoted, QuoteSubject, make_quote
from service.desk.reckoning import CutPlanSubject, make_cut_plan
from service.desk.rows import Read, made_of_rows
from service.desk.work_order import WorkOrderSubject, make_work_order
from service.door.body import CSV_TYPE, TOML_TYPE
from service.door.call import Call
from service.door.errors import MemberNeedsKey, NoKey, ParameterFault, QueryError
from service.door.machine.stages import stage
from service.door.reply import Reply
from service.forms.data import JSON
from service.forms.form import Budget
from service.forms.pdf import PDF
from service.schemas.csv_text import read_csv
from service.schemas.cut_plan import read_cut_plan
from service.schemas.json_text import read_json
from service.schemas.mistakes import unknown_name
from service.schemas.order_rows import rows_of
from service.schemas.quote import overrides_in, read_quote
from service.schemas.spec import units_of
from service.schemas.work_order import read_work_order
from service.shop.exports import Export
from service.shop_file import sent_text
from service.words import say

Made = TypeVar("Made")


def post_quote(call: Call) -> Reply:
    """`POST /v1/quotes`: with all that it costs the shop for who holds a key; else what a buyer is charged."""
    _refuse_for_data(call)
    copy = call.values.get("copy", "customer")
    if copy == "maker" and not call.has_key:
        raise NoKey

    def make(document: object) -> Quoted:
        if not call.has_key and (names := overrides_in(document)):
            raise MemberNeedsKey(names)
        return make_quote(document, call.shop, time.monotonic)

    quoted = _made(call, "lines", lambda *asked: read_quote(*asked).lines, make)
    settings = call.service.settings
    budget = Budget(pixels=settings.pixels_max, pages=settings.work_order_pages_max)
    subject = QuoteSubject(quoted, call.shop, call.options, with_costs=call.has_key, copy=copy)
    with stage("encode"):
        return Reply(content=call.form.encode(subject, call.options, budget))


def post_cut_plan(call: Call) -> Reply:
    """`POST /v1/cut-plans`."""
    planned = _made(
        call,
        "orders",
        lambda *asked: read_cut_plan(*asked).orders,
        lambda document: make_cut_plan(document, call.shop, time.monotonic),
    )
    settings = call.service.settings
    budget = Budget(pixels=settings.pixels_max, pages=settings.pages_max)
    with stage("encode"):
        return Reply(content=call.form.encode(CutPlanSubject(planned, call.shop, call.options), call.options, budget))


def post_work_order(call: Call) -> Reply:
    """`POST /v1/work-orders`."""
    order = _made(
        call,
        "lines",
        lambda *asked: read_work_order(*asked).lines,
        lambda document: make_work_order(document, call.shop, time.monotonic),
    )
    settings = call.service.settings
    budget = Budget(pixels=settings.pixels_max, pages=settings.work_order_pages_max)
    subject = WorkOrderSubject(order, call.shop, call.options, settings.work_order_pages_max)
    with stage("encode"):
        return Reply(content=call.form.encode(subject, call.options, budget))


def post_comparison(call: Call) -> Reply:
    """`POST /v1/shop-comparisons`: the other shop file as JSON holds it, or as it is."""
    if call.body.media_type == TOML_TYPE:
        document: object = {"shop_file": sent_text(call.body.content)}
    else:
        document = read_json(call.body.content)
    with stage("solve"):
        return Reply(content=orjson.dumps(make_comparison(document, call.shop)))


def _made(call: Call, name: str, read: Read, make: Callable[[object], Made]) -> Made:
    """What is made of the orders that were posted, which stand under `name` in a document."""
    if call.body.media_type == CSV_TYPE:
        rows = rows_of(read_csv(call.body.content), name, call.shop, _export(call))
        with stage("solve"):
            return made_of_rows(rows, read, call.shop, make)
    if "columns" in call.values:
        raise _wrong_columns("without_meaning", say("belongs to a body that is {type} only", type=CSV_TYPE))
    document = read_json(call.body.content)
    g.document, g.units = document, units_of(document, call.shop_units)
    with stage("solve"):
        return make(document)


def _refuse_for_data(call: Call) -> None:
    """Refuse what has a meaning for an offer on paper only, where data is asked for. Raises `QueryError`."""
    if call.form is JSON:
        detail = say("belongs to {form} only", form=PDF.name)
        faults = (ParameterFault(name, "without_meaning", detail) for name in ("copy", "units") if name in call.values)
        if wrong := tuple(faults):
            raise QueryError(wrong)


def _export(call: Call) -> Export | None:
    """Whose columns the table has; none where they are our own. Raises `QueryError`."""
    name, known = call.values.get("columns"), call.shop.exports
    if name is None:
        return None
    if name not in known:
        told = unknown_name("export", name, known) if known else say("this shop's file has no [exports]")
        raise _wrong_columns("unknown_value", told)
    return known[name]


def _wrong_columns(code: str, detail: str) -> QueryError:
    return QueryError((ParameterFault("columns", code, detail),))
