"""How the orders that another tool exports are read: its own column names and values, and what they mean here."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Export:
    """The columns of one exporter's file. A column that is named nowhere here is refused, never passed over."""

    id: str
    title: str
    columns: Mapping[str, str]
    """By what is meant here (`ref`, `design`, `quantity`, a choice's name …), the exporter's column."""
    values: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    """By what is meant here, the exporter's own values, each with the one that stands for it here."""
    ignored: tuple[str, ...] = ()
    """Columns that say nothing of what is made."""
    no_straps: tuple[str, ...] = ()
    """What the design's column says of rows that are no straps: they are passed over."""
