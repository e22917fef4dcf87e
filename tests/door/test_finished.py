"""The finished look over HTTP: its sizes, its background, and what belongs to which view."""

import io

import pytest
from PIL import Image

from service.door.caching import entity_tag
from tests.support.door import GOOD

POST = "/v1/patterns"


def ask(client, query, spec=None, accept="image/png"):
    return client.post(POST + query, json=spec or GOOD["dancers_bell_garter"], headers={"Accept": accept})


def image(answer):
    assert answer.status_code == 200, answer.text
    return Image.open(io.BytesIO(answer.data))


def faults(answer):
    assert answer.status_code == 422
    return {each["parameter"]: each["code"] for each in answer.json["errors"]}


@pytest.mark.parametrize("name", GOOD)
def test_every_example_has_a_finished_look(client, name):
    answer = ask(client, "?view=finished", GOOD[name])
    assert image(answer).width == 1200
    drawn = ask(client, "?view=finished", GOOD[name], "image/svg+xml")
    assert drawn.status_code == 200
    assert b'role="img"' in drawn.data
    assert b"finished look" in drawn.data


def test_a_social_card_has_just_the_size_that_was_asked_for(client):
    """1200 x 630 is what large previews are asked for in (common practice)."""
    card = image(ask(client, "?view=finished&width_px=1200&height_px=630"))
    assert card.size == (1200, 630)
    assert card.getpixel((0, 0)) == (0xF4, 0xEF, 0xE6)


@pytest.mark.parametrize("said", ["%23336699", "336699", "336699".upper()])
def test_a_background_may_be_chosen(client, said):
    answer = ask(client, f"?view=finished&width_px=320&background={said}")
    assert image(answer).getpixel((0, 0)) == (0x33, 0x66, 0x99)
    assert answer.headers["Content-Location"].endswith(".png?view=finished&width_px=320&background=336699")


def test_a_transparent_background_is_transparent(client):
    found = image(ask(client, "?view=finished&width_px=320&background=transparent"))
    assert found.mode == "RGBA"
    assert found.getpixel((0, 0))[3] == 0
    drawn = ask(client, "?view=finished&background=transparent", accept="image/svg+xml").text
    assert "H0Z" not in drawn
    assert 'H0Z" fill="#f4efe6"' in ask(client, "?view=finished", accept="image/svg+xml").text


def test_what_belongs_to_another_view_or_form_is_refused_by_name(client):
    assert faults(ask(client, "?view=finished&piece=strap")) == {"piece": "without_meaning"}
    assert faults(ask(client, "?width_px=100&height_px=100")) == {"height_px": "without_meaning"}
    assert faults(ask(client, "?background=ffffff")) == {"background": "without_meaning"}
    assert faults(ask(client, "?view=finished&height_px=100")) == {"height_px": "one_of"}
    assert faults(ask(client, "?view=finished&background=red")) == {"background": "invalid"}
    assert faults(ask(client, "?view=finished", accept="application/json")) == {"view": "without_meaning"}
    svg = ask(client, "?view=finished&width_px=9&height_px=9", accept="image/svg+xml")
    assert set(faults(svg)) == {"width_px", "height_px"}


def test_each_look_has_its_own_tag(client):
    queries = ("", "?view=finished", "?view=finished&background=ffffff", "?view=finished&width_px=320&height_px=320")
    tags = {ask(client, query).headers["ETag"] for query in queries}
    assert len(tags) == len(queries)
    assert entity_tag(b"") not in tags


def test_a_frame_of_too_many_pixels_is_refused_before_it_is_drawn(client):
    answer = ask(client, "?view=finished&width_px=8000&height_px=8000")
    assert answer.json["type"].endswith("picture_too_large")
    assert answer.status_code == 422
