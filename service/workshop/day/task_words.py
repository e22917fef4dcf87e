"""The tasks of a day in words: what is done to all straps as one sentence, and what to each of them as short lines."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator

from service.shop.shop import Shop, Units
from service.strap.model.pattern import Pattern, Piece, PieceName
from service.strap.plane.lengths import reading, tape_reading
from service.words import say, say_count, say_list
from service.workshop.bench.flat_words import tried_words
from service.workshop.bench.step import Op, Step
from service.workshop.day.merging import Part, Task
from service.workshop.names import called, item_title, several, tool_title, with_consumed

HEADS: dict[Op, str] = {
    "try": "Try each size in paper or string, where it will be worn.",
    "cut": "Cut to length.",
    "taper": "Cut the tapers.",
    "scallop": "Scallop the long edges.",
    "pink": "Pink the long edges.",
    "skive": "Skive.",
    "glue": "Glue.",
    "lay": "Lay linings behind.",
    "trim": "Trim linings flush.",
    "bevel": "Bevel the edges, front and back.",
    "dye": "Dye the edges, and let them dry.",
    "prick": "Prick the lines of stitches.",
    "mark": "Mark with a small cross, never punch.",
    "pierce": "Pierce through all plies.",
    "stitch": "Sew.",
    "lace": "Run laces behind.",
    "dampen": "Dampen what is folded, so that its grain does not crack.",
    "slip": "Slip on what is closed.",
    "tuck": "Tuck in fixed keepers, before the fold closes over them.",
    "fold": "Fold.",
    "measure": "Measure, and look each strap over.",
}
"""What is done, of each way of working that needs no more than its name."""
_EDGED: tuple[Op, ...] = ("bevel", "dye", "burnish", "finish")


class TaskWords:
    """The words for the tasks of one day; `units` are those of what is summed over several straps."""

    def __init__(self, shop: Shop, units: Units) -> None:
        self._shop = shop
        self._units = units
        self._by_op: dict[Op, Callable[[Task], str]] = {
            "test": self._test, "strip": self._strip, "shape": self._shape, "burnish": self._burnish,
            "finish": self._finish, "punch": self._punch, "set": self._set, "rivet": self._rivet,
        }  # fmt: skip
        self._short: dict[Op, Callable[[Part], Iterable[str]]] = {
            "test": lambda _: (),
            "try": lambda part: (size_words(part.job.pattern),),
            "strip": lambda part: (self._strips(part, step) for step in part.steps),
            "cut": lambda part: _joined(self._cut(part.job.pattern, step) for step in part.steps),
            "set": lambda part: _joined(self._places(step) for step in part.steps),
            **dict.fromkeys(_EDGED, self._edged),
        }

    def head(self, task: Task) -> str:
        """What is done to all straps, told to who does it."""
        told = self._by_op.get(task.setting.op)
        return told(task) if told else say(HEADS[task.setting.op])

    def lines(self, part: Part) -> tuple[str, ...]:
        """What is done to one strap: only what the task has not said; its own sentences where they say more."""
        op = part.steps[0].op
        if op == "set" and any(step.uses[0].item in self._shop.snaps for step in part.steps):
            return tuple(step.do for step in part.steps)
        told = self._short.get(op)
        return tuple(told(part)) if told else tuple(step.do for step in part.steps)

    def _test(self, task: Task) -> str:
        pieces = [piece for part in task.parts for piece in part.job.pattern.pieces]
        return say(
            "On offcuts of {leathers}, in as many plies as on the straps, {tried}. Go on once all of it is clean and "
            "holds.",
            leathers=say_list(dict.fromkeys(piece.leather.title for piece in pieces)),
            tried=tried_words(pieces, self._shop),
        )

    def _strip(self, task: Task) -> str:
        lengths = [(part, step, piece) for part in task.parts for step, piece in _cut_from(part)]
        _, _, first = lengths[0]
        total = sum(part.job.quantity * piece.count * _long(piece) for part, _, piece in lengths)
        units = self._units_of(part for part, _, _ in lengths)
        return say(
            "Set the strap cutter to {width} and cut {total} of strip from {leather}.",
            width=reading(first.cut_width, units),
            total=reading(total, units),
            leather=first.leather.title,
        )

    def _units_of(self, parts: Iterable[Part]) -> Units:
        """Those of the straps, where they have the same."""
        units = {part.job.pattern.spec.units for part in parts}
        return units.pop() if len(units) == 1 else self._units

    def _shape(self, task: Task) -> str:
        return say("Shape ends with the {tool}.", tool=tool_title(task.setting.tool, self._shop))

    def _burnish(self, _: Task) -> str:
        return say("Slick and burnish the edges{goods}.", goods=with_consumed("edge_m", self._shop))

    def _finish(self, _: Task) -> str:
        return say("Dress the grain side{goods}, and let it dry.", goods=with_consumed("leather_m2", self._shop))

    def _punch(self, task: Task) -> str:
        title = tool_title(task.setting.tool, self._shop)
        if task.setting.what == ("one_punch",):
            return say("Punch with the {title}.", title=title)
        return say(
            "This shop has no slot punch for these: punch a round hole at each end of the slot with the {title} and "
            "make two knife cuts between.",
            title=title,
        )

    def _set(self, task: Task) -> str:
        item, count = str(task.setting.what[0]), _used(task)
        how = say("Set") if item in self._shop.snaps else say(self._shop.ornaments[item].fixing.do)
        return say("{how} {count} × {item}.", how=how, count=count, item=item_title(item, self._shop))

    def _rivet(self, task: Task) -> str:
        item, count = str(task.setting.what[0]), _used(task)
        told = "Screw with {count} × {item}." if self._shop.fasteners[item].is_screw else "Rivet with {count} × {item}."
        return say(told, count=count, item=item_title(item, self._shop))

    def _edged(self, part: Part) -> tuple[str, ...]:
        return tuple(self._names(part, step.pieces) for step in part.steps)

    def _names(self, part: Part, names: Iterable[PieceName]) -> str:
        return say_list(several(piece) for piece in part.job.pattern.pieces if piece.name in names)

    def _strips(self, part: Part, step: Step) -> str:
        units = part.job.pattern.spec.units
        pieces = [piece for _, piece in _cut_from(part) if piece.name in step.pieces]
        told = reading(sum(piece.count * _long(piece) for piece in pieces), units)
        each = say("{length} for {pieces}", length=told, pieces=self._names(part, step.pieces))
        return each if part.job.quantity == 1 else say("{each}, each", each=each)

    def _cut(self, pattern: Pattern, step: Step) -> str:
        """A piece and its length; what is cut over or in several strips in its own sentence."""
        piece = pattern.piece(step.pieces[0])
        if piece is None or piece.over or piece.rise or piece.splices:
            return step.do
        return say("{piece} {length}", piece=several(piece), length=reading(piece.cut_length, pattern.spec.units))

    def _places(self, step: Step) -> str:
        held = Counter({goods.item: goods.count for goods in step.uses[1:]})
        on = say("{count} on the {piece}", count=step.uses[0].count, piece=called(step.pieces[0]))
        titles = [f"{count} × {item_title(item, self._shop)}" for item, count in held.items()]
        return say("{on}, with {fasteners}", on=on, fasteners=say_list(titles)) if titles else on


def _used(task: Task) -> int:
    """How many of what a task sets, for all its straps."""
    return sum(part.job.quantity * step.uses[0].count for part in task.parts for step in part.steps)


def _joined(told: Iterable[str]) -> tuple[str, ...]:
    """Short things on one line; whole sentences each on its own."""
    said = list(told)
    short = [each for each in said if not each.endswith(".")]
    whole = [each for each in said if each.endswith(".")]
    return (*([", ".join(short)] if short else []), *whole)


def _cut_from(part: Part) -> Iterator[tuple[Step, Piece]]:
    for step in part.steps:
        for piece in part.job.pattern.pieces:
            if piece.name in step.pieces:
                yield step, piece


def _long(piece: Piece) -> int:
    """All that is cut off a strip for one of a piece."""
    return sum(strip.cut_length for strip in piece.strips)


def size_words(pattern: Pattern) -> str:
    """What a strap fits, or how long it is: `M, fits 12 1/2 to 14 in`."""
    units = pattern.spec.units
    fits = pattern.worn_at
    label = f"{pattern.size_label}, " if pattern.size_label else ""
    if not fits:
        return label + say("{length} long", length=tape_reading(pattern.finished.length, units))
    if len(fits) == 1:
        return label + say("fits {girth}", girth=tape_reading(fits[0].fits, units))
    return label + say(
        "fits {least} to {most}", least=tape_reading(fits[0].fits, units), most=tape_reading(fits[-1].fits, units)
    )


def how_many(count: int) -> str:
    """`1 strap`, `7 straps`."""
    return say_count("{count} strap", "{count} straps", count)
