"""The part of the route table that reckons: quotes and cut plans."""

from service.door.answers.patterns import drawn_problems
from service.door.answers.reckoning import CUT_PLAN_FORMS, cut_plan_parameters, post_cut_plan, post_quote
from service.door.route import Route
from service.settings import Settings

_BODY = (
    "not_json", "not_acceptable", "request_timeout", "body_too_long", "wrong_media_type", "wrong_content_encoding",
    "url_too_long",
    "query_unreadable", "key_needed", "orders_unreadable", "orders_refused", "shop_changed", "busy",
)  # fmt: skip


def reckoning_routes(settings: Settings) -> tuple[Route, ...]:
    """Every reckoning operation."""
    quote = Route(
        name="make_quote",
        group="Reckoning",
        method="POST",
        path="/v1/quotes",
        summary="Price straps: materials, labour, overhead, profit, tax",
        view=post_quote,
        asks="QuoteRequest",
        answers="Quote",
        answers_without_key="QuoteWithoutCosts",
        problems=(*_BODY, "no_price"),
        conditional=False,
        reckons=True,
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
        answers="CutPlan",
        forms=CUT_PLAN_FORMS,
        parameters=cut_plan_parameters(settings),
        problems=(*_BODY, *(code for code in drawn_problems("png", "pdf") if code in _DRAWN)),
        conditional=False,
        reckons=True,
        key="needed",
    )
    return (quote, cut_plan)


_DRAWN = ("picture_too_large", "too_many_pages")
