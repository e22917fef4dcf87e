"""The routes of the pages on which designs are tried, and of their scripts and style."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import partial

from flask import Response, request

from service.desk.pipeline import Form
from service.desk.selling import ChoiceRefused, made_or_refused, offers_of, price_of_one
from service.door.answers.designs import choice_parameters, design_url, find_design, finished_url, query_of
from service.door.caching import entity_tag, settle
from service.door.errors import ParameterFault
from service.door.machine.stages import stage
from service.door.mounting import here, origin_of
from service.door.pages.files import page_file
from service.door.pages.price_words import price_words
from service.door.pages.shop_pages import (
    CARD,
    HTML,
    PAGE_POLICY,
    Details,
    Download,
    Field,
    Refused,
    Shown,
    design_page,
    index_page,
)
from service.door.query import read_link
from service.door.service import Service
from service.schemas.choosing import design_units, query_text, value_title
from service.schemas.design_document import canonical_texts, way_out_document
from service.shop.designs import Choice, Chosen, Design, Value, range_of
from service.shop.shop import Shop, Units
from service.strap.model.pattern import Pattern
from service.strap.plane.lengths import reading, tape_reading
from service.workshop.offers import Offers
from service.workshop.quote import NoPrices

CSS, SCRIPT = "text/css; charset=utf-8", "text/javascript; charset=utf-8"
ICON = "image/svg+xml"
_DOWNLOADS: tuple[tuple[str, Form, str], ...] = (
    ("Pattern and bench sheet as PDF, A4", "pdf", "paper=a4"),
    ("Pattern and bench sheet as PDF, Letter", "pdf", "paper=letter"),
    ("Bench sheet alone as PDF, A4", "pdf", "paper=a4&sheet=only"),
    ("Working pattern as SVG", "svg", ""),
    ("Working pattern as PNG, 150 dpi", "png", "dpi=150"),
    ("Picture as SVG", "svg", "view=finished"),
    ("Picture as PNG, 1,600 px wide", "png", "view=finished&width_px=1600"),
    ("Every measure as JSON", "json", ""),
)


def get_index(service: Service) -> Response:
    """`GET /`: every design."""
    shown = [_shown(service, design, design.defaults()) for design in service.shop.designs.values()]
    return _page(service, index_page(service.shop.name, shown, request.script_root))


def get_design_page(service: Service, design: str) -> Response:
    """`GET /designs/{design}`: one design, as chosen in the query. What is not offered falls back to the default."""
    found = find_design(service, design)
    given, faults = read_link(request.query_string, choice_parameters(found, service.shop.defaults.units))
    chosen = {**found.defaults(), **given}
    details = service.lanes.small.do(partial(_details, service, found, chosen), stage)
    details = replace(details, notices=tuple(_notices(service, found, faults)))
    return _page(service, design_page(service.shop.name, _shown(service, found, chosen), details))


def get_file(name: str, media_type: str, service: Service) -> Response:
    """One of the files that pages use, as it stands."""
    return _fixed(service, page_file(name), media_type)


get_embed = partial(get_file, "embed.js", SCRIPT)
get_script = partial(get_file, "page.js", SCRIPT)
get_style = partial(get_file, "page.css", CSS)
get_icon = partial(get_file, "favicon.svg", ICON)


def _shown(service: Service, design: Design, chosen: Chosen) -> Shown:
    query = query_of(canonical_texts(design, chosen, service.shop.defaults.units))
    link = here(f"/designs/{design.name}") + (query if chosen != design.defaults() else "")
    picture = here(finished_url(service, design, chosen, "svg", background="transparent"))
    return Shown(design=design, picture=picture, link=link)


def _details(service: Service, design: Design, chosen: Chosen) -> Details:
    units, refused, price = design_units(design, service.shop.defaults.units), None, None
    facts: tuple[tuple[str, str], ...] = ()
    try:
        pattern = made_or_refused(design, chosen, service.shop)
        facts, price = tuple(_facts(pattern, units)), _price(design, pattern, service.shop)
    except ChoiceRefused as refusal:
        refused = _refused(service, refusal)
    offers = offers_of(design, service.shop)
    return Details(
        fields=tuple(_field(each, design, chosen, offers, units) for each in design.choices),
        facts=facts,
        price=price,
        refused=refused,
        drawing=here(design_url(service, design, chosen, "svg", {})),
        image=here(finished_url(service, design, chosen, "svg")),
        card=here(finished_url(service, design, chosen, "png", width_px=CARD[0], height_px=CARD[1])),
        downloads=tuple(_download(service, design, chosen, *each) for each in _DOWNLOADS),
        origin=origin_of(service.settings),
        root=request.script_root,
        query=query_of(canonical_texts(design, chosen, service.shop.defaults.units)),
    )


def _price(design: Design, pattern: Pattern, shop: Shop) -> str | None:
    """What one costs, in words; nothing where the shop has no price for it."""
    try:
        return price_words(price_of_one(design, pattern, shop))
    except NoPrices:
        return None


def _notices(service: Service, design: Design, faults: Iterable[ParameterFault]) -> Iterator[str]:
    """What a link asked for in vain. Its text is not repeated: anybody may write a link."""
    units = design_units(design, service.shop.defaults.units)
    for fault in faults:
        choice = design.choice(fault.parameter)
        title = value_title(choice, choice.offer.default, units)
        yield f"{choice.title}: what this link asks for is not offered. Shown instead: {title}."


def _field(choice: Choice, design: Design, chosen: Chosen, offers: Offers, units: Units) -> Field:
    makeable = _makeable(choice, design, chosen, offers)
    return Field(
        choice=choice,
        value=query_text(choice, chosen[choice.name], units),
        options=tuple(
            (query_text(choice, value, units), value_title(choice, value, units), value in makeable)
            for value in choice.offer
        ),
    )


def _makeable(choice: Choice, design: Design, chosen: Chosen, offers: Offers) -> frozenset[Value]:
    """The values that are not greyed out: lengths that hold any count, counts at this length, others with any pair."""
    lengths = tuple(range_of(design.length))
    counts = tuple(range_of(design.count)) if design.count else (0,)
    if choice == design.length:
        return frozenset(offers.lengths(chosen))
    if choice == design.count:
        here = offers.lines(chosen, (int(chosen[design.length.name]),), counts)[0]
        return frozenset(count for count in counts if any(low <= count <= high for low, high in here.counts))
    return frozenset(offers.values(chosen, choice, lengths, counts))


def _facts(pattern: Pattern, units: Units) -> Iterator[tuple[str, str]]:
    finished, worn_at = pattern.finished, pattern.worn_at
    yield ("To the middle hole" if finished.holes else "Over all"), reading(finished.length, units)
    if len(worn_at) > 1:
        first, last = worn_at[0].fits, worn_at[-1].fits
        yield "Fits girths from", f"{tape_reading(first, units)} to {tape_reading(last, units)}"
    yield "Weighs", f"{round(finished.weight_mg / 1000)} g"


def _refused(service: Service, refusal: ChoiceRefused) -> Refused:
    design, default_units = refusal.design, service.shop.defaults.units
    ways = []
    for way in refusal.ways:
        mended = canonical_texts(design, {**refusal.chosen, **way.changes}, default_units)
        sentence = way_out_document(design, refusal.chosen, way, default_units)["detail"]
        ways.append((sentence, here(f"/designs/{design.name}{query_of(mended)}")))
    return Refused(reasons=tuple(fault.detail for fault in refusal.faults), ways=tuple(ways))


def _download(service: Service, design: Design, chosen: Chosen, title: str, form: Form, more: str) -> Download:
    options = dict(pair.split("=") for pair in more.split("&") if pair)
    url = here(design_url(service, design, chosen, form, options, suffix=f".{form}"))
    return Download(title=title, form=form, more=more, url=url)


def _page(service: Service, html: str) -> Response:
    response = _fixed(service, html.encode(), HTML)
    response.headers["Content-Security-Policy"] = PAGE_POLICY
    return response


def _fixed(service: Service, content: bytes, media_type: str) -> Response:
    response = Response(content, content_type=media_type)
    response.headers["Cache-Control"] = f"public, max-age={service.settings.cache_seconds}"
    return settle(request, response, entity_tag(service.stamp, content))
