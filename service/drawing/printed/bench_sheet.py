"""The bench sheet: everything that is done to make one strap, in the order of the bench, for reading in black."""

from collections.abc import Iterator, Sequence

from service.drawing import words
from service.drawing.end_words import form_words
from service.drawing.parts.callouts import letters
from service.drawing.parts.panel import Panel
from service.drawing.printed.document import SheetPages
from service.drawing.printed.flow import Block, Column, Heading, Prose, Table, flow_on
from service.drawing.printed.material_table import material_table
from service.drawing.printed.order import ordered
from service.drawing.printed.pages import Tools
from service.drawing.printed.paper import Sheet
from service.drawing.printed.plan import TITLE
from service.drawing.printed.stations_text import station_lines
from service.drawing.sizes import Sizes
from service.shop.shop import Shop, Units
from service.strap.model.pattern import Feature, Finished, Pattern, Piece, PieceName
from service.strap.plane.lengths import reading, tape_reading
from service.words import say
from service.workshop.bench.step import Op, Step
from service.workshop.materials import Order
from service.workshop.names import called, cut_over, end_to_end, item_title, long_reading, tool_title

SIZES = Sizes(3.3)
_BOX = "□"
_FOR = {
    "buckle": "buckle end", "foot_buckle": "last end", "head": "first end", "foot": "last end",
    "between": "between ornaments", "border": "along the edges", "lead_ring": "behind the buckle",
}  # fmt: skip


def bench_pages(blocks: Sequence[Block], sheet: Sheet) -> SheetPages:
    """The pages of the bench sheet, without what stands on every page."""
    return flow_on(blocks, sheet, say("Bench sheet"), SIZES)


def bench_blocks(
    pattern: Pattern,
    shop: Shop,
    units: Units,
    steps: Sequence[Step],
    cautions: Sequence[str],
    tools: Tools,
    plan: Panel | None = None,
) -> Iterator[Block]:
    """Everything on the sheet, in order, with a `plan` of the pages that these have no room for."""
    lettered = tuple((letters(index), piece) for index, piece in enumerate(pattern.pieces))
    yield Heading(say("Bench sheet: {strap}, {shop}", strap=words.strap_title(pattern).lower(), shop=shop.name))
    yield Table((Column("Ordered", weight="bold"), Column("", rest=True)), ordered(pattern, shop, units))
    if plan:
        yield from (Heading(TITLE), plan)
    yield Heading(say("Cut list"))
    yield _cut_list(lettered, units)
    yield Heading("Material")
    yield material_table([Order(pattern=pattern)], shop, units)
    yield Heading(say("Work, in order"))
    yield Prose(
        say(
            "Places are read along the centre line from each piece's 0, its first end: {zeros}; "
            "{about}. {faces} Scribe each centre line, and prick each centre by ruler or through "
            "the paper, before it is punched. Small letters are those of the pattern pages.",
            zeros=_zeros(pattern),
            about=_about(units),
            faces=_faces(pattern),
        )
    )
    yield _work(lettered, steps, tools, shop, units)
    yield Heading(say("Hardware to lay out"))
    yield _hardware(pattern, shop, units)
    yield Prose(_beside(steps))
    yield Heading(say("Measure after assembly"))
    yield from _measures(pattern, units)
    yield Heading("Cautions")
    yield from (Prose(text, sign="•") for text in cautions)


def _faces(pattern: Pattern) -> str:
    but = say(", the lining with its flesh side") if pattern.piece("lining") else ""
    return say("Every piece lies with its grain side up{but}.", but=but)


_ZEROS: dict[PieceName, str] = {
    "buckle_billet": "the buckle billet's tail, which is folded back",
    "tongue_billet": "the tongue billet's end over the body",
    "keeper": "either end of the keeper",
    "head_keeper": "either end of the first end's keeper",
    "foot_keeper": "either end of the last end's keeper",
    "fixed_keeper": "either end of the fixed keeper",
    "foot_fixed_keeper": "either end of the last end's fixed keeper",
    "head_billet": "the first end's billet's outer end",
    "head_buckle_billet": "the first end's buckle billet's tail, which is folded back",
    "head_tongue_billet": "the first end's tongue billet's tip",
    "foot_billet": "the last end's billet's end over the body",
    "foot_buckle_billet": "the last end's buckle billet's end over the body",
    "foot_tongue_billet": "the last end's tongue billet's end over the body",
}
_LEFT = "on the left of the drawing"
_HEAD_BILLETS: tuple[PieceName, ...] = ("buckle_billet", "head_billet", "head_buckle_billet", "head_tongue_billet")


