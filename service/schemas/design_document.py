"""Designs as JSON data: what there is, what a buyer may choose, and what of it can be made."""

from collections.abc import Iterable, Mapping
from typing import Any

from service.schemas.answers.designs import (
    ChoiceDocument,
    ChoicesDocument,
    DesignDocument,
    MakeableDocument,
    OfferDocument,
    WithheldValueDocument,
)
from service.schemas.answers.problem import ChangeDocument, RemedyDocument
from service.schemas.choosing import chosen_document, design_units, json_value, query_text, value_title
from service.schemas.problem import pointer
from service.schemas.readings import mm, read
from service.schemas.withheld import reason_of_value, short_reason
from service.shop.designs import Choice, Chosen, Design, Options, Range, Value, range_of
from service.shop.shop import Units
from service.strap.plane.lengths import exact_text
from service.words import say
from service.workshop.offers import Line, WayOut
from service.workshop.withheld import Withheld


def design_document(
    design: Design, default_units: Units, sizes: Iterable[str], price: str | None, quotes: str | None
) -> DesignDocument:
    """One design: its base spec with the defaults set, its choices and sizes, where prices are asked for."""
    units = design_units(design, default_units)
    return {
        "name": design.name,
        "title": design.title,
        "about": design.about,
        "units": units,
        "spec": chosen_document(design, design.defaults(), default_units),
        "choices": [_choice(each, units) for each in design.choices],
        "along": design.length.name,
        "count": design.count.name if design.count else None,
        "sizes": list(sizes),
        "price": price,
        "quotes": quotes,
    }


def _choice(choice: Choice, units: Units) -> ChoiceDocument:
    offer = choice.offer
    return {
        "name": choice.name,
        "title": choice.title,
        "pointer": pointer(choice.path),
        **(_values(choice, offer, units) if isinstance(offer, Options) else _range(choice, offer, units)),
    }


def _values(choice: Choice, offer: Options, units: Units) -> OfferDocument:
    return {
        "kind": "value",
        "values": [{"value": _said(choice, option.value, units), "title": option.title} for option in offer.options],
        "default": _said(choice, offer.default, units),
    }


def _range(choice: Choice, offer: Range, units: Units) -> OfferDocument:
    """Counts as they are; each length as a text that is read back exactly, and in millimetres."""
    if not choice.is_length:
        return {"kind": "count", "from": offer.least, "to": offer.most, "step": offer.step, "default": offer.default}
    return {
        "kind": "length",
        "from": exact_text(offer.least, units),
        "to": exact_text(offer.most, units),
        "step": exact_text(offer.step, units),
        "default": exact_text(offer.default, units),
        "from_mm": mm(offer.least),
        "to_mm": mm(offer.most),
        "step_mm": mm(offer.step),
        "default_mm": mm(offer.default),
    }


def _said(choice: Choice, value: Value, units: Units) -> Value:
    """A value as a query has it, but a count as a number and a flag as one."""
    return query_text(choice, value, units) if choice.is_length else value


def choices_document(
    design: Design,
    given: Mapping[str, Value],
    lines: Iterable[tuple[Line, Iterable[Withheld]]],
    offered: Mapping[str, Iterable[Value]],
    missing: Mapping[str, list[WithheldValueDocument]],
    default_units: Units,
) -> ChoicesDocument:
    """What can be made of a design with these choices given: counts by length, and the values of each other choice.

    What cannot is there too, with a buyer's reason: the counts of each line, and in `missing` values of other choices.
    """
    units = design_units(design, default_units)
    length, count, step = design.length, design.count, range_of(design.length).step
    return {
        "design": design.name,
        "given": {name: _said(design.choice(name), value, units) for name, value in given.items()},
        "units": units,
        "along": length.name,
        "step_mm": mm(step),
        "step": read(step, units),
        "count": count.name if count else None,
        "count_step": range_of(count).step if count else None,
        "makeable": [_line(length, line, lacking, units) for line, lacking in lines],
        "offered": {
            name: [_said(design.choice(name), value, units) for value in values] for name, values in offered.items()
        },
        "withheld": dict(missing),
    }


def missing_documents(
    choice: Choice, missing: Mapping[Value, Choice | None], chosen: Chosen, units: Units
) -> list[WithheldValueDocument]:
    """Values of a choice that cannot be had, each with what is in its way, if it is one thing."""
    return [
        {"value": _said(choice, value, units), "reason": reason_of_value(chosen, other, units)}
        for value, other in missing.items()
    ]


def _line(choice: Choice, line: Line, lacking: Iterable[Withheld], units: Units) -> MakeableDocument:
    return {
        "length_mm": mm(line.length),
        "length": read(line.length, units),
        "value": query_text(choice, line.length, units),
        "counts": [list(each) for each in line.counts],
        "withheld": [{"counts": list(each.counts), "reason": short_reason(each)} for each in lacking],
    }


def way_out_document(design: Design, chosen: Chosen, way: WayOut, default_units: Units) -> RemedyDocument:
    """A way out of a refusal: its sentence, and the choices to change, as query texts and in the spec."""
    units = design_units(design, default_units)
    choices = [(design.choice(name), value) for name, value in way.changes.items()]
    said = [
        say(
            "{title}: {value} instead of {before}",
            title=choice.title,
            value=value_title(choice, value, units),
            before=value_title(choice, chosen[choice.name], units),
        )
        for choice, value in choices
    ]
    return {
        "detail": "; ".join(said) + ".",
        "changes": [_change(choice, value, units) for choice, value in choices],
    }


def _change(choice: Choice, value: Value, units: Units) -> ChangeDocument:
    return {
        "parameter": choice.name,
        "text": query_text(choice, value, units),
        "pointer": pointer(choice.path),
        "value": json_value(choice, value, units),
    }


def choice_at(design: Design, path: Iterable[str]) -> str | None:
    """The name of the choice that sets the member at a path, if one does."""
    place = tuple(path)
    return next((each.name for each in design.choices if each.path == place), None)


def canonical_texts(design: Design, chosen: Chosen, default_units: Units) -> list[tuple[str, Any]]:
    """Every choice with its one text, in the design's own order."""
    units = design_units(design, default_units)
    return [(each.name, query_text(each, chosen[each.name], units)) for each in design.choices]
