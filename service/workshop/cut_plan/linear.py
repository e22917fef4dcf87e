"""A thin door to HiGHS: covering programs whose rows all say 'at least'. One thread, fixed seed, no output."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor

import highspy
import numpy as np
from highspy._core import _Highs

from service.workshop.cut_plan.effort import MIP_NODES, Effort


@dataclass(frozen=True, slots=True)
class Column:
    """A way of cutting that may be used any whole number of times: its cost, and what it adds to which row."""

    cost: float
    rows: tuple[int, ...]
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Relaxed:
    """The program without whole numbers: its cost and each row's price."""

    cost: float
    prices: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Whole:
    """How often each column is used, and a bound that no whole answer is below; `None` where none was found."""

    uses: tuple[int, ...] | None
    bound: float


class Program:
    """Minimise the cost of columns such that each row reaches its least value. It grows column by column."""

    def __init__(self, least: Sequence[float], columns: Sequence[Column]) -> None:
        self.columns: list[Column] = []
        self._highs = _quiet()
        for value in least:
            self._highs.addRow(value, highspy.kHighsInf, 0, _no_rows(), _no_values())
        for column in columns:
            self.add(column)

    def add(self, column: Column) -> None:
        """One more way of cutting."""
        rows = np.array(column.rows, dtype=np.int32)
        values = np.array(column.values, dtype=np.float64)
        self._highs.addCol(column.cost, 0.0, highspy.kHighsInf, len(rows), rows, values)
        self.columns.append(column)

    def relax(self, effort: Effort) -> Relaxed | None:
        """The best answer in fractions, or `None` where time ended first."""
        self._highs.setOptionValue("time_limit", self._highs.getRunTime() + effort.left())
        self._highs.run()
        if self._highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        prices = tuple(max(0.0, float(price)) for price in self._highs.getSolution().row_dual)
        return Relaxed(float(self._highs.getObjectiveValue()), prices)

    def whole(self, effort: Effort) -> Whole:
        """The best answer in whole numbers that the effort finds.

        The program cannot be relaxed again afterwards. Presolve is off, since with it HiGHS 1.16 calls answers
        optimal that are not (as in its issue 3073): in 11 of 20,000 tiny batches tried all ways by brute force.
        """
        highs, count = self._highs, len(self.columns)
        kinds = np.full(count, highspy.HighsVarType.kInteger, dtype=object)
        highs.changeColsIntegrality(count, np.arange(count, dtype=np.int32), kinds)
        highs.setOptionValue("time_limit", highs.getRunTime() + effort.left())
        highs.setOptionValue("mip_max_nodes", MIP_NODES)
        highs.run()
        return self._answer(effort)

    def _answer(self, effort: Effort) -> Whole:
        status, info = self._highs.getModelStatus(), self._highs.getInfo()
        if status == highspy.HighsModelStatus.kTimeLimit:
            effort.over()
        bound = float(info.mip_dual_bound)
        if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
            return Whole(None, bound)
        uses = tuple(floor(value + 0.5) for value in self._highs.getSolution().col_value)
        if status == highspy.HighsModelStatus.kOptimal:
            bound = sum(column.cost * count for column, count in zip(self.columns, uses, strict=True))
        return Whole(uses, bound)


def _quiet() -> _Highs:
    """HiGHS itself, without the wrapper, whose making prints a banner to the standard output."""
    highs = _Highs()
    for name, value in (
        ("output_flag", False),
        ("threads", 1),
        ("parallel", "off"),
        ("random_seed", 0),
        ("mip_rel_gap", 0.0),
        ("mip_abs_gap", 1e-6),
        ("presolve", "off"),
    ):
        highs.setOptionValue(name, value)
    return highs


def _no_rows() -> "np.ndarray[tuple[int], np.dtype[np.int32]]":
    return np.array([], dtype=np.int32)


def _no_values() -> "np.ndarray[tuple[int], np.dtype[np.float64]]":
    return np.array([], dtype=np.float64)
