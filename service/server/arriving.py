"""What has come of a request so far, and whether all of it has: bytes only, no sockets and no clock.

It decides when a request is worth a thread, never what it means. The server's own parser reads the same bytes after
that and has the only word on them: what is taken for whole here too early is waited for there, as it always was.
"""

import re

_END_OF_HEAD = b"\r\n\r\n"
_LENGTH = re.compile(rb"\r\ncontent-length:[ \t]*([0-9]{1,12})[ \t]*\r\n", re.IGNORECASE)
_CHUNKED = re.compile(rb"\r\ntransfer-encoding:", re.IGNORECASE)
_EXPECTING = re.compile(rb"\r\nexpect:", re.IGNORECASE)
_LAST_CHUNK = re.compile(rb"\r\n0+[ \t]*(;[^\r\n]*)?\r\n")
_LONGEST_LAST_CHUNK = 256


class Arriving:
    """The bytes of one request (RFC 9112, sections 2.1, 6 and 7.1), of a head of at most `head_max` bytes.

    A body is waited for up to `body_max` bytes. A caller who waits for `100 Continue` sends none until it is read.
    """

    def __init__(self, head_max: int, body_max: int) -> None:
        self._head_max, self._body_max = head_max, body_max
        self._came = bytearray()
        self._head_end = 0
        self._length: int | None = 0

    def __len__(self) -> int:
        return len(self._came)

    @property
    def has_head(self) -> bool:
        """Whether the head is there to its end."""
        return self._head_end > 0

    def add(self, more: bytes) -> bool:
        """Whether all is there with these bytes, or as much as is waited for."""
        before = len(self._came)
        self._came += more
        if not self._head_end:
            end = self._came.find(_END_OF_HEAD, max(0, before - len(_END_OF_HEAD)))
            if end < 0:
                return len(self._came) > self._head_max
            self._head_end = end + len(_END_OF_HEAD)
            self._length = _length_of(bytes(self._came[: self._head_end]))
        return self._has_body(before)

    def take(self) -> bytes:
        """All that came; nothing is kept of it."""
        came = bytes(self._came)
        self._came.clear()
        self._head_end, self._length = 0, 0
        return came

    def _has_body(self, before: int) -> bool:
        came = len(self._came) - self._head_end
        wanted = self._body_max if self._length is None else min(self._length, self._body_max)
        if came >= wanted:
            return True
        since = max(self._head_end - 2, before - _LONGEST_LAST_CHUNK)
        return self._length is None and _LAST_CHUNK.search(self._came, since) is not None


def _length_of(head: bytes) -> int | None:
    """How many bytes of a body a head announces; None where its chunks will say."""
    if _EXPECTING.search(head):
        return 0
    if _CHUNKED.search(head):
        return None
    length = _LENGTH.search(head)
    return int(length[1]) if length else 0
