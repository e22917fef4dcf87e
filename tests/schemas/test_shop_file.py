"""The shop file: read whole, or refused with every mistake in it by dotted key."""

import hashlib
import shutil
import tomllib
from dataclasses import replace
from decimal import Decimal

import pytest

from service.schemas.shop import SHOP_SCHEMA
from service.schemas.shop_document import shop_document
from service.shop.fixings import Prongs, Shank
from service.shop.looks import CutterLines
from service.shop_file import DEMO, ShopFileError, load_shop
from service.strap.errors import Refusal
from service.strap.model.spec import Billet, Body, Joint, Size, Spec
from service.strap.model.spec_set import Row
from service.strap.plane.lengths import INCH, MM
from service.strap.solve import solve

TEXT = DEMO.read_text(encoding="utf-8")


def mistakes(tmp_path, *changes, text=TEXT):
    """The mistakes in the demo file after some changes, by dotted key."""
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    path = tmp_path / "shop.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ShopFileError) as caught:
        load_shop(path)
    return {".".join(fault.path): fault.detail for fault in caught.value.faults}


def test_the_demo_shop_is_what_its_file_says(shop):
    """An ounce is 1/64 in (several trade tables); the others stand in the file."""
    leather = shop.leathers["harness_8_9"]
    assert (leather.thin, leather.thick) == (8 * INCH // 64, 9 * INCH // 64)
    assert leather.density == Decimal("1.0")
    assert shop.round_punches["punch_0"].diameter == 5 * INCH // 64
    assert shop.ornaments["bell_30"].fixing == Shank(
        width=14_500_000, thickness=2_400_000, height=8_500_000, direction="across"
    )
    assert shop.ornaments["spot_6"].fixing == Prongs(spread=4_600_000, length=5_600_000)
    assert shop.fasteners["double_cap_small"].mass_mg == 600
    assert shop.fasteners["double_cap_small"].price == Decimal("0.05")
    assert shop.rules.edge_web == 3 * MM
    assert shop.defaults.size_holes == 5
    pictures = b"".join(
        name.encode() + b"\0" + DEMO.with_name(name).read_bytes() for name in ("mark.svg", "star_concho.svg")
    )
    assert shop.digest == hashlib.sha256(DEMO.read_bytes() + pictures).hexdigest()
    assert list(shop.leathers) == ["harness_8_9", "bridle_10_11", "latigo_6_7", "lining_2_3"]


def test_sizes_have_the_labels_of_the_file():
    read = SHOP_SCHEMA.load(tomllib.loads(TEXT, parse_float=Decimal))
    assert read["size_tables"]["garter"].sizes["M"] == 14 * INCH
    assert list(read["size_tables"]["garter"].sizes) == ["S", "M", "L", "XL"]


def test_a_shop_cannot_be_changed(shop):
    with pytest.raises(TypeError):
        shop.leathers["harness_8_9"] = None


def test_every_mistake_is_reported_at_once(tmp_path):
    found = mistakes(
        tmp_path,
        ('edge_web = "3 mm"', 'edge_web = "3 qq"'),
        ('cut_web = "3 mm"', "cut_web = 3"),
        ('leather = "harness_8_9"', 'leather = "harnes_8_9"'),
        ('buckle = "heel_bar_25"', 'buckle = "heel_bar"'),
        ("ounces = [8, 9]", "ounces = [9, 8]"),
        ('currency = "EUR"', 'curency = "EUR"'),
        ('width_min = "3/8 in"', 'width_min = "9 in"'),
        ('mass_g = "19"', "mass_g = true"),
        ('price = "1.10"', 'price = "-1"'),
        ("[rings.ring_38]", "[rings.bell_38]"),
        ("overhang = true\n", ""),
        ('colour = "#8a4b22"', 'colour = "brown"'),
    )
    assert set(found) == {
        "rules.edge_web", "rules.cut_web", "defaults.leather", "defaults.buckle",
        "leathers.harness_8_9.ounces",
        "shop.curency", "shop.currency", "limits.width_min", "ornaments.bell_25.mass_g",
        "ornaments.bell_25.price", "ornaments.bell_38", "ornaments.bell_25.overhang",
        "leathers.harness_8_9.colour",
    }  # fmt: skip
    assert "did you mean 'harness_8_9'?" in found["defaults.leather"]
    assert "did you mean 'currency'?" in found["shop.curency"]
    assert "with its unit" in found["rules.cut_web"]


SPOILED = [
    ("size_holes = 5", "size_holes = 4", "defaults.size_holes"),
    ("size_holes = 5", "size_holes = 17", "defaults.size_holes"),
    ("size_holes = 5", 'size_holes = "5"', "defaults.size_holes"),
    ('body_width = "2 in"', 'body_width = "7 in"', "defaults.body_width"),
    ("joint_count = 2", "joint_count = 5", "defaults.joint_count"),
    ('grip_min = "1/8 in"', 'grip_min = "1/4 in"', "fasteners.double_cap_small.grip_min"),
    ('grip_max = "3/16 in"', 'grip_max = "3/8 in"', "fasteners.double_cap_small.grip_max"),
    ('clinch_min = "1.5 mm"', 'clinch_min = "5 mm"', "rules.clinch_min"),
    ("ounces = [8, 9]", "ounces = [8]", "leathers.harness_8_9.ounces"),
    ("ounces = [8, 9]", "ounces = [9, 8]", "leathers.harness_8_9.ounces"),
    ("ounces = [8, 9]", "ounces = [8, 65]", "leathers.harness_8_9.ounces"),
    ("ounces = [8, 9]", "ounces = [0, 9]", "leathers.harness_8_9.ounces"),
    ("ounces = [8, 9]", "ounces = [8, true]", "leathers.harness_8_9.ounces"),
    ("ounces = [8, 9]", 'thin = "3 mm"', "leathers.harness_8_9"),
    ("ounces = [8, 9]", 'ounces = [8, 9]\nthin = "3 mm"', "leathers.harness_8_9"),
    ("ounces = [8, 9]", 'thin = "4 mm"\nthick = "3 mm"', "leathers.harness_8_9.thin"),
    ("[leathers.harness_8_9]", "[leathers.Harness]", "leathers.Harness"),
    ("overhang = true", "overhang = true\nprongs = 3", "ornaments.bell_25"),
    ('ruler_tolerance = "0.10"', 'ruler_tolerance = "1.5"', "rules.ruler_tolerance"),
    ('ruler_tolerance = "0.10"', 'ruler_tolerance = "ten"', "rules.ruler_tolerance"),
    ('strip_length = "84 in"', 'strip_length = "0 in"', "leathers.harness_8_9.strip_length"),
    ('direction = "across"', 'direction = "accross"', "ornaments.bell_25.shank.direction"),
    ('title = "shank bell, 25 mm"', 'title = ""', "ornaments.bell_25.title"),
    ("stitches_per_inch = 7", "stitches_per_inch = 20", "defaults.stitches_per_inch"),
    ("stitches_per_inch = 7", "stitches_per_inch = 4", "defaults.stitches_per_inch"),
    ("size_holes_max = 15", "size_holes_max = 3", "defaults.size_holes"),
    ("joint_count_max = 4", "joint_count_max = 1", "defaults.joint_count"),
    ('post_length = "1/4 in"', 'barrel = "7 mm"', "fasteners.double_cap_small"),
    ('post_length = "1/4 in"\n', "", "fasteners.double_cap_small"),
    ('grip_min = "2.5 mm", grip_max', "grip_max", "ornaments.concho_25.screw_post"),
    ('grip_min = "2.5 mm"', 'barrel = "4 mm"', "ornaments.concho_25.screw_post"),
    ('rivet = { hole = "3.2 mm"', 'rivet = { hole = "1 mm"', "ornaments.no_2.rivet.hole"),
    ('screw = { hole = "4.2 mm"', 'screw = { hole = "3.9 mm"', "ornaments.no_4_screwed.screw.hole"),
    ('line_width = "0.25 mm"', 'line_width = "0.005 mm"', "cutter.line_width"),
    ('line_width = "0.25 mm"', 'line_width = "2 mm"', "cutter.line_width"),
    ('punch = "#0072b2"', 'punch = "blue"', "cutter.colours.punch"),
    ('punch = "#0072b2"', 'punch = "#000000"', "cutter.colours.punch"),
    ('punch = "#0072b2", ', "", "cutter.colours.punch"),
    ('fold = "#009e73"', 'fold = "#0072b2"', "cutter.colours.fold"),
    ('text = "#666666"', 'text = "grey"', "cutter.colours.text"),
    ('mass_g = "0.6"', 'mass_g = "0.0006"', "fasteners.double_cap_small.mass_g"),
    ('strip_width = "25 mm"', 'strip_width = "200 mm"', "defaults.mm.strip_width"),
    ('strip_width = "25 mm"', "strip_width = 25", "defaults.mm.strip_width"),
    ('keeper_room = "12 mm"', 'edge_web = "2 mm"', "rules.mm.edge_web"),
    ('graduation = "1/16 in"', 'graduation = "0 in"', "rules.graduation"),
    ('graduation = "1 mm"', "graduation = 1", "rules.mm.graduation"),
]


@pytest.mark.parametrize(("old", "new", "key"), SPOILED)
def test_each_kind_of_mistake_is_found_in_its_place(tmp_path, old, new, key):
    assert key in mistakes(tmp_path, (old, new))


SCREW_POST = """[fasteners.wide_post_7]
title = "screw post, 7 mm barrel"
post_diameter = "5 mm"
barrel = "7 mm"
cap_diameter = "10 mm"
mass_g = "4.5"
price = "0.35"
colour = "#cfcabd"

"""
FIRST = "[fasteners.double_cap_small]"


def shop_with(tmp_path, *changes):
    """The demo shop after some changes of its file."""
    text = TEXT
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    for name in ("mark.svg", "star_concho.svg"):
        shutil.copy(DEMO.with_name(name), tmp_path)
    path = tmp_path / "shop.toml"
    path.write_text(text, encoding="utf-8")
    return load_shop(path)


def test_a_screw_post_holds_what_its_barrel_matches_within_a_millimetre(tmp_path):
    """A leather supplier's rule: barrel and pressed stack within about 1 mm. Two plies of 8-9 oz: 6.35 to 7.14 mm."""
    shop = shop_with(
        tmp_path, (FIRST, SCREW_POST + FIRST), ('grip_min = "2.5 mm", grip_max = "6 mm"', 'barrel = "3.5 mm"')
    )
    post, concho = shop.fasteners["wide_post_7"], shop.ornaments["concho_25"].fixing
    assert (post.post_length, post.grip_min, post.grip_max) == (7 * MM, 6 * MM, 8 * MM)
    assert (concho.barrel, concho.grip_min, concho.grip_max) == (7 * MM // 2, 5 * MM // 2, 9 * MM // 2)
    size, garter = Size(girth=16 * INCH), Row(item="concho_25", count=2)
    strap = Spec(construction="one_piece", size=size, joint=Joint(fastener="wide_post_7"), ornaments=garter)
    made = solve(replace(strap, body=Body(width=3 * INCH // 2), billet=Billet(buckle="heel_bar_38")), shop)
    assert {line.item for line in made.hardware} >= {"wide_post_7", "concho_25"}
    thin = replace(
        strap, body=Body(width=3 * INCH // 2), leather="latigo_6_7", ornaments=None, billet=Billet(keeper=False)
    )
    with pytest.raises(Refusal) as refusal:
        solve(thin, shop)
    assert {fault.code for fault in refusal.value.faults} == {"fastener_long"}
    assert shop_document(shop, "mm")["fasteners"][0]["barrel"] == "7 mm"


def test_the_slack_of_screw_posts_is_the_shops(tmp_path):
    """Where the file says none it is the supplier's millimetre."""
    for line, slack in (('post_slack = "0.5 mm"', MM // 2), ("", MM)):
        shop = shop_with(tmp_path, (FIRST, SCREW_POST + FIRST), ('post_slack = "1 mm"', line))
        post = shop.fasteners["wide_post_7"]
        assert (post.grip_min, post.grip_max) == (7 * MM - slack, 7 * MM + slack)


def test_the_cutters_lines_are_the_files(tmp_path):
    colours = 'colours = { cut = "#000000", punch = "#0072b2", mark = "#d55e00", fold = "#009e73", text = "#666666" }'
    own = shop_with(tmp_path, ('line_width = "0.25 mm"', 'line_width = "0.1 mm"'), (colours, "")).cutter
    assert own == CutterLines(line_width=MM // 10)


LIMITS = [
    ("size_holes_max = 15", "size_holes_max = 5"),
    ("joint_count_max = 4", "joint_count_max = 2"),
    ('width_max = "6 in"', 'width_max = "2 in"'),
    ('width_min = "3/8 in"', 'width_min = "25 mm"'),
    ('stitch_pitch_max = "1/5 in"', 'stitch_pitch_max = "1/7 in"'),
    ('stitch_pitch_min = "2 mm"', 'stitch_pitch_min = "1/7 in"'),
]


@pytest.mark.parametrize(("old", "new"), LIMITS)
def test_a_default_may_be_just_what_its_limit_allows(old, new):
    assert old in TEXT
    data = tomllib.loads(TEXT.replace(old, new), parse_float=Decimal)
    assert SHOP_SCHEMA.load(data)["limits"]


def test_a_thickness_may_be_given_as_its_ends(tmp_path):
    path = tmp_path / "shop.toml"
    for picture in DEMO.parent.glob("*.svg"):
        shutil.copy(picture, tmp_path)
    path.write_text(TEXT.replace("ounces = [8, 9]", 'thin = "3.2 mm"\nthick = "3.6 mm"'), encoding="utf-8")
    leather = load_shop(path).leathers["harness_8_9"]
    assert (leather.thin, leather.thick, leather.thickness) == (3_200_000, 3_600_000, 3_400_000)


def test_an_empty_file_lacks_every_table(tmp_path):
    assert set(mistakes(tmp_path, text="")) == {
        "shop", "leathers", "round_punches", "slot_punches", "end_punches", "fasteners", "buckles", "rings",
        "ornaments", "rules", "defaults", "limits",
    }  # fmt: skip


@pytest.mark.parametrize("content", [b"[shop", b"a = 1\na = 2", b"\xff\xfe", b"a = " + b"9" * 5000])
def test_what_is_not_toml_is_said_to_be_none(tmp_path, content):
    path = tmp_path / "shop.toml"
    path.write_bytes(content)
    with pytest.raises(ShopFileError, match="not TOML"):
        load_shop(path)


def test_a_missing_file_is_said_to_be_missing(tmp_path):
    with pytest.raises(ShopFileError, match="No such file"):
        load_shop(tmp_path / "none.toml")


def test_a_shop_that_says_no_graduation_reads_sixteenths_and_millimetres(tmp_path):
    """Common practice."""
    path = tmp_path / "shop.toml"
    for picture in DEMO.parent.glob("*.svg"):
        shutil.copy(picture, tmp_path)
    kept = "\n".join(line for line in TEXT.splitlines() if not line.startswith("graduation"))
    before, _, after = kept.partition("[rules.mm]")
    for text in (kept, before + after[after.index("[defaults]") :]):
        path.write_text(text, encoding="utf-8")
        rules = load_shop(path).rules
        assert (rules.in_units("in").graduation, rules.in_units("mm").graduation) == (INCH // 16, MM)


def test_defaults_and_rules_in_millimetres_take_the_place_of_those_in_inches_only_there(shop):
    assert (shop.defaults.in_units("in").joint_spacing, shop.defaults.in_units("mm").joint_spacing) == (INCH, 25 * MM)
    assert (shop.rules.in_units("in").first_fold_rivet, shop.rules.in_units("mm").first_fold_rivet) == (
        2 * INCH,
        50 * MM,
    )
    assert shop.defaults.in_units("mm").hang_hole == INCH // 4
    bare = replace(shop.defaults, mm={})
    assert bare.in_units("mm") is bare


def test_the_shop_as_data_has_the_measures_of_the_units_it_is_asked_in(shop):
    in_mm, in_inches = shop_document(shop, "mm"), shop_document(shop, "in")
    assert (in_mm["defaults"]["joint_spacing"], in_inches["defaults"]["joint_spacing"]) == ("25 mm", "1 in")
    assert (in_mm["rules"]["graduation"], in_inches["rules"]["graduation"]) == ("1 mm", "1/16 in")
    assert "mm" not in in_mm["defaults"]


@pytest.mark.parametrize(
    ("old", "new", "key", "word"),
    [
        ('bells = "Bells"', 'bels = "Bells"', "columns.bels", "bells"),
        ('bells = "Bells"', 'bells = "Quantity"', "columns.bells", "twice"),
        ('bells = "Bells"', 'bells = "Country"', "columns.bells", "twice"),
        ('bells = "Bells"', "bells = 3", "columns.bells", "text"),
        ('ref = "Order"', "", "columns.ref", "given"),
        ('Burgundy = "latigo_6_7"', 'Burgundy = "latigo_7_8"', "values.leather.Burgundy", "not offered"),
        ('"Goat collar" = "goat_collar"', '"Goat collar" = "goat_colar"', "values.design.Goat collar", "goat_collar"),
        ("[exports.web_shop.values.pair]", "[exports.web_shop.values.quantity]", "values.quantity", "unknown"),
        ('yes = "true"', 'yes = "yes"', "values.pair.yes", "true or false"),
    ],
)
def test_an_export_that_means_nothing_here_is_told_by_its_key(tmp_path, old, new, key, word):
    """The columns and values of `[exports]` are those that orders of this shop can have."""
    before, mark, after = TEXT.rpartition("[exports.web_shop]")
    assert old in after
    found = mistakes(tmp_path, text=before + mark + after.replace(old, new, 1))
    assert word in found[f"exports.web_shop.{key}"]
