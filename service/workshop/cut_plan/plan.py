"""The whole of a cut plan: leather by leather, solve, gather widths, and give every place its piece."""

from collections import defaultdict, deque
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain, repeat

from service.shop.goods import Leather, Nm
from service.workshop.cut_plan.batch import Hide, HideCut, StripCut
from service.workshop.cut_plan.effort import Effort
from service.workshop.cut_plan.grouping import gathered, in_order, settings
from service.workshop.cut_plan.model import (
    CutPlan,
    Habits,
    LeatherPlan,
    Missing,
    More,
    Offcut,
    PlacedPiece,
    Sheet,
    Stock,
    Strip,
    Tally,
    Wanted,
)
from service.workshop.cut_plan.one_leather import Split, fits, sizes_in_stock, split

_Queues = dict[tuple[int, int], deque[Wanted]]


def plan_cuts(
    wanted: Sequence[Wanted],
    stock: Sequence[Stock],
    habits: Habits,
    leathers: Mapping[str, Leather],
    effort: Effort,
) -> CutPlan:
    """The plan of a batch. Least leather used, then fewest settings of the strap cutter.

    `leathers` are the shop's: their sizes say how much more would do where no hide in stock is large enough.
    """
    names = tuple(dict.fromkeys(piece.leather for piece in wanted))
    plans: list[LeatherPlan] = []
    shares: list[Effort] = []
    strips = 0
    for done, name in enumerate(names):
        shares.append(effort.share(len(names) - done))
        pieces = [piece for piece in wanted if piece.leather == name]
        entries = [each for each in stock if each.leather == name]
        plans.append(_LeatherPlanner(leathers[name], entries, habits, shares[-1]).plan(pieces, strips))
        strips += sum(len(sheet.strips) for sheet in plans[-1].sheets)
    cut_short = any(share.cut_short for share in shares)
    return CutPlan(leathers=tuple(plans), habits=habits, cut_short=cut_short)


