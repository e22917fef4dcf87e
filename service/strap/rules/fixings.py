"""Whether what is set on the strap fits its leather: prongs, shanks and posts, and a lining over their backs."""

from collections.abc import Iterator

from service.shop.fixings import Fixing, Prongs, Rivet, Screw, ScrewPost, Shank, SplitPin
from service.shop.goods import Nm
from service.shop.ornaments import Ornament
from service.strap.errors import Cure
from service.strap.model.hardware import Stack, held_on
from service.strap.model.job import Job
from service.strap.model.lining import backs
from service.strap.model.pattern import Feature, Pattern, Purpose
from service.strap.model.plies import stack
from service.strap.model.rule import Blame, Code, Formula, Measured, Rule
from service.strap.plane.profile import edge_at
from service.strap.rules.blame import item
from service.strap.rules.family import StrapFamily

PRONGS_SHORT = Code("prongs_short", "an ornament's prongs are too short to clinch behind this leather")
PRONGS_LONG = Code("prongs_long", "an ornament's prongs are too long to clinch behind this leather")
SHANK_SHORT = Code("shank_short", "an ornament's shank does not stand out far enough behind this leather for a lace")
SPLIT_PIN_SHORT = Code("split_pin_short", "an ornament's split pin is too short to be bent behind this leather")
POST_LONG = Code("post_long", "an ornament's screw post is too long for this leather")
POST_SHORT = Code("post_short", "an ornament's screw post is too short for this leather")
ORNAMENT_UNHELD = Code("ornament_unheld", "no rivet or screw post that the shop has holds an ornament on this leather")
LINING_STEEP = Code("lining_steep", "beside what it covers a lining has too little room to come down to the edge")

PRONG_CLINCH_MIN = Rule(
    name="prong_clinch_min",
    meaning="How far the prongs of a spot stand out behind the leather at its thickest: what is bent over must hold.",
    sense="least",
    sentence="The prongs stand out {found} behind the thickest leather; to clinch they need {limit}.",
    overlap="The prongs end {found_abs} inside the thickest leather; a clinch needs {limit} behind it.",
    blames=(Blame(PRONGS_SHORT, item, Cure.OTHER_ITEM),),
    formula=Formula(
        found="prong - thick",
        limit="clinch_min",
        terms={
            "prong": "the length of the prongs",
            "thick": "what the ornament is set through, each ply at its thickest",
        },
    ),
    source="common practice",
)
PRONG_CLINCH_MAX = Rule(
    name="prong_clinch_max",
    meaning="How far the prongs of a spot stand out behind the leather at its thinnest; more than that "
    "cannot be folded flat.",
    sense="most",
    sentence="The prongs stand out {found} behind the thinnest leather; a clinch folds up to {limit}.",
    blames=(Blame(PRONGS_LONG, item, Cure.OTHER_ITEM),),
    formula=Formula(
        found="prong - thin",
        limit="clinch_max",
        terms={
            "prong": "the length of the prongs",
            "thin": "what the ornament is set through, each ply at its thinnest",
        },
    ),
    source="common practice",
)
SHANK_REACH = Rule(
    name="shank_reach",
    meaning="How far a bell's shank stands out behind the leather at its thickest: the lace has to go through it.",
    sense="least",
    sentence="The shank stands out {found} behind the thickest leather; the lace needs {limit}.",
    overlap="The shank ends {found_abs} inside the thickest leather; the lace needs {limit} behind it.",
    blames=(Blame(SHANK_SHORT, item, Cure.OTHER_ITEM),),
    formula=Formula(
        found="shank - thick",
        limit="lace_thickness",
        terms={
            "shank": "the height of the shank",
            "thick": "what the ornament is set through, each ply at its thickest",
        },
    ),
    source="common practice",
)
POST_GRIP_MIN = Rule(
    name="post_grip_min",
    meaning="Whether the leather is thick enough for an ornament's screw post, even where it is thinnest; "
    "else the ornament wobbles.",
    sense="least",
    sentence="The leather is {found} at its thinnest; this screw post holds from {limit} on.",
    blames=(Blame(POST_LONG, item, Cure.OTHER_ITEM),),
    formula=Formula(
        found="thin",
        limit="grip_min",
        terms={
            "thin": "what the ornament is set through, each ply at its thinnest",
            "grip_min": "the least that the screw post holds",
        },
    ),
    source="leather suppliers",
)
POST_GRIP_MAX = Rule(
    name="post_grip_max",
    meaning="Whether an ornament's screw post spans the leather, even where it is thickest.",
    sense="most",
    sentence="The leather is {found} at its thickest; this screw post spans up to {limit}.",
    blames=(Blame(POST_SHORT, item, Cure.OTHER_ITEM),),
    formula=Formula(
        found="thick",
        limit="grip_max",
        terms={
            "thick": "what the ornament is set through, each ply at its thickest",
            "grip_max": "the most that the screw post spans",
        },
    ),
    source="leather suppliers",
)
SPLIT_PIN_REACH = Rule(
    name="split_pin_reach",
    meaning="How far a split pin's legs stand out behind the leather at its thickest: they have to be spread "
    "and bent flat.",
    sense="least",
    sentence="The split pin's legs stand out {found} behind the thickest leather; to be bent they need {limit}.",
    overlap="The split pin ends {found_abs} inside the thickest leather; its legs need {limit} behind it.",
    blames=(Blame(SPLIT_PIN_SHORT, item, Cure.OTHER_ITEM),),
    formula=Formula(
        found="pin - thick",
        limit="clinch_min",
        terms={
            "pin": "the length of the pin's legs",
            "thick": "what the ornament is set through, each ply at its thickest",
        },
    ),
    source="common practice",
)
HELD_GRIP_MIN = Rule(
    name="held_grip_min",
    meaning="Whether an ornament and its leather together are thick enough for the rivet or screw that holds it.",
    sense="least",
    sentence="With its base the ornament and its leather are {found} at their thinnest; the nearest fastener that goes "
    "through it holds from {limit} on.",
    blames=(Blame(ORNAMENT_UNHELD, item, Cure.OTHER_ITEM),),
    formula=Formula(
        found="thin + base",
        limit="grip_min",
        terms={
            "thin": "what the ornament is set through, each ply at its thinnest",
            "base": "how thick the ornament's own metal is at its hole",
            "grip_min": "the least that its rivet or screw post holds",
        },
    ),
    source="hardware sellers",
)
HELD_GRIP_MAX = Rule(
    name="held_grip_max",
    meaning="Whether the rivet or screw that holds an ornament reaches through its metal and the leather.",
    sense="most",
    sentence="With its base the ornament and its leather are {found} at their thickest; the nearest fastener that goes "
    "through it holds up to {limit}.",
    blames=(Blame(ORNAMENT_UNHELD, item, Cure.OTHER_ITEM),),
    formula=Formula(
        found="thick + base",
        limit="grip_max",
        terms={
            "thick": "what the ornament is set through, each ply at its thickest",
            "base": "how thick the ornament's own metal is at its hole",
            "grip_max": "the most that its rivet or screw post holds",
        },
    ),
    source="hardware sellers",
)
LINING_RUN = Rule(
    name="lining_run",
    meaning="How much room a lining has to come down from the back of what it covers to the edge; on too "
    "steep a way the glue lets go.",
    sense="least",
    sentence="Beside the back of {what} {found} is left to the edge; to come down to it the lining takes {limit}.",
    blames=(Blame(LINING_STEEP, item, Cure.LOWER_BACKS),),
    formula=Formula(
        found="half_width - y - half_back",
        limit="lining_run * height",
        terms={
            "half_width": "half the width of what is lined",
            "y": "from the middle of the strap to the middle of the back",
            "half_back": "half of what the back takes across the strap",
            "height": "what the back stands up behind the leather",
        },
    ),
    source="from memory",
)


