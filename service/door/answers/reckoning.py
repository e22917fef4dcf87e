"""The shop's reckoning: quotes, and cut plans in every form that pages or drawings come in."""

import time

import orjson
from flask import g

from service.desk.reckoning import CutPlanSubject, make_cut_plan, make_quote
from service.desk.work_order import WorkOrderSubject, make_work_order
from service.door.call import Call
from service.door.errors import MemberNeedsKey
from service.door.machine.stages import stage
from service.door.reply import Reply
from service.forms.form import Budget
from service.schemas.json_text import read_json
from service.schemas.quote import overrides_in
from service.schemas.spec import units_of


def post_quote(call: Call) -> Reply:
    """`POST /v1/quotes`: with all that it costs the shop for who holds a key; else what a buyer is charged."""
    document = _document(call)
    if not call.has_key and (names := overrides_in(document)):
        raise MemberNeedsKey(names)
    with stage("solve"):
        quote = make_quote(document, call.shop, time.monotonic, with_costs=call.has_key)
    return Reply(content=orjson.dumps(quote))


def post_cut_plan(call: Call) -> Reply:
    """`POST /v1/cut-plans`."""
    document = _document(call)
    with stage("solve"):
        planned = make_cut_plan(document, call.shop, time.monotonic)
    settings = call.service.settings
    budget = Budget(pixels=settings.pixels_max, pages=settings.pages_max)
    with stage("encode"):
        return Reply(content=call.form.encode(CutPlanSubject(planned, call.shop, call.options), call.options, budget))


def post_work_order(call: Call) -> Reply:
    """`POST /v1/work-orders`."""
    document = _document(call)
    with stage("solve"):
        order = make_work_order(document, call.shop, time.monotonic)
    settings = call.service.settings
    budget = Budget(pixels=settings.pixels_max, pages=settings.work_order_pages_max)
    subject = WorkOrderSubject(order, call.shop, call.options, settings.work_order_pages_max)
    with stage("encode"):
        return Reply(content=call.form.encode(subject, call.options, budget))


def _document(call: Call) -> object:
    document = read_json(call.body)
    g.document, g.units = document, units_of(document, call.shop_units)
    return document