@dataclass(frozen=True, slots=True)
class _LeatherPlanner:
    leather: Leather
    stock: Sequence[Stock]
    habits: Habits
    effort: Effort

    def plan(self, pieces: Sequence[Wanted], first_strip: int) -> LeatherPlan:
        """This leather's plan; its strips are numbered from `first_strip` + 1."""
        sizes = sizes_in_stock(self.stock, self.habits.kerf)
        able: list[Wanted] = []
        unable: list[Wanted] = []
        for piece in pieces:
            (able if any(fits(piece, hide, self.habits.kerf) for hide in sizes) else unable).append(piece)
        solved = split(able, list(sizes), self.habits, self.effort.share(2 if unable else 1))
        cuts = in_order(gathered(solved.cuts, self.effort))
        queues = _queues(able, self.habits.kerf)
        sheets = tuple(self._sheets(cuts, sizes, queues, first_strip))
        used = Tally(sheets=len(sheets), area=sum(sheet.area for sheet in sheets))
        left = {id(piece) for queue in queues.values() for piece in queue}
        missing = [Missing(wanted=piece, why="stock_used_up") for piece in able if id(piece) in left]
        return LeatherPlan(
            leather=self.leather.id,
            sheets=sheets,
            used=used,
            lower_bound=_bound(solved, used, sizes),
            proven=solved.proven,
            settings=settings(cuts),
            missing=(*missing, *(Missing(wanted=piece, why="fits_no_sheet") for piece in unable)),
            more=(*self._more(solved, sizes), *self._bought(unable)),
        )

    def _sheets(
        self, cuts: Sequence[HideCut], sizes: Mapping[Hide, list[Stock]], queues: _Queues, strip: int
    ) -> Iterator[Sheet]:
        entries = {hide.key: chain.from_iterable(repeat(e, e.count) for e in found) for hide, found in sizes.items()}
        taken: dict[str, int] = defaultdict(int)
        for cut in cuts:
            stock = next(entries[cut.hide.key])
            taken[stock.id] += 1
            yield self._sheet(stock, taken[stock.id], cut, queues, strip)
            strip += len(cut.strips)

    def _sheet(self, stock: Stock, n: int, cut: HideCut, queues: _Queues, done: int) -> Sheet:
        y, strips = stock.straighten, []
        for number, strip in enumerate(cut.strips, done + 1):
            pieces = tuple(self._pieces(stock, strip, queues))
            strips.append(Strip(n=number, width=strip.width - self.habits.kerf, from_y=y, pieces=pieces))
            y += strip.width
        offcuts = [self._strip_rest(stock, strip) for strip in strips]
        rest = Offcut(of="hide", from_x=0, from_y=y, length=stock.length, width=stock.width - y)
        kept = tuple(offcut for offcut in (*offcuts, rest) if self._worth_keeping(offcut))
        return Sheet(stock=stock, n=n, strips=tuple(strips), offcuts=kept)

    def _pieces(self, stock: Stock, strip: StripCut, queues: _Queues) -> Iterator[PlacedPiece]:
        x = stock.end_trim
        for length in strip.lengths:
            yield PlacedPiece(wanted=queues[strip.width, length].popleft(), from_x=x)
            x += length

    def _strip_rest(self, stock: Stock, strip: Strip) -> Offcut:
        last = strip.pieces[-1]
        x = last.from_x + last.wanted.length + self.habits.kerf
        length = stock.length - stock.end_trim - x
        return Offcut(of="strip", from_x=x, from_y=strip.from_y, length=length, width=strip.width)

    def _worth_keeping(self, offcut: Offcut) -> bool:
        least_length, least_width = max(1, self.habits.offcut_length), max(1, self.habits.offcut_width)
        return offcut.length >= least_length and offcut.width >= least_width

    def _more(self, solved: Split, sizes: Mapping[Hide, list[Stock]]) -> Iterator[More]:
        """How many more hides like one in stock would hold what is left."""
        if not solved.more or solved.spare is None:
            return
        spare = solved.spare
        like = next(
            (entries[0] for hide, entries in sizes.items() if (hide.length, hide.width) == (spare.length, spare.width)),
            None,
        )
        yield More(
            leather=self.leather.id,
            stock=like.id if like else None,
            length=like.length if like else spare.length - self.habits.kerf,
            width=like.width if like else spare.width - self.habits.kerf,
            count=solved.more,
            at_least=solved.more_at_least,
        )

    def _bought(self, pieces: Sequence[Wanted]) -> Iterator[More]:
        """How many hides of the size that the shop buys would hold pieces that fit no hide in stock."""
        length, width, kerf = self.leather.strip_length, self.leather.usable_width, self.habits.kerf
        hide = Hide(length + kerf, width + kerf, len(pieces), length * width, 0)
        able = [piece for piece in pieces if fits(piece, hide, kerf)]
        if able:
            solved = split(able, [hide], self.habits, self.effort)
            at_least = solved.area_bound // hide.cost
            yield More(
                leather=self.leather.id,
                stock=None,
                length=length,
                width=width,
                count=len(solved.cuts),
                at_least=at_least,
            )


def _queues(pieces: Sequence[Wanted], kerf: Nm) -> _Queues:
    """Pieces of one size in the order of the request: whoever asked first is served first."""
    queues: _Queues = defaultdict(deque)
    for piece in pieces:
        queues[piece.width + kerf, piece.length + kerf].append(piece)
    return queues


def _bound(solved: Split, used: Tally, sizes: Mapping[Hide, list[Stock]]) -> Tally:
    """What no plan of the pieces that are placed is below, as area and as hides, the largest first."""
    area = min(solved.area_bound, used.area)
    rest, sheets = area, 0
    for hide in sorted(sizes, key=lambda hide: -hide.cost):
        needed = min(hide.count, -(-rest // hide.cost))
        sheets, rest = sheets + needed, rest - needed * hide.cost
        if rest <= 0:
            break
    return Tally(sheets=sheets, area=area)
