"""The words for keepers: closed by themselves, round the strap, or with their ends in a fold."""

from service.shop.goods import Nm
from service.strap.model.pattern import BETWEEN_KEEPERS, FIXED_KEEPERS, KEEPERS, Piece
from service.words import say, say_list
from service.workshop.bench.flat_words import FlatWords, seams_of
from service.workshop.bench.step import Deed
from service.workshop.names import called, several


class KeeperWords(FlatWords):
    """The words for the steps of one strap in which a keeper is bent, slipped on, tucked in or closed."""

    def _damp_keeper(self, keeper: Piece) -> str:
        told = "Dampen the {piece}, so that its corners do not crack."
        many = "Dampen the {piece}, so that their corners do not crack."
        return say(told if keeper.count == 1 else many, piece=several(keeper))

    def _close(self, keeper: Piece, what: str) -> str:
        """Loose keepers closed by themselves, to be slipped on."""
        lap = self._read(lap_of(keeper))
        if keeper.count == 1:
            return say(
                "Close the {piece} round the strap's width: lap its ends by {lap}, so that its holes "
                "meet, and rivet them with {what}.",
                piece=called(keeper.name),
                lap=lap,
                what=what,
            )
        return say(
            "Close each of the {pieces} round the strap's width: lap its ends by {lap}, so that its holes "
            "meet, and rivet them; it takes {what} in all.",
            pieces=several(keeper),
            lap=lap,
            what=what,
        )

    def _close_between(self, keeper: Piece, what: str) -> str:
        """What a keeper goes round lies inside it: its rivet is set over steel."""
        around = say("the strap and its lining") if self._pattern.piece("lining") else say("the strap")
        one = say("the {piece}", piece=called(keeper.name))
        return say(
            "Close {one} round {around}, over its mark{where} and with its lap behind: lap its ends by {lap}, so that "
            "its holes meet, slip a thin steel under the lap, and rivet it; it takes {what} in all.",
            where=self._where(keeper),
            one=one if keeper.count == 1 else say("each of the {pieces}", pieces=several(keeper)),
            around=around,
            lap=self._read(lap_of(keeper)),
            what=what,
        )

    def _where(self, keeper: Piece) -> str:
        """Nothing where they are all alike; else where those of one length go."""
        if not self._pattern.piece(BETWEEN_KEEPERS[1]):
            return ""
        if keeper.name == BETWEEN_KEEPERS[0] and keeper.count > 2:
            return say(" wherever the strap has its full width")
        return say(" at {places}", places=say_list(self._read(self._features[mark].x) for mark in keeper.at))

    def _tuck(self, step: Deed) -> str:
        """Room for the tip is left by a scrap of the strap, which is drawn out again."""
        keeper = self._piece(step.pieces[-1])
        one = say("the {piece}", piece=called(keeper.name))
        pieces = one if keeper.count == 1 else say("each of the {pieces}", pieces=several(keeper))
        at = say_list(self._read(x) for x in self._under_fixed(step))
        around = say(
            "round the front ply of the {which} and a scrap of strap on it, for the tip", which=self._which_end(step)
        )
        if not keeper.features:
            return say(
                "Bend {pieces}, grain side out, {around}, over its mark at {at}: its ends meet behind it, in the "
                "middle of the flesh side.",
                pieces=pieces,
                around=around,
                at=at,
            )
        return say(
            "Bend {pieces}, grain side out, {around}: lap its ends by {lap} on the flesh side, so that its holes lie "
            "on the strap's at {at}.",
            pieces=pieces,
            around=around,
            lap=self._read(lap_of(keeper)),
            at=at,
        )

    def _under_fixed(self, step: Deed) -> list[Nm]:
        """Where on the front ply fixed keepers lie: at the fold's rivets that go through them, or at their marks."""
        piece, keeper, is_foot = self._piece(step.pieces[0]), self._piece(step.pieces[-1]), self._is_foot(step)
        folds = [each.x for each in piece.features if each.purpose == "fold_line"]
        fold, holes = max(folds) if is_foot else min(folds), {each.id for each in keeper.features}
        met = [each for each in piece.features if not holes.isdisjoint(each.mates)]
        found = met or [each for each in piece.features if each.purpose == "fixed_keeper"]
        return sorted(each.x for each in found if (each.x < fold) is is_foot)

    def _in_gap(self, piece: Piece) -> str:
        """Where a collar ring lies between the two parts of a seam."""
        seams = seams_of(piece, min(each.x for each in piece.features if each.action == "fold"))
        if len(seams) < 2:
            return ""
        low, high = self._read(seams[0][1]), self._read(seams[1][0])
        return say(", to the gap of its seam, from {low} to {high}: no glue goes there", low=low, high=high)

    def _through_keepers(self, step: Deed, not_ring: str) -> str:
        """What a tail that is folded back passes through, and what it comes to lie over."""
        loose, fixed = (
            [several(self._piece(name)) for name in step.pieces if name in names] for names in (KEEPERS, FIXED_KEEPERS)
        )
        through = (
            say(", and pass the tail through the {keeper}{not_ring}", keeper=loose[0], not_ring=not_ring)
            if loose
            else ""
        )
        over = say(", over the ends of the {keeper}", keeper=fixed[0]) if fixed else ""
        return say("{through}{over}", through=through, over=over)


def lap_of(keeper: Piece) -> Nm:
    """By how much a keeper's ends lie over one another once its two holes meet."""
    holes = [feature.x for feature in keeper.features]
    return min(holes) + keeper.length - max(holes)