def _zeros(pattern: Pattern) -> str:
    """Which end of each piece is its first one."""
    head = pattern.ends.head
    if pattern.piece("body") is None:
        which = say(" of the first end") if pattern.ends.foot.kind == "buckle" else ""
        return (
            say("the tail that is folded back round the buckle{which}", which=which) if head.kind == "buckle" else _LEFT
        )
    under = next(name for name in (*_HEAD_BILLETS, None) if name is None or pattern.piece(name))
    body = (
        say("the body's end under the {under}", under=called(under)) if under else say("the body's, {left}", left=_LEFT)
    )
    return "; ".join((body, *(say(_ZEROS[piece.name]) for piece in pattern.pieces if piece.name in _ZEROS)))


_STOCK: dict[Op, str] = {"glue": "leather glue", "dye": "edge dye", "stitch": "needles and wax"}


def _beside(steps: Sequence[Step]) -> str:
    """What no list counts, since a bench has it."""
    spares = [say("one spare of each for the try on the offcut")] if any(step.op == "test" for step in steps) else []
    stock = [name for op, name in _STOCK.items() if any(step.op == op for step in steps)]
    return say("Beside these: {value}.", value=", ".join([*spares, *stock]))


def _about(units: Units) -> str:
    nearest, tape = ("1/64 in", "1/16 in") if units == "in" else ("0.1 mm", "1 mm")
    return say(
        "≈ is the nearest {nearest}, of finished lengths and girths, which are read off a tape, the nearest {tape}",
        nearest=nearest,
        tape=tape,
    )


def _cut_list(lettered: Sequence[tuple[str, Piece]], units: Units) -> Table:
    columns = (
        Column("", weight="bold"),
        Column("Piece"),
        Column("Leather", rest=True),
        Column(say("Strap cutter")),
        Column("Length"),
        Column(say("Ends: first, last"), most=0.4),
    )
    rows = tuple(
        (
            letter,
            words.PIECES[piece.name] if piece.count == 1 else f"{piece.count} × {words.PIECES[piece.name]}",
            f"{piece.leather.title}, {reading(piece.thickness, 'mm')}",
            reading(piece.cut_width, units),
            "\n".join(reading(strip.cut_length, units) for strip in piece.strips),
            _ends(piece, units),
        )
        for letter, piece in lettered
    )
    return Table(columns, rows)


def _ends(piece: Piece, units: Units) -> str:
    if not piece.has_edges:
        return ", ".join(filter(None, (cut_over(piece, units), say("trimmed once it is glued"))))
    forms = [form_words(form, units) for form in (piece.outline.head, piece.outline.foot)]
    if piece.rise:
        forms.append(say("rises {rise} over the backs", rise=reading(piece.rise, units)))
        forms.append(say("{length} made up", length=reading(piece.length, units)))
    return "\n".join(forms)


def _work(
    lettered: Sequence[tuple[str, Piece]], steps: Sequence[Step], tools: Tools, shop: Shop, units: Units
) -> Table:
    by_id = {feature.id: feature for _, piece in lettered for feature in piece.features}
    rows = []
    for step in steps:
        letter = tools.letter_of.get(step.features[0], "") if step.op == "punch" else ""
        tool = tool_title(step.tool, shop) if step.tool else ""
        told = [step.do]
        if step.op in ("punch", "mark"):
            told = [_verb(by_id[step.features[0]], step), *station_lines(lettered, step.features, shop, units)]
        rows.append((f"{_BOX} {step.n}", f"{letter}  {tool}" if letter else tool, "\n".join(told)))
    columns = (Column("", weight="bold"), Column("Tool", most=0.24), Column(say("What, and where"), rest=True))
    return Table(columns, tuple(rows))


def _verb(sample: Feature, step: Step) -> str:
    both = say(" through both plies") if step.plies else ""
    if sample.action == "mark":
        return say("Mark with a small cross, never punch:")
    if sample.method == "holes_and_cuts":
        return say(
            "This shop has no punch for these: punch a hole at each end, then two knife cuts between{both}:", both=both
        )
    return f"Punch{both}:"


def _hardware(pattern: Pattern, shop: Shop, units: Units) -> Table:
    columns = (Column("", weight="bold"), Column("Count"), Column("Item", most=0.6), Column("For", rest=True))
    rows = []
    for line in pattern.hardware:
        length = f", {long_reading(line.length, units)}" if line.length is not None else ""
        where = _FOR.get(line.purpose, called(line.purpose))
        if line.purpose == "buckle" and not pattern.is_buckled:
            where = say(_FOR["head"])
        rows.append((_BOX, str(line.count), item_title(line.item, shop) + length, where))
    return Table(columns, tuple(rows) or (("", "0", "nothing", ""),))


