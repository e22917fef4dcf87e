"""The part of the route table that reckons: quotes, cut plans, work orders, comparisons of shops."""

from collections.abc import Sequence
from typing import get_args

from service.door.answers.reckoning import post_comparison, post_cut_plan, post_quote, post_work_order
from service.door.body import CSV_TYPE, JSON_TYPE, TOML_TYPE
from service.door.options import output_parameters
from service.door.query import Parameter, one_of, text
from service.door.route import Route
from service.drawing.offer.pages import OfferCopy
from service.forms.data import JSON
from service.forms.form import Form
from service.forms.listed import FORMS, forms_in
from service.forms.pdf import PDF
from service.settings import Settings

CUT_PLAN_FORMS = tuple(form for form in FORMS if form is JSON or form in forms_in("pattern"))
QUOTE_FORMS = (JSON, PDF)
WORK_ORDER_FORMS = (JSON, PDF)
_PARAMETERS = ("units", "dpi", "width_px", "paper")
"""Those of a pattern that have a meaning for a cut plan or a work order."""
_READS = (JSON_TYPE, CSV_TYPE)
_COLUMNS = text(
    "columns",
    "Of orders as CSV: whose columns they have, by the name of one of the shop file's `[exports]`; our own, "
    "`ref,design,quantity` and one for each choice, where nothing is said",
    40,
)
_COPY = one_of(
    "copy",
    "Of an offer as PDF: the customer's, with what she gets and pays (where nothing is said), or the maker's own, with "
    "all that it costs, which needs a key once there are keys",
    *get_args(OfferCopy),
)
_PROBLEMS = ("url_too_long", "orders_unreadable", "orders_refused", "shop_changed")


def reckoning_routes(settings: Settings) -> tuple[Route, ...]:
    """Every reckoning operation."""
    quote = Route(
        name="make_quote",
        group="Reckoning",
        method="POST",
        path="/v1/quotes",
        summary="Price straps: materials, labour, overhead, profit, tax; as PDF an offer",
        view=post_quote,
        asks="QuoteRequest",
        reads=_READS,
        body_max=settings.orders_body_max,
        own_parameters=(_COLUMNS, _COPY),
        answers="Quote",
        answers_without_key="QuoteWithoutCosts",
        forms=QUOTE_FORMS,
        known_parameters=_parameters(settings, QUOTE_FORMS),
        has_output_options=True,
        own_problems=(*_PROBLEMS, "no_price", "too_many_pages"),
        caching="never",
        turn="large",
        key="optional",
    )
    cut_plan = Route(
        name="make_cut_plan",
        group="Reckoning",
        method="POST",
        path="/v1/cut-plans",
        summary="Plan how a batch is cut from the leather in stock",
        view=post_cut_plan,
        asks="CutPlanRequest",
        reads=_READS,
        body_max=settings.orders_body_max,
        own_parameters=(_COLUMNS,),
        answers="CutPlan",
        forms=CUT_PLAN_FORMS,
        known_parameters=_parameters(settings, CUT_PLAN_FORMS),
        has_output_options=True,
        own_problems=(*_PROBLEMS, "picture_too_large", "too_many_pages"),
        caching="never",
        turn="large",
        key="needed",
    )
    return (quote, cut_plan, _work_order(settings), _comparison(settings))


def _parameters(settings: Settings, forms: Sequence[Form]) -> tuple[Parameter, ...]:
    return tuple(each for each in output_parameters(settings, forms) if each.name in _PARAMETERS)


def _comparison(settings: Settings) -> Route:
    return Route(
        name="compare_shops",
        group="Reckoning",
        method="POST",
        path="/v1/shop-comparisons",
        summary="What another shop file would change: what could not be made, be another strap, cost otherwise",
        view=post_comparison,
        asks="ComparisonRequest",
        reads=(JSON_TYPE, TOML_TYPE),
        body_max=settings.orders_body_max,
        answers="Comparison",
        own_problems=("url_too_long", "comparison_unreadable", "shop_file_unusable"),
        caching="never",
        turn="large",
        key="needed",
    )


def _work_order(settings: Settings) -> Route:
    return Route(
        name="make_work_order",
        group="Reckoning",
        method="POST",
        path="/v1/work-orders",
        summary="Lay out a day's work: cut plan, one bench sheet for all, patterns, goods, tags",
        view=post_work_order,
        asks="WorkOrderRequest",
        reads=_READS,
        body_max=settings.orders_body_max,
        own_parameters=(_COLUMNS,),
        answers="WorkOrder",
        forms=WORK_ORDER_FORMS,
        known_parameters=_parameters(settings, WORK_ORDER_FORMS),
        has_output_options=True,
        own_problems=(*_PROBLEMS, "too_many_pages", "paper_too_small"),
        caching="never",
        turn="large",
        key="needed",
    )
