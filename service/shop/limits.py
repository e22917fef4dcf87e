"""The largest and smallest that a shop takes on."""

from dataclasses import dataclass

from service.shop.goods import Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """The largest and smallest that this shop takes on."""

    width_min: Nm
    width_max: Nm
    length_min: Nm
    length_max: Nm
    ornaments_max: int
    size_holes_max: int
    joint_count_max: int
    features_max: int
    """Greatest number of holes, slots and marks of one strap."""
    stitch_pitch_min: Nm
    stitch_pitch_max: Nm
