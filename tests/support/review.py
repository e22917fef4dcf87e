"""A page that shows what differs from golden: before, after, and one laid over the other."""

from base64 import b64encode
from dataclasses import dataclass
from difflib import unified_diff
from html import escape
from io import BytesIO
from pathlib import Path

from PIL import Image, ImageChops

_MOST_LINES = 200


@dataclass(frozen=True, slots=True)
class Difference:
    """One file of one example, as it was kept and as it is now, and what else is to be said of it."""

    name: str
    suffix: str
    kept: bytes
    found: bytes
    about: str = ""


def write_review(path: Path, differences: list[Difference]) -> Path:
    """Write the page and return where it is."""
    parts = [_PAGE_HEAD, *(_section(difference) for difference in differences)]
    path.write_text("\n".join(parts), encoding="utf-8")
    return path


def _section(difference: Difference) -> str:
    title = f"<h2>{escape(difference.name + difference.suffix)}</h2>"
    if difference.about:
        title += f"<pre>{escape(difference.about)}</pre>"
    if difference.suffix == ".png":
        return title + _pictures(difference)
    text = _lines(difference)
    if difference.suffix == ".svg":
        shown = "".join(_picture("image/svg+xml", data) for data in (difference.kept, difference.found) if data)
        return f"{title}<div>{shown}</div>{text}"
    return title + text


def _lines(difference: Difference) -> str:
    before, after = (data.decode(errors="replace").splitlines() for data in (difference.kept, difference.found))
    lines = list(unified_diff(before, after, "kept", "now", lineterm="", n=1))[:_MOST_LINES]
    return f"<pre>{escape(chr(10).join(line[:300] for line in lines))}</pre>"


def _pictures(difference: Difference) -> str:
    shown = [_picture("image/png", data) for data in (difference.kept, difference.found) if data]
    if difference.kept:
        shown.append(_picture("image/png", _overlay(difference.kept, difference.found)))
    return f"<div>{''.join(shown)}</div>"


def _overlay(kept: bytes, found: bytes) -> bytes:
    """Where the two pictures differ, black on white."""
    before, after = (Image.open(BytesIO(data)).convert("L") for data in (kept, found))
    apart = ImageChops.invert(ImageChops.difference(before, after.resize(before.size)))
    buffer = BytesIO()
    apart.save(buffer, "PNG")
    return buffer.getvalue()


def _picture(kind: str, data: bytes) -> str:
    return f'<img alt="" src="data:{kind};base64,{b64encode(data).decode()}">'


_PAGE_HEAD = """<!doctype html><meta charset="utf-8"><title>What differs</title>
<style>body{font:15px/1.5 sans-serif;margin:2em}img{max-width:100%;border:1px solid #ccc;margin:.5em 0;display:block}
pre{background:#f6f6f6;padding:1em;overflow:auto;white-space:pre-wrap}</style><h1>What differs</h1>
<p>In each text: - as it was, + as it is now. In each picture row: as it was, as it is now, and where both are pictures
of pixels the two laid over each other.</p>"""
