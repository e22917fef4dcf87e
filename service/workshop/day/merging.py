"""One sheet for several straps: each tool picked up as seldom as the order of the bench lets it.

The steps of every strap go into tasks, each done to all straps with one tool as it is set. A task is put off until all
steps that belong to it can be done; where each waits for another, the one that the bench has first is begun with what
can be done, and is taken up again later.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple, get_args

from service.strap.model.pattern import Pattern
from service.workshop.bench.step import Op, Step
from service.workshop.day.batch import Job

_RANKS: dict[Op, int] = {op: rank for rank, op in enumerate(get_args(Op))}
_At = tuple[int, int]
"""A step by the place of its job, and its place among that job's steps."""


class Setting(NamedTuple):
    """What is done with which tool, and how that is set or what is set by it."""

    op: Op
    tool: str
    what: tuple[int | str, ...]


@dataclass(frozen=True, slots=True)
class Part:
    """The steps of one job in a task, in their own order."""

    job: Job
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class Task:
    """One thing that is done to several straps, once the tasks in `after` are done."""

    n: int
    setting: Setting
    parts: tuple[Part, ...]
    after: tuple[int, ...]

    @property
    def sample(self) -> Step:
        """One of its steps: they differ in nothing but their leather and places."""
        return self.parts[0].steps[0]


class Course(NamedTuple):
    """A job, and of each of its steps the setting and how often that was laid down before it on this strap alone."""

    job: Job
    settings: Sequence[Setting]
    rounds: Sequence[int]


_STRAGGLERS = (3, 0, 1, 2, 6, 12)
"""How few steps count as stragglers, each tried: which does best depends on what straps there are."""


def merged(jobs: Sequence[Job]) -> tuple[Task, ...]:
    """Every step of every job, in tasks numbered from 1: as few of them as is found."""
    courses = courses_of(jobs)
    least = sum(least_rounds(courses).values())
    best: tuple[Task, ...] = ()
    for stragglers in _STRAGGLERS:
        found = _Sheet(courses, stragglers).tasks()
        if not best or len(found) < len(best):
            best = found
        if len(best) <= least:
            break
    return best


def courses_of(jobs: Iterable[Job]) -> tuple[Course, ...]:
    """The course of each job by itself."""
    found = []
    for job in jobs:
        settings = [_setting(step, job.pattern) for step in job.steps]
        found.append(Course(job, settings, _rounds(job.steps, settings)))
    return tuple(found)


def least_rounds(courses: Iterable[Course]) -> dict[Setting, int]:
    """How often each setting is needed by the strap that needs it most often: no sheet has fewer tasks."""
    most: dict[Setting, int] = {}
    for course in courses:
        for setting, before in zip(course.settings, course.rounds, strict=True):
            most[setting] = max(most.get(setting, 0), before + 1)
    return most


def _setting(step: Step, pattern: Pattern) -> Setting:
    """By what steps of several straps are one task."""
    what: tuple[int | str, ...] = ()
    if step.op == "strip":
        piece = pattern.piece(step.pieces[0])
        what = (piece.leather.id, -piece.cut_width) if piece else ()
    elif step.op in ("set", "rivet") and step.uses:
        what = (step.uses[0].item,)
    elif step.op == "punch":
        what = (_method(step, pattern),)
    return Setting(step.op, step.tool or "", what)


def _method(step: Step, pattern: Pattern) -> str:
    """How the tool cuts: by itself, or with a knife between two holes."""
    wanted = step.features[0]
    return next(each.method for piece in pattern.pieces for each in piece.features if each.id == wanted)


def _rounds(steps: Sequence[Step], settings: Sequence[Setting]) -> list[int]:
    """For each step how often the tool, set so, was picked up and laid down again before it on this strap alone."""
    before: list[dict[Setting, int]] = []
    again = {setting for setting, count in Counter(settings).items() if count > 1}
    found = []
    for step, setting in zip(steps, settings, strict=True):
        picked: dict[Setting, int] = {}
        for n in step.after:
            for each, count in before[n - 1].items():
                is_laid_down = each == settings[n - 1] != setting
                picked[each] = max(picked.get(each, 0), count + is_laid_down)
        found.append(picked.get(setting, 0))
        if setting in again:
            picked.setdefault(setting, 0)
        before.append(picked)
    return found


