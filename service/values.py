"""Value objects: `dataclass` for those of which a strap is made, by the hundred.

The type checker holds them frozen. Python does not: it sets each field of a frozen dataclass by way of
`object.__setattr__`, which takes nearly three times as long, and nobody but the type checker is ever told.
"""

import dataclasses
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass  # noqa: PLC0414 # under this name, so that it is known for what it is
else:

    def dataclass(*, frozen: bool = False, eq: bool = True, **more: Any) -> Any:
        """As the standard library's, but that a frozen one is hashed and compared as such and no more."""
        return dataclasses.dataclass(eq=eq, unsafe_hash=frozen and eq, **more)
