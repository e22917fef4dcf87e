"""Why something of a design is not offered, in a buyer's words: a few beside it, a sentence once it is chosen."""

from service.schemas.choosing import design_units, value_title
from service.shop.designs import Choice, Chosen, Design, Range
from service.shop.shop import Units
from service.words import say, say_list
from service.workshop.withheld import Withheld


def marked(title: str, words: str) -> str:
    """A title in a list with the reason behind it, if there is one."""
    return say("{title} – {reason}", title=title, reason=words) if words else title


def short_reason(found: Withheld) -> str:
    """A few words that stand behind a length or a count in a list."""
    nearest = say_list(map(str, found.nearest), "{most} or {last}")
    return {
        "most": say("room for at most {count}", count=nearest),
        "least": say("takes at least {count}", count=nearest),
        "beside": say("comes out with {counts}", counts=nearest),
        "short": say("too short"),
        "long": say("too long"),
        "never": say("not with what else is chosen"),
    }[found.why]


def reason_of_value(chosen: Chosen, other: Choice | None, units: Units) -> str:
    """A few words that stand behind a value in a list: what else is chosen that it cannot be had with."""
    if other is None:
        return say("not with what else is chosen")
    value = value_title(other, chosen[other.name], units)
    if isinstance(other.offer, Range):
        return say("not with {title}: {value}", title=other.title, value=value)
    return say("not with {title}", title=value)


def reason(found: Withheld, design: Design, chosen: Chosen, default_units: Units) -> str:
    """The sentence for choices that cannot be made together, with measures, numbers and the shop's own titles."""
    units = design_units(design, default_units)
    length = value_title(design.length, chosen[design.length.name], units)
    if design.count and found.nearest:
        sentences = {
            "most": "{title}: at {length} there is room for at most {nearest}, not for {count}.",
            "least": "{title}: at {length} it takes at least {nearest}, not {count}.",
            "beside": "{title}: at {length} it comes out with {nearest}, not with {count}.",
        }
        return say(
            sentences[found.why],
            title=design.count.title,
            length=length,
            nearest=say_list(map(str, found.nearest), "{most} or {last}"),
            count=chosen[design.count.name],
        )
    if found.why == "short":
        return say("{title}: {length} is too short with what else is chosen.", title=design.length.title, length=length)
    if found.why == "long":
        return say("{title}: {length} is too long with what else is chosen.", title=design.length.title, length=length)
    return say("These choices do not go together.")
