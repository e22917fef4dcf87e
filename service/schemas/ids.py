"""Ids as people type them."""

import re
from typing import Any

from service.schemas.fields import Text

PRINTABLE = re.compile(r"[ -~]+")
"""ASCII that shows."""


class Id(Text):
    """The id of something in the shop, in small letters: blanks round it and capitals are what a keyboard puts in."""

    kind = "an id of the shop's"

    def __init__(self, **more: Any) -> None:
        super().__init__(most=40, form=PRINTABLE, **more)

    def _read(self, value: object) -> str:
        return super()._read(value).strip().lower()
