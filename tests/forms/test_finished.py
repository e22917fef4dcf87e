"""The finished look: true proportion measured in pixels, everything seen, the same picture by both painters."""

import io
import os
import subprocess
import sys
from dataclasses import replace

import cairosvg
import numpy as np
import pytest
from PIL import Image

from service.drawing.finished.view import finished_view
from service.forms.png import png
from service.forms.svg import svg
from service.schemas.pattern import made_document
from service.strap.model.spec import Billet, Body, Size, Spec
from service.strap.model.spec_set import Row
from service.strap.plane.lengths import INCH
from service.strap.solve import solve
from tests.drawing.support import SHOP, STRAPS, one_piece, open_strap, three_piece

SCALE = 10
"""Pixels a millimetre: 254 dpi."""
MAX_PIXELS = 100_000_000
SHOWN = ("ornament", "between", "border")


def collar():
    """A herding dog's collar with the shop's own picture of a concho."""
    size = Size(girth=18 * INCH)
    spec = Spec(
        construction="one_piece",
        size=size,
        units="in",
        leather="bridle_10_11",
        body=Body(width=3 * INCH // 2),
        billet=Billet(buckle="heel_bar_38"),
        ornaments=Row(item="star_concho_25", count=5),
    )
    return solve(spec, SHOP)


def centre_bar():
    """A strap through a buckle with its bar across the middle, with spots."""
    return solve(
        Spec(
            construction="one_piece",
            size=Size(finished_length=20 * INCH),
            billet=Billet(buckle="centre_bar_25"),
            ornaments=Row(item="spot_10", count=9),
        ),
        SHOP,
    )


ALL = {**STRAPS, "collar": collar, "centre_bar": centre_bar}


@pytest.fixture(params=ALL)
def pattern(request):
    return ALL[request.param]()


def look(pattern, **more):
    return finished_view(pattern, SHOP, **{"units": "in", "background": None, **more})


def picture(drawing, **size):
    """Red, green, blue and alpha of every pixel."""
    data = png(drawing, **(size or {"dpi": SCALE * 25.4}), max_pixels=MAX_PIXELS, colours="full")
    return np.asarray(Image.open(io.BytesIO(data)).convert("RGBA")).astype(int)


def solid(drawing):
    """Where something is that cannot be seen through: shadows and the walls of holes are not."""
    return picture(drawing)[:, :, 3] == 255


def only(drawing, *names):
    return replace(drawing, layers=tuple(layer for layer in drawing.layers if layer.id in names))


def extent(line):
    """From the first to the last solid pixel, in millimetres."""
    found = np.nonzero(line)[0]
    return found[0] / SCALE, (found[-1] + 1) / SCALE


def document(pattern):
    return made_document(pattern, (), (), "in")


def piece_of(data, name):
    return next(piece for piece in data["pieces"] if piece["name"] == name)


def features(data, *purposes):
    return [each for piece in data["pieces"] for each in piece["features"] if each["purpose"] in purposes]


@pytest.mark.parametrize("name", ["three_piece", "one_piece", "collar", "centre_bar"])
def test_a_buckled_strap_is_as_long_as_the_answer_says(name):
    """From the frame's outer edge to the tip: to the middle hole, and from there to the end of its piece."""
    data = document(pattern := ALL[name]())
    piece = piece_of(data, "tongue_billet" if name == "three_piece" else "strap")
    holes = [each for each in piece["features"] if each["purpose"] == "size_hole"]
    beyond = piece["length_mm"] - holes[len(holes) // 2]["x_mm"]
    left, right = extent(solid(look(pattern)).any(axis=0))
    assert right - left == pytest.approx(data["finished"]["from"]["frame_mm"] + beyond, abs=0.25)


def test_an_open_strap_is_as_long_as_the_answer_says_ring_and_all():
    data = document(pattern := open_strap())
    left, right = extent(solid(look(pattern)).any(axis=0))
    assert right - left == pytest.approx(data["finished"]["from"]["frame_mm"], abs=0.25)


def test_the_body_is_as_wide_as_the_answer_says():
    data = document(pattern := three_piece())
    top, bottom = extent(solid(only(look(pattern), "strap")).any(axis=1))
    assert bottom - top == pytest.approx(piece_of(data, "body")["width_mm"], abs=0.15)


def test_size_holes_are_seen_through_at_their_finished_lengths():
    """Every hole's middle, measured from the frame's outer edge, is its length in the answer, to 0.15 mm."""
    data = document(pattern := one_piece())
    mask = solid(look(pattern))
    left, _ = extent(mask.any(axis=0))
    middle = mask.shape[0] // 2
    to_fold = data["finished"]["from"]["frame_mm"] - data["finished"]["from"]["fold_mm"]
    assert data["finished"]["measured_from"] == "fold"
    for hole in data["finished"]["holes"]:
        x = left + to_fold + hole["length_mm"]
        start = round((x - 5) * SCALE)
        rows, columns = np.nonzero(~mask[middle - 50 : middle + 50, start : start + 100])
        assert (start + columns.mean() + 0.5) / SCALE == pytest.approx(x, abs=0.15)
        assert rows.mean() + 0.5 == pytest.approx(50, abs=1.5)
        punched = features(data, "size_hole")[0]["diameter_mm"]
        assert (columns.max() - columns.min() + 1) / SCALE == pytest.approx(punched, abs=0.3)


def test_ornaments_have_their_size_and_their_distances(pattern):
    """Each disc measured alone: its diameter is the shop's, its place that of the answer."""
    data, drawing = document(pattern), look(pattern)
    placed = [each for each in features(data, *SHOWN) if each["item"] in SHOP.ornaments]
    mask = solid(only(drawing, "ornaments"))
    shift = _shift(drawing, data, placed)
    for each in placed:
        radius = SHOP.ornaments[each["item"]].diameter / 2e6
        x, y = each["x_mm"] + shift, each["y_mm"] + drawing.height / 2
        reach = radius + 0.6
        window = mask[round((y - reach) * SCALE) : round((y + reach) * SCALE)]
        window = window[:, round((x - reach) * SCALE) : round((x + reach) * SCALE)]
        across, down = extent(window.any(axis=0)), extent(window.any(axis=1))
        assert across[1] - across[0] == pytest.approx(2 * radius, abs=0.25), each["id"]
        assert down[1] - down[0] == pytest.approx(2 * radius, abs=0.25), each["id"]
        assert sum(across) / 2 == pytest.approx(reach, abs=0.15), each["id"]
        assert sum(down) / 2 == pytest.approx(reach, abs=0.15), each["id"]


def _shift(drawing, data, placed):
    """From x on the piece to x in the picture: by the first ornament, measured; the others have to agree."""
    mask = solid(only(drawing, "ornaments"))
    row = next(each for each in placed if each["purpose"] == "ornament")
    level = mask[round(drawing.height / 2 * SCALE)]
    rivets = len({each["id"] for each in features(data, "joint", "fold_rivet")})
    runs = np.flatnonzero(np.diff(np.concatenate(([0], level.astype(int), [0])))).reshape(-1, 2)
    wide = [run for run in runs if run[1] - run[0] > 9.5 * SCALE]
    assert rivets
    return (wide[0][0] + wide[0][1]) / 2 / SCALE - row["x_mm"]


def test_every_ornament_and_rivet_stands_out_from_the_leather(pattern):
    """Its middle differs from the bare leather by a tenth of the whole range, all pixels taken together."""
    drawing = look(pattern, background="#ffffff")
    with_them, without = picture(drawing), picture(only(drawing, "shadow", "strap"))
    stamps = drawing.layers[-1].items[0]
    assert stamps.items
    ids = {stamp.id for stamp in stamps.items}
    assert {each["id"] for each in features(document(pattern), *SHOWN)} <= ids
    for stamp in stamps.items:
        x, y = round((stamps.x + stamp.x) * SCALE), round((stamps.y + stamp.y) * SCALE)
        window = np.s_[y - 20 : y + 20, x - 20 : x + 20, :3]
        apart = np.abs(with_them[window] - without[window]).mean(axis=(0, 1)).max()
        assert apart > 25, stamp.id


@pytest.mark.parametrize("leather", SHOP.leathers)
def test_the_leather_has_the_colour_of_the_shop_file(leather):
    """The mean over a strap without ornaments is near it in every channel: light and shade keep the balance."""
    spec = Spec(construction="open", size=Size(body_length=20 * INCH), leather=leather)
    seen = picture(look(solve(spec, SHOP)))
    mean = seen[seen[:, :, 3] == 255][:, :3].mean(axis=0)
    colour = SHOP.leathers[leather].colour
    wanted = [int(colour[n : n + 2], 16) for n in (1, 3, 5)]
    assert np.abs(mean - wanted).max() < 20


def test_both_painters_show_the_same_picture(pattern):
    """Our PNG against what CairoSVG makes of our SVG: gradients, stamps, sheer fills, pictures of the shop's."""
    drawing = look(pattern, aspect=3, background="#f4efe6")
    ours = picture(drawing, width_px=1200)
    theirs = cairosvg.svg2png(bytestring=svg(drawing).encode(), output_width=1200)
    theirs = np.asarray(Image.open(io.BytesIO(theirs)).convert("RGBA")).astype(int)
    assert ours.shape == theirs.shape == (400, 1200, 4)
    apart = np.abs(ours - theirs).max(axis=2)
    assert apart.mean() < 0.1
    assert (apart > 24).mean() < 0.002


@pytest.mark.parametrize(("width", "height"), [(1200, 630), (320, 320), (600, 1200), (1600, 90)])
def test_a_frame_is_filled_to_the_pixel_with_the_strap_in_its_middle(width, height):
    drawing = look(three_piece(), aspect=width / height, background="#f4efe6")
    seen = picture(drawing, width_px=width)
    assert seen.shape[:2] == (height, width)
    ground = np.array([0xF4, 0xEF, 0xE6])
    assert (seen[[0, 0, -1, -1], [0, -1, 0, -1], :3] == ground).all()
    rows, columns = np.nonzero(np.abs(seen[:, :, :3] - ground).max(axis=2) > 100)
    assert (columns.min() + columns.max() + 1) / 2 == pytest.approx(width / 2, abs=3)
    assert (rows.min() + rows.max() + 1) / 2 == pytest.approx(height / 2, abs=3)


def test_the_proportion_does_not_depend_on_the_frame():
    """A bell is as high as wide, and as many pixels as the scale says, whatever the frame."""
    for aspect in (None, 1200 / 630, 1.0, 0.3):
        drawing = only(look(one_piece(), aspect=aspect), "ornaments")
        mask = picture(drawing, width_px=2000)[:, :, 3] == 255
        scale = 2000 / drawing.width
        rows = np.nonzero(mask.any(axis=1))[0]
        assert (rows[-1] - rows[0] + 1) / scale == pytest.approx(25, abs=2.5 / scale)


def test_without_a_background_the_corners_are_clear_and_the_ground_has_a_soft_shadow(pattern):
    seen = picture(look(pattern), width_px=900)
    assert (seen[[0, 0, -1, -1], [0, -1, 0, -1], 3] == 0).all()
    border = np.concatenate([seen[0], seen[-1], seen[:, 0], seen[:, -1]])
    assert border[:, 3].max() <= 4
    assert len(np.unique(seen[:, :, 3])) > 60


SCRIPT = """
import hashlib
from service.forms.png import png
from service.forms.svg import svg
from tests.forms.test_finished import ALL, look
for make in ALL.values():
    drawing = look(make(), background="#f4efe6")
    print(hashlib.sha256(svg(drawing).encode()).hexdigest())
    print(hashlib.sha256(png(drawing, width_px=600, max_pixels=10**7, colours="full")).hexdigest())
"""


def test_two_processes_draw_the_same_bytes():
    """Under other hash seeds, time zones and locales."""

    def run(seed, zone, locale):
        changed = {"PYTHONHASHSEED": seed, "TZ": zone, "LC_ALL": locale}
        done = subprocess.run([sys.executable, "-c", SCRIPT], env=os.environ | changed, capture_output=True, check=True)
        return done.stdout

    first = run("1", "UTC", "C")
    assert len(first.split()) == 2 * len(ALL)
    assert first == run("4711", "Asia/Kathmandu", "C.UTF-8")
