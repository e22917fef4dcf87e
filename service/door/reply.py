"""What a view gives: an answer that is made, or one that the cache may have."""

from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass, field

from service.door.machine.answer_cache import Located
from service.forms.form import Cost


@dataclass(frozen=True, slots=True, kw_only=True)
class Reply:
    """An answer that is made already."""

    content: bytes
    media_type: str | None = None
    """The form's, where nothing is said."""
    headers: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class CachedReply:
    """An answer that the cache may have. Until it is looked for there, nothing of it is read or made."""

    source: bytes
    """All that the caller sent that says what is meant; what cannot be made is remembered by it."""
    key: Hashable
    """Of the source and of how the answer is put out."""
    locate: Callable[[], Located]
    """Reads what is meant."""
    prepare: Callable[[], Callable[[], bytes]]
    """Reads it if that is not done, and gives what makes the answer in its turn."""
    cost: Cost
    headers: Mapping[str, str] = field(default_factory=dict)


Answer = Reply | CachedReply
