"""The routes of the pages on which designs are tried, and of their scripts and style."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import partial
from typing import get_args
from urllib.parse import parse_qsl

from flask import request

from service.desk.selling import ChoiceRefused, made_or_refused, offers_of, price_of_one, spec_of
from service.door.addresses import design_pattern_path, finished_path, query_of
from service.door.call import Call
from service.door.errors import ParameterFault
from service.door.mounting import here, origin_of
from service.door.pages.files import page_file
from service.door.pages.price_words import price_words
from service.door.pages.shop_pages import (
    CARD,
    HTML,
    PAGE_POLICY,
    Details,
    Download,
    Face,
    Field,
    Refused,
    Shown,
    design_page,
    index_page,
)
from service.door.reply import Reply
from service.door.service import Service
from service.forms.form import Place
from service.forms.listed import FORMS
from service.forms.png import PNG
from service.forms.svg import SVG
from service.schemas.choosing import design_units, query_text, value_title
from service.schemas.design_document import canonical_texts, way_out_document
from service.schemas.withheld import marked, reason, reason_of_value, short_reason
from service.shop.designs import Choice, Chosen, Design, Value, counts_of, range_of
from service.shop.shop import Shop, Units
from service.strap.model.pattern import Pattern
from service.strap.plane.lengths import reading, tape_reading
from service.words import say
from service.workshop.offers import Offers
from service.workshop.quote import NoPrices
from service.workshop.withheld import values_withheld, withheld

CSS, SCRIPT = "text/css; charset=utf-8", "text/javascript; charset=utf-8"
ICON = "image/svg+xml"


def get_index(face: Face, call: Call) -> Reply:
    """`GET /` and `/workshop`: every design."""
    shown = [_shown(call.shop, design, design.defaults(), face) for design in call.shop.designs.values()]
    return _page(index_page(call.shop.name, shown, request.script_root, face))


def get_design_page(face: Face, call: Call) -> Reply:
    """`GET /designs/{design}`, and below `/workshop`: one design, as chosen in the query.

    What is not offered falls back to the default.
    """
    design, chosen = call.design, call.chosen
    details = _details(call.service, design, chosen, face)
    details = replace(details, notices=tuple(_notices(call.shop, design, call.faults)))
    return _page(design_page(call.shop.name, _shown(call.shop, design, chosen, face), details, face))


def get_file(name: str, media_type: str, _call: Call) -> Reply:
    """One of the files that pages use, as it stands."""
    return Reply(content=page_file(name), media_type=media_type)


get_embed = partial(get_file, "embed.js", SCRIPT)
get_script = partial(get_file, "page.js", SCRIPT)
get_style = partial(get_file, "page.css", CSS)
get_icon = partial(get_file, "favicon.svg", ICON)


def _shown(shop: Shop, design: Design, chosen: Chosen, face: Face) -> Shown:
    units = shop.defaults.units
    query = query_of(canonical_texts(design, chosen, units))
    link = here(f"{face.designs}/{design.name}") + (query if chosen != design.defaults() else "")
    picture = here(finished_path(design, chosen, SVG, units, background="transparent"))
    return Shown(design=design, picture=picture, link=link)


def _details(service: Service, design: Design, chosen: Chosen, face: Face) -> Details:
    shop, refused, price = service.shop, None, None
    units, default_units = design_units(design, shop.defaults.units), shop.defaults.units
    facts: tuple[tuple[str, str], ...] = ()
    offers = offers_of(design, shop)
    try:
        pattern = made_or_refused(design, chosen, spec_of(design, chosen, shop), shop, offers)
        facts, price = tuple(_facts(pattern, units)), _price(pattern, shop)
    except ChoiceRefused as refusal:
        refused = _refused(refusal, default_units, face)
    card = finished_path(design, chosen, PNG, default_units, width_px=CARD[0], height_px=CARD[1])
    return Details(
        fields=tuple(_field(each, design, chosen, offers, units) for each in design.choices),
        facts=facts,
        price=price,
        refused=refused,
        drawing=here(design_pattern_path(design, chosen, SVG.suffix, {}, default_units)),
        image=here(finished_path(design, chosen, SVG, default_units)),
        card=here(card),
        downloads=tuple(_downloads(design, chosen, default_units)) if face.for_maker else (),
        origin=origin_of(service.settings),
        root=request.script_root,
        query=query_of(canonical_texts(design, chosen, default_units)),
    )


def _price(pattern: Pattern, shop: Shop) -> str | None:
    """What one costs, in words; nothing where the shop has no price for it."""
    try:
        return price_words(price_of_one(pattern, shop))
    except NoPrices:
        return None


def _notices(shop: Shop, design: Design, faults: Iterable[ParameterFault]) -> Iterator[str]:
    """What a link asked for in vain. Its text is not repeated: anybody may write a link."""
    units = design_units(design, shop.defaults.units)
    for fault in faults:
        choice = design.choice(fault.parameter)
        title = value_title(choice, choice.offer.default, units)
        sentence = "{choice}: what this link asks for is not offered. Shown instead: {title}."
        yield say(sentence, choice=choice.title, title=title)


def _field(choice: Choice, design: Design, chosen: Chosen, offers: Offers, units: Units) -> Field:
    reasons = _reasons(choice, design, chosen, offers, units)
    titles = ((value, value_title(choice, value, units)) for value in choice.offer)
    return Field(
        choice=choice,
        value=query_text(choice, chosen[choice.name], units),
        title=value_title(choice, chosen[choice.name], units),
        options=tuple(
            (query_text(choice, value, units), marked(title, reasons.get(value, ""))) for value, title in titles
        ),
    )


def _reasons(choice: Choice, design: Design, chosen: Chosen, offers: Offers, units: Units) -> dict[Value, str]:
    """Why values cannot be had: lengths with the count that is chosen, counts at the length, others with any pair."""
    lengths = tuple(range_of(design.length))
    counts = counts_of(design)
    if choice in design.others:
        offered = offers.values(chosen, choice, lengths, counts)
        missing = values_withheld(chosen, choice, design, offers, offered)
        return {value: reason_of_value(chosen, other, units) for value, other in missing.items()}
    if choice == design.count:
        line = offers.lines(chosen, (int(chosen[design.length.name]),), counts)[0]
        found = tuple(withheld(line, counts, () if line.counts else offers.lengths(chosen)))
        return {count: short_reason(each) for count in counts for each in found if each.holds(count)}
    return _reasons_of_lengths(design, chosen, offers, counts)


def _reasons_of_lengths(design: Design, chosen: Chosen, offers: Offers, counts: tuple[int, ...]) -> dict[Value, str]:
    """Why lengths cannot be had with the count that is chosen. The other counts are looked at there alone."""
    count = int(chosen[design.count.name]) if design.count else 0
    column = offers.lines(chosen, tuple(range_of(design.length)), (count,))
    rows = offers.lines(chosen, [each.length for each in column if not each.counts], counts)
    had = [each.length for each in (*column, *rows) if each.counts]
    told = ((row.length, each) for row in rows for each in withheld(row, counts, had) if each.holds(count))
    return {length: short_reason(each) for length, each in told}


def _facts(pattern: Pattern, units: Units) -> Iterator[tuple[str, str]]:
    finished, worn_at = pattern.finished, pattern.worn_at
    if finished.holes:
        yield say("To the middle hole"), reading(finished.length, units)
    else:
        yield say("Over all"), reading(finished.over_all, units)
    if len(worn_at) > 1:
        least, most = (tape_reading(each.fits, units) for each in (worn_at[0], worn_at[-1]))
        yield say("Fits girths from"), say("{least} to {most}", least=least, most=most)
    yield say("Weighs"), say("{grams} g", grams=round(finished.weight_mg / 1000))


def _refused(refusal: ChoiceRefused, default_units: Units, face: Face) -> Refused:
    design = refusal.design
    ways = []
    for way in refusal.ways:
        mended = canonical_texts(design, {**refusal.chosen, **way.changes}, default_units)
        sentence = way_out_document(design, refusal.chosen, way, default_units)["detail"]
        ways.append((sentence, here(f"{face.designs}/{design.name}{query_of(mended)}")))
    why = reason(refusal.why, design, refusal.chosen, default_units)
    return Refused(reason=why, ways=tuple(ways))


def _downloads(design: Design, chosen: Chosen, default_units: Units) -> Iterator[Download]:
    """What each form offers to take away, by its place on the page."""
    offered = [(form, each) for form in FORMS for each in form.downloads]
    for form, each in sorted(offered, key=lambda pair: get_args(Place).index(pair[1].place)):
        url = here(design_pattern_path(design, chosen, form.suffix, dict(parse_qsl(each.query)), default_units))
        yield Download(title=each.title, form=form.name, more=each.query, url=url)


def _page(html: str) -> Reply:
    return Reply(content=html.encode(), media_type=HTML, headers={"Content-Security-Policy": PAGE_POLICY})