class _Sheet:
    """What is still to be done, and what can be."""

    def __init__(self, courses: Sequence[Course], stragglers: int) -> None:
        self._jobs = [course.job for course in courses]
        self._stragglers = stragglers
        self._setting: dict[_At, Setting] = {}
        self._waits: dict[_At, int] = {}
        self._followers: dict[_At, list[_At]] = defaultdict(list)
        self._waiting: dict[Setting, set[_At]] = defaultdict(set)
        self._open: dict[Setting, list[_At]] = defaultdict(list)
        self._places: dict[Setting, float] = {}
        self._rounds: dict[_At, int] = {}
        self._round: dict[Setting, int] = defaultdict(int)
        for at, course in enumerate(courses):
            self._lay_out(at, course)

    def _lay_out(self, at: int, course: Course) -> None:
        steps = course.job.steps
        for place, (step, setting, before) in enumerate(zip(steps, course.settings, course.rounds, strict=True)):
            self._rounds[at, place] = before
            self._setting[at, place] = setting
            self._waits[at, place] = len(step.after)
            self._waiting[setting].add((at, place))
            self._places[setting] = min(self._places.get(setting, 1.0), place / len(steps))
            for n in step.after:
                self._followers[at, n - 1].append((at, place))
            if not step.after:
                self._open[setting].append((at, place))

    def tasks(self) -> tuple[Task, ...]:
        """All tasks, in an order in which they can be done."""
        found: list[Task] = []
        done: dict[_At, int] = {}
        tool = ""
        while self._open:
            setting = self._next(tool)
            steps = self._reached(setting)
            self._do(setting, steps)
            after = {
                done[at, n - 1] for at, place in steps for n in self._jobs[at].steps[place].after if (at, n - 1) in done
            }
            done |= dict.fromkeys(steps, len(found) + 1)
            found.append(Task(len(found) + 1, setting, self._parts(steps), tuple(sorted(after))))
            tool = setting.tool
        return tuple(found)

    def _next(self, tool: str) -> Setting:
        """What can be done to the last of it, or as far as no strap alone needs it later once more.

        The tool in hand comes first, then what the bench has first. Where each task waits for another, one is begun:
        of as few steps as count as stragglers, which then catch up, or else what the bench has first.
        """

        def wanted(setting: Setting) -> tuple[object, ...]:
            reached = self._reached(setting)
            due = sum(1 for each in self._waiting[setting] if self._rounds[each] <= self._round[setting])
            whole = len(reached) == len(self._waiting[setting])
            is_due = len(reached) >= due
            many = not is_due and len(reached) > self._stragglers
            in_hand = whole and bool(tool) and setting.tool == tool
            strips = setting.what if setting.op == "strip" else ()
            bench = (_RANKS[setting.op], strips, self._places[setting], setting.tool, setting.what)
            return not whole, not is_due, many, not in_hand, *bench

        return min(self._open, key=wanted)

    def _reached(self, setting: Setting) -> list[_At]:
        """All that can be done without anything else between, in the order of the jobs."""
        found = list(self._open[setting])
        waits: dict[_At, int] = {}
        for each in found:
            for follower in self._followers[each]:
                if self._setting[follower] == setting:
                    waits[follower] = waits.get(follower, self._waits[follower]) - 1
                    if waits[follower] == 0:
                        found.append(follower)
        return sorted(found)

    def _do(self, setting: Setting, steps: Sequence[_At]) -> None:
        del self._open[setting]
        self._round[setting] += 1
        own = set(steps)
        self._waiting[setting] -= own
        for each in steps:
            for follower in self._followers[each]:
                self._waits[follower] -= 1
                if self._waits[follower] == 0 and follower not in own:
                    self._open[self._setting[follower]].append(follower)

    def _parts(self, steps: Sequence[_At]) -> tuple[Part, ...]:
        by_job: dict[int, list[Step]] = defaultdict(list)
        for at, place in steps:
            by_job[at].append(self._jobs[at].steps[place])
        return tuple(Part(self._jobs[at], tuple(own)) for at, own in by_job.items())
