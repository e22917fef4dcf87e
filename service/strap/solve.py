"""A spec in, a pattern out that keeps every rule, or every fault at once."""

from dataclasses import replace

from service.shop.shop import Shop
from service.strap.errors import Refusal
from service.strap.filling.limits import limit_checks, limit_faults
from service.strap.filling.resolve import resolve
from service.strap.making.layout import lay_out
from service.strap.making.mirror import mirrored
from service.strap.model.pattern import Pattern
from service.strap.model.spec import Spec
from service.strap.model.work import SOLVE, Work
from service.strap.rules.checks import measure_rules, tightest
from service.strap.rules.faults import faults_of
from service.strap.rules.worn import worn


def solve(spec: Spec, shop: Shop, work: Work | None = None) -> Pattern:
    """Resolve, lay out and check; `work` is what that is taken from. Raises `Refusal` with every fault.

    An unknown id, or a size too short for the ends alone, hides what only a laid-out strap can show.
    """
    work = work or Work()
    work.spend(SOLVE)
    job = resolve(spec, shop)
    faults = limit_faults(job.spec, shop)
    try:
        pattern = lay_out(job)
    except Refusal as refusal:
        raise Refusal((*faults, *refusal.faults)) from refusal
    work.spend(sum(len(piece.features) for piece in pattern.pieces))
    measures = measure_rules(pattern, job)
    faults += faults_of(measures, job)
    if faults:
        raise Refusal(tuple(faults))
    checked = replace(pattern, worn=worn(pattern, job), checks=(*tightest(measures), *limit_checks(job.spec, shop)))
    return mirrored(checked) if spec.hand == "right" else checked
