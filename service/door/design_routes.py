"""The part of the route table that sells: designs, their choices and patterns, and the pages to try them."""

from collections.abc import Callable
from functools import partial

from flask import Response

from service.desk.pipeline import Form
from service.door.answers.design_pages import (
    CSS,
    ICON,
    SCRIPT,
    get_design_page,
    get_embed,
    get_icon,
    get_index,
    get_script,
    get_style,
)
from service.door.answers.designs import (
    get_choices,
    get_design,
    get_design_pattern,
    get_design_pattern_as,
    get_designs,
    get_price,
)
from service.door.answers.oembed import OEMBED_PARAMETERS, get_oembed
from service.door.answers.patterns import drawn_problems, forms_of, pattern_parameters
from service.door.pages.shop_pages import HTML
from service.door.route import Route
from service.door.service import Service
from service.settings import Settings

View = Callable[..., Response]

_CHOSEN = ("unknown_design", "query_unreadable", "choice_refused")


def design_routes(settings: Settings, forms: tuple[Form, ...]) -> tuple[Route, ...]:
    """Every operation on designs."""
    return (*_DESIGNS, *_pattern_routes(settings, forms))


def _pattern_routes(settings: Settings, forms: tuple[Form, ...]) -> tuple[Route, ...]:
    parameters = pattern_parameters(settings)
    negotiated = Route(
        name="get_design_pattern",
        group="Designs",
        method="GET",
        path="/v1/designs/{design}/pattern",
        summary="Get the pattern of a design as chosen, in the form that Accept asks for",
        view=get_design_pattern,
        answers="Pattern",
        forms=forms,
        parameters=parameters,
        takes_choices=True,
        problems=(*_CHOSEN, "not_acceptable", *drawn_problems(*forms)),
    )
    return (negotiated, *(_suffix_route(form, settings) for form in forms))


def _suffix_route(form: Form, settings: Settings) -> Route:
    return Route(
        name=f"get_design_pattern_{form}",
        group="Designs",
        method="GET",
        path=f"/v1/designs/{{design}}/pattern.{form}",
        summary=f"Get the pattern of a design as chosen as {form.upper()}, whatever Accept says",
        view=partial(_as_form, form),
        answers="Pattern",
        forms=(form,),
        parameters=tuple(each for each in pattern_parameters(settings) if form in forms_of(each.name)),
        takes_choices=True,
        problems=(*_CHOSEN, *drawn_problems(form)),
    )


def _as_form(form: Form, service: Service, design: str) -> Response:
    return get_design_pattern_as(service, form, design)


_DESIGNS = (
    Route(
        name="get_designs",
        group="Designs",
        method="GET",
        path="/v1/designs",
        summary="The shop's ready designs",
        view=get_designs,
        answers="Designs",
        problems=("not_acceptable", "query_unreadable"),
    ),
    Route(
        name="get_design",
        group="Designs",
        method="GET",
        path="/v1/designs/{design}",
        summary="A design, and what may be chosen of it",
        view=get_design,
        answers="Design",
        problems=("unknown_design", "not_acceptable", "query_unreadable"),
    ),
    Route(
        name="get_choices",
        group="Designs",
        method="GET",
        path="/v1/designs/{design}/choices",
        summary="What of a design can be made: for each length the counts, with whatever else is chosen",
        view=get_choices,
        answers="Choices",
        takes_choices=True,
        problems=("unknown_design", "not_acceptable", "query_unreadable"),
    ),
    Route(
        name="get_price",
        group="Designs",
        method="GET",
        path="/v1/designs/{design}/price",
        summary="What one of a design costs as chosen",
        view=get_price,
        answers="Price",
        takes_choices=True,
        problems=(*_CHOSEN, "not_acceptable", "no_prices", "no_price"),
    ),
)


def _page(name: str, path: str, summary: str, view: View, answers: str, *, takes_choices: bool = False) -> Route:
    problems = ("unknown_design",) if "{design}" in path else ()
    return Route(
        name=name, group="Pages", method="GET", path=path, summary=summary, view=view, answers=answers,
        problems=problems, takes_choices=takes_choices,
    )  # fmt: skip


PAGE_ROUTES = (
    _page("get_index", "/", "A page with every design", get_index, HTML),
    _page("get_design_page", "/designs/{design}", "A page to choose on", get_design_page, HTML, takes_choices=True),
    _page("get_embed", "/embed.js", "The element that shows a design in any page", get_embed, SCRIPT),
    _page("get_page_script", "/page.js", "What the pages' scripts do beside it", get_script, SCRIPT),
    _page("get_icon", "/favicon.svg", "The pages' icon", get_icon, ICON),
    _page("get_page_style", "/page.css", "The pages' style", get_style, CSS),
    Route(
        name="get_oembed",
        group="Pages",
        method="GET",
        path="/oembed",
        summary="The picture of a design's page, as an oEmbed photo",
        view=get_oembed,
        answers="OEmbed",
        parameters=OEMBED_PARAMETERS,
        problems=("unknown_design", "not_embeddable", "query_unreadable", "format_not_offered"),
    ),
)