def _measures(pattern: Pattern, units: Units) -> Iterator[Block]:
    finished = pattern.finished
    if finished.joined:
        yield from _joined(pattern, units)
        return
    near = _near(units)
    if not finished.holes:
        yield Prose(say("Flat. Within {near} of it is good.", near=near))
        yield Table(_MEASURED, (*_between_ends(pattern, units), *_tips(finished, units), *_over_all(pattern, units)))
        return
    each, span = _sizes(pattern)
    yield Prose(say("Flat, {span}. Within {near} of it is good.", span=span, near=near))
    rows, middle = list(_holes(each, pattern, units)), finished.nominal_hole
    if pattern.is_buckled:
        lengths = {"fold": finished.from_fold, "bar": finished.from_bar, "frame": finished.from_frame}
        for datum, length in lengths.items():
            if datum != finished.measured_from:
                rows.append(
                    (
                        say("hole {middle}, {datums}", middle=middle, datums=say(words.DATUMS[datum])),
                        tape_reading(length, units),
                        "",
                        _BOX,
                    )
                )
    rows += [(to, length, "", box) for to, length, box in _over_all(pattern, units)]
    yield Table(_BUCKLED, tuple(rows))


def _near(units: Units) -> str:
    return "1/8 in" if units == "in" else "3 mm"


def _between_ends(pattern: Pattern, units: Units) -> Iterator[tuple[str, str, str]]:
    """From end to end, and over both folds where the ends are bars."""
    finished = pattern.finished
    yield end_to_end(pattern), tape_reading(finished.length, units), _BOX
    if finished.measured_from == "bar":
        yield say("over the outer edges of both folds"), tape_reading(finished.from_fold, units), _BOX


def _holes(each: str, pattern: Pattern, units: Units) -> Iterator[tuple[str, str, str, str]]:
    """Each size, called `hole` or `stud`, with the girth that it fits."""
    finished, worn_at, meant = pattern.finished, pattern.worn_at, _meant(pattern)
    for hole in finished.sizes:
        yield (
            f"{each} {hole.hole}{meant if hole.hole == finished.nominal_hole else ''}",
            tape_reading(hole.length, units),
            tape_reading(hole.fits, units) if hole in worn_at else say("none, the tip lies up"),
            _BOX,
        )


def _meant(pattern: Pattern) -> str:
    """What is told of the hole or stud that the size is measured at."""
    count = len(pattern.finished.sizes)
    if pattern.is_snapped and count == 1:
        return ""
    return say(", the middle one" if count % 2 else ", at which the size is measured")


_TO_HOLE: dict[str, str] = {
    "ends": "from the other end to the centre of hole {hole}",
    "fold": "from the other end to the centre of hole {hole}",
    "bar": "from the axis of what the other end is folded round to the centre of hole {hole}",
    "frame": "from the outer edge of what the other end is folded round to the centre of hole {hole}",
}


def _tips(finished: Finished, units: Units) -> Iterator[tuple[str, str, str]]:
    """The holes of tips that are buckled to something else."""
    several = len({each.piece for each in finished.tip_holes}) > 1
    for each in finished.tip_holes:
        hole = say("{number} of the {piece}", number=each.hole, piece=called(each.piece)) if several else each.hole
        yield say(_TO_HOLE[finished.measured_from], hole=hole), tape_reading(each.length, units), _BOX


def _sizes(pattern: Pattern) -> tuple[str, str]:
    """What gives its sizes, and from where to where they are measured."""
    if pattern.is_snapped:
        return "stud", say("from the middle of each stud to that of the cap")
    return "hole", say("{datums} to the centre of each hole", datums=say(words.DATUMS[pattern.finished.measured_from]))


def _joined(pattern: Pattern, units: Units) -> Iterator[Block]:
    """Between its ends, and all round at each hole of its joining strap."""
    yield Prose(
        say(
            "Flat; at each hole all round, from bar to bar and back along the joining strap, which is buckled at the "
            "same hole at both its ends, counted from its middle. Within {near} of it is good.",
            near=_near(units),
        )
    )
    ends = (*_between_ends(pattern, units), *_over_all(pattern, units))
    yield Table(_BUCKLED, (*((to, length, "", box) for to, length, box in ends), *_holes("hole", pattern, units)))


def _over_all(pattern: Pattern, units: Units) -> Iterator[tuple[str, str, str]]:
    """Over all, where that was asked for."""
    if pattern.spec.size.overall_length is not None:
        yield say("over all, with what it is folded round"), tape_reading(pattern.finished.over_all, units), _BOX


_MEASURED = (Column("To", most=0.6, weight="bold"), Column("Length"), Column("Measured"))
_BUCKLED = (Column("To", most=0.5, weight="bold"), Column("Length"), Column("Fits a girth of"), Column("Measured"))
