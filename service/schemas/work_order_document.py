"""A work order as JSON data."""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from service.schemas.answers.work_order import (
    GoodsToLayOutDocument,
    OperationDocument,
    ShareDocument,
    TagDocument,
    TaskDocument,
    TaskPartDocument,
    TaskToolDocument,
)
from service.schemas.quote_document import plain
from service.schemas.readings import mm, read
from service.schemas.seals import seal_of
from service.schemas.sets import strap_of_order
from service.shop.shop import Shop, Units
from service.strap.plane.lengths import tape_reading
from service.workshop.day.batch import Job, Share
from service.workshop.day.goods import GoodsUse
from service.workshop.day.merging import Part, Task
from service.workshop.day.task_words import TaskWords, size_words
from service.workshop.labour import LabourUse


def share_document(share: Share) -> ShareDocument:
    """One line's share of a strap."""
    return {
        "ref": share.ref,
        **strap_of_order(share.strap),
        "tag": share.tag,
        "quantity": share.quantity,
        "sealed": seal_of(share.pattern),
    }


def goods_document(use: GoodsUse, units: Units) -> GoodsToLayOutDocument:
    """One item over all straps; `units` are those of the length of lace or thread."""
    found: GoodsToLayOutDocument = {
        "item": use.item,
        "kind": use.kind,
        "count": use.count,
        "of": [{"strap": each.job.number, "count": each.count} for each in use.of],
    }
    if use.length is not None:
        found["length_mm"], found["length"] = mm(use.length), read(use.length, units)
    return found


def task_document(task: Task, words: TaskWords) -> TaskDocument:
    """One task with what is done to each strap."""
    tool: TaskToolDocument = {"tool": task.setting.tool} if task.setting.tool else {}
    return {
        "n": task.n,
        "op": task.setting.op,
        **tool,
        "do": words.head(task),
        "parts": [_part(part) for part in task.parts],
        "after": list(task.after),
    }


def _part(part: Part) -> TaskPartDocument:
    return {
        "strap": part.job.number,
        "times": part.job.quantity,
        "steps": [step.n for step in part.steps],
        "sentences": [step.do for step in part.steps],
    }


def operations_document(uses: Sequence[LabourUse]) -> list[OperationDocument]:
    """Minutes by operation."""
    return [
        {
            "operation": use.operation,
            "tools": use.tools,
            "count": plain(use.count),
            "unit": use.unit,
            "minutes": plain(use.minutes),
        }
        for use in uses
    ]


def minutes_document(uses: Iterable[LabourUse]) -> str:
    """All minutes together."""
    return plain(sum((use.minutes for use in uses), Decimal(0)))


def tag_document(job: Job, share: Share, shop: Shop) -> TagDocument:
    """What is told to who uses a strap."""
    units = share.pattern.spec.units
    return {
        "ref": share.ref,
        **strap_of_order(share.strap),
        "tag": share.tag,
        "number": job.number,
        "quantity": share.quantity,
        "made": share.title,
        "size": size_words(share.pattern),
        "holes": [
            {"hole": hole.hole, "fits_mm": mm(hole.fits), "fits": tape_reading(hole.fits, units)}
            for hole in share.pattern.worn_at
        ],
        "care": list(shop.care),
        "cautions": list(job.cautions.in_use),
    }
