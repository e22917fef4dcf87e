"""The canonical URLs of patterns, designs and pages: paths below this service, each the only one of its answer."""

from collections.abc import Iterable, Mapping
from typing import Any
from urllib.parse import urlencode

from service.door.options import NAMES
from service.forms.data import JSON
from service.forms.form import Form
from service.schemas.design_document import canonical_texts
from service.shop.designs import Chosen, Design
from service.shop.shop import Units


def pattern_path(address: str, suffix: str, values: Mapping[str, Any]) -> str:
    """A pattern by what stands for it, the form's suffix, and the parameters in one order."""
    return f"/v1/patterns/{address}{suffix}" + query_of(_named(values))


def design_pattern_path(
    design: Design, chosen: Chosen, suffix: str, values: Mapping[str, Any], default_units: Units
) -> str:
    """A design's pattern: every choice in the design's order, then the parameters in theirs."""
    texts = canonical_texts(design, chosen, default_units)
    return f"/v1/designs/{design.name}/pattern{suffix}" + query_of([*texts, *_named(values)])


def finished_path(design: Design, chosen: Chosen, form: Form, default_units: Units, **more: Any) -> str:
    """The finished look of a design as chosen."""
    return design_pattern_path(design, chosen, form.suffix, {"view": "finished", **more}, default_units)


def canonical_suffix(form: Form) -> str:
    """What stands for a form where nothing else says it: JSON is what a URL without a suffix gives to everybody."""
    return "" if form is JSON else form.suffix


def query_of(pairs: Iterable[tuple[str, Any]]) -> str:
    """The pairs as a query with its question mark; nothing where there are none."""
    listed = list(pairs)
    return f"?{urlencode(listed)}" if listed else ""


def _named(values: Mapping[str, Any]) -> list[tuple[str, Any]]:
    return [(name, values[name]) for name in NAMES if name in values]
