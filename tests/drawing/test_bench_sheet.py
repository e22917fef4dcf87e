"""The bench sheet says everything that is done, once, with places that a ruler finds."""

import re
from collections import Counter
from dataclasses import replace
from math import pi

import pytest

from openapi.example_requests import examples
from service.drawing import words
from service.drawing.printed.bench_sheet import bench_blocks
from service.drawing.printed.flow import Heading, Prose, Table
from service.drawing.printed.paper import upright
from service.drawing.printed.printed import tools_of
from service.drawing.printed.stations_text import places_text
from service.schemas.pattern import made_document
from service.schemas.spec import read_spec
from service.strap.plane.lengths import INCH, MM, reading, tape_reading
from service.strap.solve import solve
from service.workshop.cautions import cautions
from service.workshop.names import long_reading, tool_title
from service.workshop.steps import steps
from tests.drawing.printed_support import example, print_out, random_straps
from tests.drawing.support import SHOP, STRAPS, three_piece
from tests.drawing.test_flow import lowest

EXAMPLES = ["lined_bag_strap", "stitched_collar", "staggered_harness_strap", "bag_strap_motif"]


@pytest.fixture(params=[*STRAPS, *EXAMPLES, *range(6)])
def pattern(request):
    if request.param in STRAPS:
        return STRAPS[request.param]()
    return example(request.param) if request.param in EXAMPLES else random_straps(6)[request.param]


def sheet_of(pattern, units="in"):
    """The sheet's parts by their headings."""
    said = replace(pattern, spec=replace(pattern.spec, units=units))
    work = steps(said, SHOP)
    parts, name = {}, ""
    for block in bench_blocks(pattern, SHOP, units, work, cautions(said, SHOP), tools_of(pattern, work, SHOP)):
        if isinstance(block, Heading):
            name = block.text.split(":")[0]
            parts[name] = []
        else:
            parts[name].append(block)
    return parts


def rows(blocks):
    return [row for block in blocks if isinstance(block, Table) for row in block.rows]


def features(pattern, *actions):
    return [feature for piece in pattern.pieces for feature in piece.features if feature.action in actions]


def test_it_has_its_parts_in_the_order_of_the_bench(pattern):
    names = list(sheet_of(pattern))
    assert names[:5] == ["Bench sheet", "Cut list", "Material", "Work, in order", "Hardware to lay out"]
    assert names[-2:] == ["Measure after assembly", "Cautions"]