def _fixings(_pattern: Pattern, job: Job) -> Iterator[Measured]:
    """Every different item of the row, of the gaps and of the borders."""
    leather = stack(job.plies.set_through)
    yield from _set_through(job.row, "ornament", leather, job)
    yield from _set_through(job.gap, "between", leather, job)
    yield from _set_through(job.borders, "border", leather, job)


def _set_through(items: tuple[Ornament, ...], kind: Purpose, leather: Stack, job: Job) -> Iterator[Measured]:
    for each in {one.id: one for one in items}.values():
        least, most = RULES_OF[type(each.fixing)]
        found = held_on(each, leather, job.shop).reach(leather.thin, leather.thick, job.rules)
        yield least.measured(*found.least, kinds=(kind,), item=each.id)
        if most and found.most:
            yield most.measured(*found.most, kinds=(kind,), item=each.id)


RULES_OF: dict[type[Fixing], tuple[Rule, Rule | None]] = {
    Prongs: (PRONG_CLINCH_MIN, PRONG_CLINCH_MAX),
    Shank: (SHANK_REACH, None),
    ScrewPost: (POST_GRIP_MIN, POST_GRIP_MAX),
    SplitPin: (SPLIT_PIN_REACH, None),
    Rivet: (HELD_GRIP_MIN, HELD_GRIP_MAX),
    Screw: (HELD_GRIP_MIN, HELD_GRIP_MAX),
}
"""What each fixing has to reach, and what it may reach at most."""


def _lining(pattern: Pattern, job: Job) -> Iterator[Measured]:
    """What stays beside a covered back, and what the lining takes to come down from it, for each item at its worst."""
    if not job.covers or job.spec.lining_is_loose:
        return
    lined = pattern.pieces[0]
    worst: dict[str | None, tuple[Nm, Nm, Feature]] = {}
    for feature, height in backs(lined.features, job.shop.ornaments, job.leather):
        beside = round(edge_at(lined.outline, feature.x)) - abs(feature.y) - _half_across(feature)
        if feature.item not in worst or beside < worst[feature.item][0]:
            worst[feature.item] = (beside, round(height * job.rules.lining_run), feature)
    for beside, run, feature in worst.values():
        yield LINING_RUN.measured(beside, run, feature)


def _half_across(feature: Feature) -> Nm:
    """Half of a slot's extent across the strap."""
    return ((feature.length if feature.angle else feature.width) or 0) // 2


FIXINGS = StrapFamily(
    rules=tuple(dict.fromkeys(rule for of_one in RULES_OF.values() for rule in of_one if rule)), measure=_fixings
)
LINED_BACKS = StrapFamily(rules=(LINING_RUN,), measure=_lining)
