"""How ornaments are fixed: what each kind of fixing needs in the leather, how far it reaches, and how it is set.

Whoever lays out, checks, sets or charges an ornament asks its fixing, and knows none of them by name.
"""

from abc import ABC, abstractmethod
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import ClassVar, Literal, NamedTuple, Protocol, Self

from service.shop.goods import Fastener, Nm

SlotDirection = Literal["along", "across"]


class Reach(NamedTuple):
    """What a fixing has, and the least and the most that it may be, over the leather's whole range of thickness.

    Both are pairs of a figure and its limit.
    """

    least: tuple[Nm, Nm]
    most: tuple[Nm, Nm] | None = None

    @property
    def holds(self) -> bool:
        """Whether it keeps both."""
        return self.least[0] >= self.least[1] and (self.most is None or self.most[0] <= self.most[1])


class ReachRules(Protocol):
    """What of a shop's rules says how far a fixing has to reach behind the leather."""

    @property
    def clinch_min(self) -> Nm:
        """The least that a clinch folds over."""

    @property
    def clinch_max(self) -> Nm:
        """The most that it folds over."""

    @property
    def lace_thickness(self) -> Nm:
        """Of the lace through the shanks."""


@dataclass(frozen=True, slots=True)
class Opening:
    """What is punched for a fixing: a hole, or a slot for what is `length` long, for something `thick`."""

    thick: Nm
    length: Nm | None = None
    direction: SlotDirection = "across"