def test_the_cut_list_has_every_piece_with_its_strip_width_and_length(pattern):
    found = rows(sheet_of(pattern)["Cut list"])
    over = {"lining": INCH // 8}  # cut an eighth over all round (common practice)
    assert [(row[1], row[3], row[4]) for row in found] == [
        (words.PIECES[piece.name], *(reading(size + 2 * over.get(piece.name, 0), "in") for size in sizes))
        for piece, sizes in ((piece, (piece.width, piece.length)) for piece in pattern.pieces)
    ]


def test_each_punch_is_picked_up_once_for_all_that_it_cuts(pattern):
    """No tool stands twice in the work, but for one that cuts holes first and the ends of slots later."""
    punching = [row for row in rows(sheet_of(pattern)["Work, in order"]) if "Punch:" in row[2]]
    assert bool(punching) == any(each.method == "one_punch" for each in features(pattern, "punch"))
    assert len({row[1] for row in punching}) == len(punching)
    used = {tool_title(each.tool, SHOP) for each in features(pattern, "punch") if each.method == "one_punch"}
    assert {row[1].split("  ")[1] for row in punching} == used


def test_counts_add_up_to_the_features_of_the_pattern(pattern):
    work = rows(sheet_of(pattern)["Work, in order"])
    told = sum(int(count) for row in work for count in re.findall(r", (\d+) × [^:]*: ", row[2]))
    assert told == len(features(pattern, "punch", "mark"))


def test_every_place_is_told_to_a_ruler(pattern):
    """Each feature's reading stands in a line about its piece, or its row is told by first, step and last."""
    lines = [line for row in rows(sheet_of(pattern)["Work, in order"]) for line in row[2].split("\n")]
    for piece in pattern.pieces:
        about = " ".join(line for line in lines if f" {words.PIECES[piece.name]}, " in line)
        for feature in piece.features:
            if feature.action != "fold" and "then every" not in about:
                assert re.search(rf"(?<![\d/]){re.escape(reading(feature.x, 'in').removesuffix(' in'))}[, i]", about)


def test_a_long_row_of_equal_exact_steps_is_told_shortly_and_rightly():
    places = [INCH + n * INCH // 2 for n in range(20)]
    assert places_text(places, "in") == "1 in, then every 1/2 in to 10 1/2 in (20 places)"
    third = [INCH + n * INCH // 3 for n in range(20)]
    assert places_text(third, "in").count(",") == 19
    assert places_text(places[:3], "in") == "1, 1 1/2, 2 in"
    assert places_text([5 * MM, 12_345_678], "mm") == "5, ≈ 12.3 mm"


def test_hardware_counts_are_those_of_the_pattern(pattern):
    found = Counter()
    for row in rows(sheet_of(pattern)["Hardware to lay out"]):
        found[row[1]] += 1
    assert found == Counter(str(line.count) for line in pattern.hardware)


def test_lace_and_thread_are_laid_out_in_whole_units_as_they_are_bought():
    """The lace of three rows is 35.2 and 39.6 in, told in whole inches; no hardware is told in 64ths of an inch."""
    for name in ("lined_bag_strap", "stitched_collar", "parade_harness_strap"):
        long = [
            row[2] for row in rows(sheet_of(example(name))["Hardware to lay out"]) if row[2][:4] in ("lace", "thre")
        ]
        assert long
        assert all(re.fullmatch(r"(lace|thread), (\d+ ft)? ?(\d+ in)?", text) for text in long)


@pytest.mark.parametrize(
    ("name", "end"),
    [
        ("door_hanging", "on the left of the drawing"),
        ("dancers_bell_garter", "the tail that is folded back round the buckle"),
    ],
)
def test_places_are_read_from_an_end_that_the_strap_has(name, end):
    (prose, *_) = (block.text for block in sheet_of(example(name))["Work, in order"] if isinstance(block, Prose))
    assert f"from each piece's 0, its first end: {end}; " in prose


def test_the_lining_is_told_to_lie_with_its_flesh_up():
    told = {name: sheet_of(example(name))["Work, in order"][0].text for name in ("lined_bag_strap", "door_hanging")}
    assert "grain side up, the lining with its flesh side." in told["lined_bag_strap"]
    assert "grain side up. " in told["door_hanging"]


def test_no_tool_is_told_where_none_is_needed(pattern):
    told = " ".join(row[1] for row in rows(sheet_of(pattern)["Work, in order"]))
    assert "hand" not in told


def test_an_open_strap_is_ordered_and_measured_from_end_to_end():
    """36 in with a ring at each end is measured without them, and never from a buckle's fold."""
    parts = sheet_of(example("lined_bag_strap"))
    (measure,) = rows(parts["Measure after assembly"])
    assert measure[:2] == ("end to end, without the rings", "36 in")
    assert "36 in, end to end, without the rings" in [row[1] for row in rows(parts["Bench sheet"])]
    assert not [row for row in rows(parts["Bench sheet"]) if "fold's" in row[1]]


def test_the_finished_length_at_each_hole_is_there_to_be_measured(pattern):
    found = [row[1] for row in rows(sheet_of(pattern)["Measure after assembly"])]
    holes = [tape_reading(hole.length, "in") for hole in pattern.finished.holes]
    assert found[: len(holes)] == holes
    assert tape_reading(pattern.finished.length, "in") in found


def test_the_girth_that_fits_stands_beside_each_hole_at_which_the_tip_lies_down(pattern):
    table = rows(sheet_of(pattern)["Measure after assembly"])
    down = {worn.hole for worn in pattern.worn if worn.lies_down}
    fits = {hole.hole: tape_reading(hole.fits, "in") for hole in pattern.finished.holes if hole.hole in down}
    none = "none, the tip lies up"
    holes = [(tape_reading(each.length, "in"), fits.get(each.hole, none)) for each in pattern.finished.holes]
    assert [(row[1], row[2]) for row in table[: len(holes)]] == holes
    assert all(len(row) == 4 if holes else len(row) == 3 for row in table)


def test_a_joined_strap_is_measured_all_round_at_each_hole_with_the_girth_that_fits():
    """By hand: bar to bar and from 4 to 6 in; inside, less pi times strap and lining, 8.5 and 6.5 oz (geometry)."""
    pattern = example("neck_strap_with_keepers")
    blocks = sheet_of(pattern)["Measure after assembly"]
    (how, *_) = [block.text for block in blocks if isinstance(block, Prose)]
    assert how.endswith("counted from its middle. Within 1/8 in of it is good.")
    found = [row for row in rows(blocks) if row[0].startswith("hole ")]
    bars = pattern.finished.from_bar
    flats = [bars + added * INCH for added in (4, 6)]
    assert [row[:2] for row in found] == [
        ("hole 1, at which the size is measured", tape_reading(flats[0], "in")),
        ("hole 2", tape_reading(flats[1], "in")),
    ]
    thick = (8.5 + 6.5) * INCH / 64
    assert [row[2] for row in found] == [tape_reading(round(flat - pi * thick), "in") for flat in flats]


def test_a_hole_at_which_a_tip_cannot_lie_fits_nobody():
    spec = {
        "construction": "two_ends",
        "size": {"bar_to_bar": "40"},
        "body": {"width": "1"},
        "ends": {"head": {"kind": "buckle"}, "foot": {"kind": "buckle"}},
        "joining_strap": {"adds": {"from": "4", "to": "24"}},
        "ornaments": {"item": "bell_25", "count": 15},
    }
    parts = sheet_of(solve(read_spec(spec, "in"), SHOP))
    none = [row[0] for row in rows(parts["Measure after assembly"]) if row[2] == "none, the tip lies up"]
    assert none == ["hole 1", "hole 2", "hole 3", "hole 4"]
    (size,) = [row[2] for row in rows(parts["Work, in order"]) if "Try the size" in row[2]]
    assert "with its joining strap it fits girths of ≈ 51 9/16 in to ≈ 63 9/16 in" in size


def test_a_lining_that_keepers_hold_says_what_it_is_cut_to_and_what_it_is_made_up():
    """As answers do: cut to its length and its rise, whose figures agree (`cut_length`)."""
    pattern = example("neck_strap_with_keepers")
    lining = pattern.piece("lining")
    (row,) = [row for row in rows(sheet_of(pattern)["Cut list"]) if row[1] == "Lining"]
    assert row[4] == reading(lining.length + lining.rise, "in")
    assert row[5].endswith(f"rises {reading(lining.rise, 'in')} over the backs\n{reading(lining.length, 'in')} made up")
    told = next(each for each in made_document(pattern, (), (), "in")["pieces"] if each["name"] == "lining")
    assert told["cut_length"] == row[4]
    assert told["cut_length_mm"] == pytest.approx(told["length_mm"] + told["rise_mm"] + 2 * told["over_mm"])
    assert told["cut_width"] == row[3]


def test_cautions_are_all_there(pattern):
    said = replace(pattern, spec=replace(pattern.spec, units="in"))
    found = [block.text for block in sheet_of(pattern)["Cautions"] if isinstance(block, Prose)]
    assert tuple(found) == cautions(said, SHOP)


def test_folds_skives_lace_and_keeper_are_told_in_the_work():
    """Each once, with its figure: the fold's place, how thin, how long a lace, how far the keeper is lapped."""
    pattern = three_piece()
    told = [row[2] for row in rows(sheet_of(pattern)["Work, in order"])]
    (fold,) = (each.x for each in features(pattern, "fold"))
    keeper, lace = pattern.piece("keeper"), next(line for line in pattern.hardware if line.item == "lace")
    for wanted in (
        f"across its fold at {reading(fold, 'in')}",
        f"Skive the keeper from {reading(keeper.thickness, 'mm')} to {reading(keeper.skived, 'mm')}",
        f"Run one lace of {long_reading(lace.length, 'in')} behind the strap through",
        "lap its ends by 1/2 in",
    ):
        assert len([text for text in told if wanted in text]) == 1


def test_seams_are_told_with_their_holes_and_their_pitch():
    collar = example("stitched_collar")
    lines = [line for piece in collar.pieces for line in piece.stitch_lines]
    assert lines
    told = [row[2] for row in rows(sheet_of(collar)["Work, in order"]) if row[2].startswith("Prick")]
    wanted = [f"{line.holes} holes, {reading(line.pitch, 'in')} apart" for line in lines]
    assert [re.search(r"\d+ holes, [^,]* apart", text)[0] for text in told] == wanted


def test_units_are_those_that_are_asked_for():
    """Nothing on a sheet in millimetres is told in inches, but for what goods are called."""
    table = " ".join(cell for row in rows(sheet_of(three_piece(), "mm")["Cut list"]) for cell in row[3:])
    assert re.search(r"\d in\b", table) is None
    assert "609.6 mm" in table


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", [name for name in examples() if not name.startswith("refused")])
def test_no_page_has_a_few_lines_alone(name, paper):
    """A quarter of the last page's height at the least: some ten lines."""
    page = print_out(example(name), paper, sheet="only").pages[-1]
    tall = upright(paper, 7.0).inner.height
    assert lowest(page.items[:1]) >= 0.24 * tall


def test_the_sheet_is_printed_whole_in_black():
    """Ink on bench pages is black only, so that it reads the same from any printer."""
    pages = print_out(three_piece(), sheet="only").pages
    colours = set()

    def look(items):
        for item in items:
            look(getattr(item, "items", ()))
            for part in (getattr(item, "colour", None), getattr(getattr(item, "pen", None), "colour", None)):
                colours.add(part)

    for page in pages:
        look(page.items)
    assert colours <= {None, "#1c1c1c", "#000000"}
