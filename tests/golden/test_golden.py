"""Every example against its golden JSON, SVG and small PNG; a difference writes a page to look at.

`./tests/run --accept` renews the golden files. PNG is compared by pixels, since bytes differ between
versions of cairo.
"""

from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageStat

from openapi.example_requests import examples
from tests.support.review import ACCEPT, Difference, pretty, write_review

HERE = Path(__file__).parent
KEPT = HERE / "kept"
REVIEW = HERE / "review.html"
MEAN_APART = 1.5
"""Greatest mean difference of two pictures' pixels, of 255: what versions of cairo differ by."""
SMALL = "width_px=500"


def answers(client, spec: dict) -> dict[str, bytes]:
    """What the service makes of one spec, by file suffix."""
    made = client.post("/v1/patterns", json=spec)
    if made.status_code != 200:
        refusal = {name: value for name, value in made.json.items() if name != "request_id"}
        return {".json": pretty(refusal)}
    place = made.headers["Content-Location"]
    return {
        ".json": pretty({name: value for name, value in made.json.items() if name != "shop"}),
        ".svg": client.get(f"{place}.svg").data,
        ".png": client.get(f"{place}.png?{SMALL}").data,
    }


def is_alike(suffix: str, kept: bytes, found: bytes) -> bool:
    """The same text, or pictures that cannot be told apart."""
    if suffix != ".png":
        return kept == found
    before, after = (Image.open(BytesIO(data)).convert("RGB") for data in (kept, found))
    if before.size != after.size:
        return False
    return max(ImageStat.Stat(ImageChops.difference(before, after)).mean) <= MEAN_APART


def keep(name: str, found: dict[str, bytes]) -> None:
    """Take what was found for golden."""
    KEPT.mkdir(exist_ok=True)
    for suffix, data in found.items():
        (KEPT / f"{name}{suffix}").write_bytes(data)


@pytest.mark.parametrize("name", sorted(examples()))
def test_the_example_is_as_it_was(name, client):
    found = answers(client, examples()[name])
    if ACCEPT:
        keep(name, found)
    differences = []
    for suffix, data in found.items():
        path = KEPT / f"{name}{suffix}"
        kept = path.read_bytes() if path.exists() else b""
        if not kept or not is_alike(suffix, kept, data):
            differences.append(Difference(name, suffix, kept, data))
    if differences:
        page = write_review(REVIEW.with_name(f"review-{name}.html"), differences)
        pytest.fail(f"differs in {', '.join(d.suffix for d in differences)}: look at {page}, then tests/run --accept")


def test_nothing_golden_is_left_over():
    kept = {path.stem for path in KEPT.glob("*")}
    assert kept == set(examples())
