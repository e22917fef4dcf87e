"""The part of the route table that sells: designs, their choices and patterns, and the pages to try them."""

from collections.abc import Callable
from functools import partial

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
from service.door.answers.designs import get_choices, get_design, get_design_pattern, get_designs, get_price
from service.door.answers.oembed import OEMBED_PARAMETERS, get_oembed
from service.door.call import Call
from service.door.options import output_parameters, refusals_of
from service.door.pages.shop_pages import BUYERS, HTML, MAKERS
from service.door.reply import Answer
from service.door.route import Route
from service.forms.form import Cost, Form
from service.forms.listed import FORMS
from service.settings import Settings
from service.words import say


def design_routes(settings: Settings) -> tuple[Route, ...]:
    """Every operation on designs."""
    negotiated = Route(
        name="get_design_pattern",
        group="Designs",
        method="GET",
        path="/v1/designs/{design}/pattern",
        summary="Get the pattern of a design as chosen, in the form that Accept asks for",
        view=get_design_pattern,
        answers="Pattern",
        forms=FORMS,
        known_parameters=output_parameters(settings),
        has_output_options=True,
        takes_choices=True,
        own_problems=("choice_refused", *refusals_of(FORMS)),
    )
    return (*_DESIGNS, negotiated, *(_suffix_route(form, settings) for form in FORMS))


def _suffix_route(form: Form, settings: Settings) -> Route:
    return Route(
        name=f"get_design_pattern_{form.name}",
        group="Designs",
        method="GET",
        path=f"/v1/designs/{{design}}/pattern{form.suffix}",
        summary=say("Get the pattern of a design as chosen as {form}, whatever Accept says", form=form.title),
        view=get_design_pattern,
        answers="Pattern",
        forms=(form,),
        accept="suffix",
        known_parameters=output_parameters(settings),
        has_output_options=True,
        takes_choices=True,
        own_problems=("choice_refused", *form.refusals),
    )


_DESIGNS = (
    Route(
        name="get_designs",
        group="Designs",
        method="GET",
        path="/v1/designs",
        summary="The shop's ready designs",
        view=get_designs,
        answers="Designs",
    ),
    Route(
        name="get_design",
        group="Designs",
        method="GET",
        path="/v1/designs/{design}",
        summary="A design, and what may be chosen of it",
        view=get_design,
        answers="Design",
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
        own_problems=("choice_refused", "no_prices", "no_price"),
    ),
)


def _page(
    name: str,
    path: str,
    summary: str,
    view: Callable[[Call], Answer],
    answers: str,
    *,
    takes_choices: bool = False,
    turn: Cost | None = None,
    has_key: bool = False,
) -> Route:
    return Route(
        name=name, group="Pages", method="GET", path=path, summary=summary, view=view, answers=answers,
        accept="ignored", query="link", takes_choices=takes_choices, turn=turn,
        key="asked" if has_key else "none", caching="never" if has_key else "public",
    )  # fmt: skip


def workshop_routes(settings: Settings) -> tuple[Route, ...]:
    """The maker's pages: none where they are switched off."""
    if settings.workshop == "off":
        return ()
    has_key = settings.workshop == "key"
    return (
        _page(
            "get_workshop", "/workshop", "The maker's page with every design",
            partial(get_index, MAKERS), HTML, has_key=has_key,
        ),
        _page(
            "get_workshop_design", "/workshop/designs/{design}", "A design with its pattern, and all to take away",
            partial(get_design_page, MAKERS), HTML, takes_choices=True, turn="small", has_key=has_key,
        ),
    )  # fmt: skip


PAGE_ROUTES = (
    _page("get_index", "/", "A page with every design", partial(get_index, BUYERS), HTML),
    _page(
        "get_design_page", "/designs/{design}", "A page to choose on", partial(get_design_page, BUYERS), HTML,
        takes_choices=True, turn="small",
    ),
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
        accept="ignored",
        query="link",
        known_parameters=OEMBED_PARAMETERS,
        own_problems=("unknown_design", "not_embeddable", "query_unreadable", "format_not_offered"),
    ),
)  # fmt: skip
