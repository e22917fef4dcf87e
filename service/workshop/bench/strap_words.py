"""What the sentences of all steps of one strap say alike: its pieces, ends and lengths, and what the shop uses up."""

from service.shop.goods import Nm
from service.shop.shop import Shop
from service.strap.model.pattern import BETWEEN_KEEPERS, Pattern, Piece
from service.strap.plane.lengths import reading, tape_reading
from service.words import say, say_list
from service.workshop.bench.step import Deed
from service.workshop.names import called, several


class StrapWords:
    """The words for one strap."""

    def __init__(self, pattern: Pattern, shop: Shop) -> None:
        self._pattern = pattern
        self._shop = shop
        self._units = pattern.spec.units
        self._pieces: dict[str, Piece] = {piece.name: piece for piece in pattern.pieces}
        self._features = {each.id: each for piece in pattern.pieces for each in piece.features}
        self._named: dict[tuple[str, ...], str] = {}
        self._lines = {line.id: line for piece in pattern.pieces for line in piece.stitch_lines}

    def _piece(self, name: str) -> Piece:
        return self._pieces[name]

    def _names(self, step: Deed) -> str:
        if step.pieces not in self._named:
            self._named[step.pieces] = self._all(step.pieces)
        return self._named[step.pieces]

    def _all(self, names: tuple[str, ...]) -> str:
        """So many pieces; keepers between ornaments of several lengths together."""
        keepers = [self._piece(name) for name in names if name in BETWEEN_KEEPERS]
        others = [several(self._piece(name)) for name in names if name not in BETWEEN_KEEPERS]
        if len(keepers) > 1:
            told = say(
                "{count} keepers between ornaments of {lengths} lengths",
                count=sum(keeper.count for keeper in keepers),
                lengths=len(keepers),
            )
            return say_list([*others, told])
        return say_list([several(self._piece(name)) for name in names])

    def _read(self, length: Nm) -> str:
        return reading(length, self._units)

    @property
    def _covers(self) -> bool:
        lining = self._pattern.piece("lining")
        return lining is not None and lining.purpose == "cover"

    def _end_of(self, name: str, *, is_foot: bool) -> str:
        """The place at which a piece ends."""
        return self._read(self._piece(name).length) if is_foot else "0"

    def _which_end(self, step: Deed) -> str:
        """An open strap may be folded at both ends: its first one is at the 0 of its places."""
        piece = self._piece(step.pieces[0])
        if self._pattern.is_buckled or piece is not self._pattern.pieces[0]:
            return called(piece.name)
        return say("{piece}'s last end" if self._is_foot(step) else "{piece}'s first end", piece=called(piece.name))

    def _is_foot(self, step: Deed) -> bool:
        """Whether what is done at a fold, or at what holds one, is done nearer the piece's last end."""
        piece = self._piece(step.pieces[0])
        mine = (self._features[each] for each in step.features if each.startswith(f"{piece.name}."))
        return self._pattern.is_at_foot(piece, *mine)

    def _joined(self) -> str:
        """What its joining strap makes of it."""
        joined = self._pattern.finished.joined
        if joined is None:
            return ""
        least, most = (tape_reading(length, self._units) for length in (joined.least, joined.most))
        return say("; from {least} to {most} all round, closed by the joining strap", least=least, most=most)