class Fixing(ABC):
    """One kind of fixing. `word` names it in the shop file.

    `do` begins the sentence of its step, with the `tool` that it takes, if any; `operation` is what is charged for it.
    What is laced gets a lace behind its row; what `has_back` would lie on the wearer without a lining over it.
    """

    __slots__ = ()

    word: ClassVar[str]
    do: ClassVar[str]
    tool: ClassVar[str | None] = None
    operation: ClassVar[str]
    is_laced: ClassVar[bool] = False
    has_back: ClassVar[bool] = True

    @property
    def opening(self) -> Opening | None:
        """What is punched for it; nothing where it is pushed through on a mark."""
        return None

    @property
    def stands(self) -> Nm:
        """How far it stands up from the ornament's seat once it is set, if a lining has to rise over it."""
        return 0

    @property
    def fastener(self) -> Fastener | None:
        """The fastener of the shop's that holds it on its leather; nothing where it holds by itself."""
        return None

    def takes(self, _fastener: Fastener) -> bool:
        """Whether this is a fastener that may hold it; what holds by itself takes none."""
        return False

    def held_through(self, _thin: Nm, _thick: Nm, _fasteners: Iterable[Fastener]) -> Self:
        """As it is set on leather between `thin` and `thick`, with what the shop has to hold it."""
        return self

    @abstractmethod
    def reach(self, thin: Nm, thick: Nm, rules: ReachRules) -> Reach:
        """How far it reaches through leather between `thin` and `thick`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shank(Fixing):
    """A loop behind the ornament that stands through a slot and is held by a lace behind the strap."""

    word = "shank"
    do = "Push the shanks through their slots:"
    operation = "set_bell"
    is_laced = True

    width: Nm
    thickness: Nm
    height: Nm
    """From the ornament's seat to the top of the loop's opening."""
    direction: SlotDirection
    """How the slot lies: across the strap where the lace runs along it."""

    @property
    def opening(self) -> Opening:
        """A slot as long as it is wide."""
        return Opening(self.thickness, self.width, self.direction)

    @property
    def stands(self) -> Nm:
        """All of its height."""
        return self.height

    def reach(self, _thin: Nm, thick: Nm, rules: ReachRules) -> Reach:
        """What stands out behind the leather takes the lace."""
        return Reach((self.height - thick, rules.lace_thickness))


@dataclass(frozen=True, slots=True, kw_only=True)
class Prongs(Fixing):
    """Two prongs, `spread` apart, pushed through the leather and clinched behind it. No hole is punched."""

    word = "prongs"
    do = "Press the prongs through on their marks and clinch them behind:"
    tool = "mallet and anvil"
    operation = "set_spot"

    spread: Nm
    length: Nm

    def reach(self, thin: Nm, thick: Nm, rules: ReachRules) -> Reach:
        """What stands out behind the leather is clinched."""
        return Reach((self.length - thick, rules.clinch_min), (self.length - thin, rules.clinch_max))


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewPost(Fixing):
    """A screw post through a round hole; it spans leather from `grip_min` to `grip_max` thick.

    Where its `barrel` is given, the grips are the shop's slack about it.
    """

    word = "screw_post"
    do = "Screw on through their holes:"
    tool = "screwdriver"
    operation = "set_concho"
    has_back = False

    diameter: Nm
    grip_min: Nm
    grip_max: Nm
    barrel: Nm | None = None

    @property
    def opening(self) -> Opening:
        """A round hole."""
        return Opening(self.diameter)

    def reach(self, thin: Nm, thick: Nm, _rules: ReachRules) -> Reach:
        """It spans the leather."""
        return Reach((thin, self.grip_min), (thick, self.grip_max))


@dataclass(frozen=True, slots=True, kw_only=True)
class SplitPin(Fixing):
    """A pin of two legs, `diameter` thick together and `length` long, through a round hole; they are bent behind it."""

    word = "split_pin"
    do = "Push the split pins through their holes, spread their legs behind and bend them flat:"
    tool = "pliers"
    operation = "set_spot"

    diameter: Nm
    length: Nm

    @property
    def opening(self) -> Opening:
        """A round hole."""
        return Opening(self.diameter)

    def reach(self, _thin: Nm, thick: Nm, rules: ReachRules) -> Reach:
        """What stands out behind the leather is bent over, however long it is."""
        return Reach((self.length - thick, rules.clinch_min))


@dataclass(frozen=True, slots=True, kw_only=True)
class Held(Fixing):
    """A hole in the ornament's own metal, which is `base` thick there, for one of the shop's fasteners.

    Which of them is settled by the stack: `fastener` is `None` until the leather is known.
    """

    has_barrel: ClassVar[bool]
    """Whether it is held by a screw post, and not by a rivet."""

    hole: Nm
    base: Nm
    chosen: Fastener | None = None

    @property
    def fastener(self) -> Fastener | None:
        """The one that was chosen."""
        return self.chosen

    @property
    def opening(self) -> Opening:
        """A round hole for the post."""
        return Opening(self.chosen.post_diameter if self.chosen else self.hole)

    def takes(self, fastener: Fastener) -> bool:
        """One of its kind whose post goes through its hole."""
        return (fastener.barrel is not None) is self.has_barrel and fastener.post_diameter <= self.hole

    def held_through(self, thin: Nm, thick: Nm, fasteners: Iterable[Fastener]) -> Self:
        """By the fastener that holds the stack, or comes nearest to that.

        Of several the thickest post is taken, and of those the one with the middle of its grip nearest to the stack's.
        """

        def unlike(fastener: Fastener) -> tuple[Nm, Nm, Nm]:
            short, long = thick + self.base - fastener.grip_max, fastener.grip_min - thin - self.base
            apart = fastener.grip_min + fastener.grip_max - thin - thick - 2 * self.base
            return max(short, long, 0), -fastener.post_diameter, abs(apart)

        return replace(self, chosen=min(filter(self.takes, fasteners), key=unlike))

    def reach(self, thin: Nm, thick: Nm, _rules: ReachRules) -> Reach:
        """What was chosen grips the leather and its base."""
        if self.chosen is None:
            raise AssertionError("a fastener is chosen before it is asked how far it reaches")
        return Reach((thin + self.base, self.chosen.grip_min), (thick + self.base, self.chosen.grip_max))


class Rivet(Held):
    """A rivet of the shop's, through the ornament's base and the leather."""

    __slots__ = ()

    word = "rivet"
    do = "Rivet on through their holes:"
    tool = "rivet setter"
    operation = "rivet"
    has_barrel = False


class Screw(Held):
    """A screw post of the shop's, through the ornament's base and the leather."""

    __slots__ = ()

    word = "screw"
    do = "Screw on through their holes:"
    tool = "screwdriver"
    operation = "set_concho"
    has_back = False
    has_barrel = True


FIXINGS: tuple[type[Fixing], ...] = (Shank, Prongs, ScrewPost, SplitPin, Rivet, Screw)
"""Every kind that there is."""
