"""Billets that add so much to the body: no less than what they carry needs."""

from collections.abc import Iterator

from service.strap.ends.billet import BilletEnd, LaidBillet
from service.strap.errors import Cure, Path
from service.strap.making.layout import measure_lengths
from service.strap.model.job import Job
from service.strap.model.pattern import Pattern
from service.strap.model.rule import Blame, Code, Formula, Measured, Rule
from service.strap.rules.family import StrapFamily

BILLET_SHORT = Code("billet_short", "a billet adds less than its holes, its fold and its tip need")


def _adds(measured: Measured, job: Job) -> Path:
    return (*next(end.place for end in job.ends if end.billet_name in measured.kinds), "adds")


BILLET_ADDS = Rule(
    name="billet_adds",
    meaning="Whether a billet that adds so much to the body has room for its holes, its fold and its tip.",
    sense="least",
    sentence="The billet adds {found} to the body; with what it carries it takes {limit}.",
    blames=(Blame(BILLET_SHORT, _adds, Cure.BILLET_ADDS),),
    formula=Formula(
        found="adds",
        limit="needs",
        terms={
            "adds": "how far it was asked to reach past the body's end",
            "needs": "from its outer end to the body's, with its holes and its tip, or its fold",
        },
    ),
    source="geometry",
)


def _billets(_pattern: Pattern, job: Job) -> Iterator[Measured]:
    if not any(isinstance(end, BilletEnd) and end.adds is not None for end in job.ends):
        return
    laid = measure_lengths(job).ends
    for end, each in zip(job.ends, laid, strict=True):
        if isinstance(end, BilletEnd) and isinstance(each, LaidBillet) and end.adds is not None:
            yield BILLET_ADDS.measured(end.adds, each.needs, kinds=(end.name,))


BILLETS = StrapFamily(rules=(BILLET_ADDS,), measure=_billets)
