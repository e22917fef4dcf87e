"""How a thing is set: by what fixes it, never by what it looks like."""

from dataclasses import dataclass
from typing import assert_never

from service.shop.goods import Fixing, Prongs, ScrewPost, Shank


@dataclass(frozen=True, slots=True)
class Setting:
    """What is done, as the beginning of a sentence, its tool if it takes one, and the operation that is charged."""

    do: str
    tool: str | None
    operation: str


def setting_of(fixing: Fixing) -> Setting:
    """The one way to set a thing with this fixing."""
    match fixing:
        case Shank():
            return Setting("Push the shanks through their slots:", None, "set_bell")
        case Prongs():
            return Setting(
                "Press the prongs through on their marks and clinch them behind:", "mallet and anvil", "set_spot"
            )
        case ScrewPost():
            return Setting("Screw on through their holes:", "screwdriver", "set_concho")
        case _:
            assert_never(fixing)
