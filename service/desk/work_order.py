"""A day's work on one screen: lines in; jobs, cut plan, tasks, goods, minutes and tags out.

Every function is pure but for the clock that a caller hands in to bound the search for a plan.
"""

from dataclasses import dataclass

from service.desk.counting import MOST_PIECES, refuse_many, strip_count
from service.desk.ordering import Ordered, patterns_of
from service.desk.pipeline import describe
from service.desk.reckoning import (
    Clock,
    effort_of,
    members_of,
    pieces_of_all,
    plan_of,
)
from service.drawing import words
from service.drawing.cut_plan.pages import cut_drawing
from service.drawing.model import Drawing
from service.drawing.printed.document import Document
from service.drawing.work_order.pages import Day, day_document
from service.forms.form import OutputOptions
from service.schemas.answers.work_order import JobDocument, WorkOrderDocument
from service.schemas.codes import code_of
from service.schemas.cut_plan_document import cut_plan_document
from service.schemas.materials import materials_document
from service.schemas.shop_document import terms_document
from service.schemas.spec import units_of
from service.schemas.work_order import read_work_order
from service.schemas.work_order_document import (
    goods_document,
    minutes_document,
    operations_document,
    share_document,
    tag_document,
    task_document,
)
from service.shop.shop import Shop, Units
from service.workshop.cut_plan.model import CutPlan
from service.workshop.cut_plan.steps import cutting_order
from service.workshop.day.batch import Job, Share, jobs_of
from service.workshop.day.goods import goods_of, minutes_of
from service.workshop.day.merging import merged
from service.workshop.day.task_words import TaskWords
from service.workshop.materials import materials_of


@dataclass(frozen=True, slots=True)
class WorkOrder:
    """What is made, out of what it is cut, and the units of what is summed."""

    title: str
    straps: tuple[Ordered, ...]
    plan: CutPlan
    units: Units


def make_work_order(document: object, shop: Shop, clock: Clock) -> WorkOrder:
    """The work order that a document asks for. Raises `OrdersError`, `ShopChanged` and `OrdersRefused`."""
    started = clock()
    asked = read_work_order(document, shop)
    straps = patterns_of(asked.lines, "lines", members_of(document), shop, MOST_PIECES)
    refuse_many(sum(each.one.quantity * strip_count(each.pattern) for each in straps), "lines")
    wanted = list(pieces_of_all(straps))
    plan = plan_of(asked, wanted, shop, effort_of(float(asked.time_limit_s), started, clock))
    return WorkOrder(asked.title, straps, plan, units_of(document, shop.defaults.units))


@dataclass(frozen=True)
class WorkOrderSubject:
    """A work order, to be encoded as `options` say; with units there, everything is read in them."""

    order: WorkOrder
    shop: Shop
    options: OutputOptions
    most_pages: int

    def data(self) -> WorkOrderDocument:
        """Every strap, and all that is shared."""
        shop, units, jobs = self.shop, self._units, self._jobs(None)
        told, operations = TaskWords(shop, units), minutes_of(jobs, shop)
        return {
            "title": self.order.title,
            "shop": terms_document(shop),
            "quantity": sum(job.quantity for job in jobs),
            "straps": [self._job(job) for job in jobs],
            "materials": materials_document(materials_of([job.order for job in jobs], shop), units),
            "goods": [goods_document(use, units) for use in goods_of(jobs, shop)],
            "cut_plan": cut_plan_document(self.order.plan, cutting_order(self.order.plan, shop, units), units),
            "tasks": [task_document(task, told) for task in merged(jobs)],
            "operations": operations_document(operations),
            "minutes": minutes_document(operations),
            "tags": [tag_document(job, share, shop) for job in jobs for share in job.shares],
        }

    def drawing(self) -> Drawing:
        """What of it is one drawing: the cut plan."""
        steps = cutting_order(self.order.plan, self.shop, self._units)
        return cut_drawing(self.order.plan, steps, self.shop, self._units)

    def pages(self) -> Document:
        """All of it on paper. Raises `PaperTooSmall`, and `TooManyPages` before more than `most_pages` are made."""
        order = self.order
        day = Day(order.title, self._jobs(self.options.units), order.plan, self.shop, self._units, self.options.paper)
        return day_document(day, self.most_pages)

    def _job(self, job: Job) -> JobDocument:
        pattern, shop = job.pattern, self.shop
        return {
            "number": job.number,
            "quantity": job.quantity,
            "of": [share_document(share) for share in job.shares],
            "pattern": describe(pattern, job.steps, job.shares[0].code, shop, self.options.units or pattern.spec.units),
        }

    def _title(self, strap: Ordered) -> str:
        """The design's, or what kind of strap it is."""
        design = self.shop.designs.get(strap.one.asked.design or "")
        return design.title if design else words.strap_title(strap.pattern)

    @property
    def _units(self) -> Units:
        return self.options.units or self.order.units

    def _jobs(self, units: Units | None) -> tuple[Job, ...]:
        """The jobs, told in these units."""
        straps = {id(each.pattern): each.pattern for each in self.order.straps}
        told = {key: each.in_units(units) if units else each for key, each in straps.items()}
        shares = []
        for each in self.order.straps:
            key, one = id(each.pattern), each.one
            code = code_of(each.spec, self.shop.defaults.units)
            shares.append(
                Share(
                    ref=one.ref,
                    strap=one.strap,
                    tag=one.tag,
                    title=self._title(each),
                    quantity=one.quantity,
                    code=code,
                    pattern=told[key],
                )
            )
        return jobs_of(shares, self.shop)
