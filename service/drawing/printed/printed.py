"""What is printed for one strap: its pattern on pages, and behind it the bench sheet."""

from collections import Counter
from collections.abc import Sequence

from service.drawing import words
from service.drawing.description import description
from service.drawing.parts.callouts import letters
from service.drawing.parts.chosen import chosen
from service.drawing.printed.bench_sheet import bench_blocks, bench_pages
from service.drawing.printed.document import BenchSheet, Document
from service.drawing.printed.furniture import furnished
from service.drawing.printed.pages import Tools, pattern_pages
from service.drawing.printed.paper import PaperName, margin_on, upright
from service.shop.shop import Shop, Units
from service.strap.model.pattern import Pattern
from service.strap.plane.lengths import tape_reading
from service.words import say, say_list, within
from service.workshop.bench.step import Step
from service.workshop.cautions import cautions
from service.workshop.names import purpose_title, tool_title
from service.workshop.steps import steps


def printed(
    pattern: Pattern, shop: Shop, *, paper: PaperName, piece: str | None, units: Units, sheet: BenchSheet
) -> Document:
    """The pages for a printer. Raises `UnknownPiece` and `PaperTooSmall`."""
    said = pattern.in_units(units)
    work = steps(said, shop)
    tools = tools_of(pattern, work, shop)
    pieces = chosen(pattern, piece)
    drawn = None if sheet == "only" else pattern_pages(pattern, paper, shop.paper, piece, units, tools)
    pages = drawn.with_plan if drawn and sheet == "false" else drawn.pages if drawn else ()
    if sheet != "false":
        side = upright(paper, margin_on(paper, shop.paper))
        plan = drawn.plan if drawn else None
        pages += bench_pages(tuple(bench_blocks(pattern, shop, units, work, cautions(said, shop), tools, plan)), side)
    name = title(pattern, shop, units)
    return Document(name, description(pieces, shop, units), words.LANGUAGE, furnished(pages, name, shop))


def title(pattern: Pattern, shop: Shop, units: Units) -> str:
    """One line: whose it is, the construction and its finished length."""
    made = words.strap_title(pattern)
    return say(
        "{shop}: {made}, {length} finished",
        shop=shop.name,
        made=within(made),
        length=tape_reading(pattern.finished.length, units),
    )


def tools_of(pattern: Pattern, work: Sequence[Step], shop: Shop) -> Tools:
    """A letter for every punch, in the order in which the bench picks them up; a fold is called so."""
    actions = {each.id: each.action for piece in pattern.pieces for each in piece.features}
    letter_of = {name: "fold" for name, action in actions.items() if action == "fold"}
    titles: list[tuple[str, str]] = []
    uses = Counter(step.tool for step in work if step.op == "punch")
    for step in work:
        if step.op == "punch":
            letter = letters(len(titles)).lower()
            used = say(" for {punched}", punched=_punched(step, pattern)) if uses[step.tool] > 1 else ""
            titles.append((letter, tool_title(step.tool or "", shop) + used))
            letter_of |= dict.fromkeys(step.features, letter)
    return Tools(letter_of, tuple(titles))


def _punched(step: Step, pattern: Pattern) -> str:
    """What a tool cuts in this step, where it is picked up for more than one."""
    purposes = {each.id: each.purpose for piece in pattern.pieces for each in piece.features}
    told = dict.fromkeys(purpose_title(purposes[name]) for name in step.features)
    return say("{holes} through both plies" if step.plies else "{holes}", holes=say_list(told))
