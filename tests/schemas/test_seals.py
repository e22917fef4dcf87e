"""Seals as texts: written and read back, canonical, and refused by a sentence where they are spoiled."""

import json
import random
from base64 import urlsafe_b64decode, urlsafe_b64encode

import pytest

from openapi.example_requests import examples
from service.schemas.codes import LONGEST_CODE, CodeError, code_of, document_of
from service.schemas.seals import is_seal, moved_document, posted_seal, read_seal, seal_of
from service.schemas.spec import SpecError, read_spec
from service.shop_file import demo_shop
from service.strap.model.likeness import Moved, figures_of, pattern_digest
from service.strap.plane.lengths import INCH, MM
from service.strap.solve import solve
from tests.support.door import GOOD

SHOP = demo_shop()
PATTERNS = {name: solve(read_spec(spec, "in"), SHOP) for name, spec in GOOD.items()}
HARNESS = seal_of(PATTERNS["parade_harness_strap"])


def written(document):
    return urlsafe_b64encode(json.dumps(document).encode()).rstrip(b"=").decode()


def inside(code):
    return json.loads(urlsafe_b64decode(code + "=" * (-len(code) % 4)))


def spoiled(**changes):
    document = inside(HARNESS) | changes
    return {name: value for name, value in document.items() if value is not None}


@pytest.mark.parametrize("name", PATTERNS)
def test_a_seal_is_read_back_as_it_was_written(name):
    pattern = PATTERNS[name]
    code = seal_of(pattern)
    assert is_seal(document_of(code))
    read = read_seal(document_of(code), "mm")
    assert read.code == code
    assert (read.digest, read.figures) == (pattern_digest(pattern), figures_of(pattern))


@pytest.mark.parametrize("name", PATTERNS)
def test_a_seal_of_a_usual_strap_fits_into_a_url(name):
    """2,000 characters, with the path, a suffix and a picture's options."""
    more = "/v1/patterns/.png?view=finished&width_px=1200&height_px=630&background=f4efe6"
    assert len(seal_of(PATTERNS[name])) + len(more) <= 2000


def test_a_strap_by_the_shops_table_is_sealed_by_its_length():
    """The shop may write another table later; the strap stays."""
    spec = examples()["garter_by_size"]
    assert "table" in spec["size"]
    assert set(inside(seal_of(PATTERNS["garter_by_size"]))["spec"]["size"]) == {"girth", "ease"}


def test_a_seal_written_otherwise_is_the_same_seal():
    document = inside(HARNESS)
    loose = urlsafe_b64encode(json.dumps(dict(reversed(document.items())), indent=1).encode()).rstrip(b"=").decode()
    assert loose != HARNESS
    assert read_seal(document_of(loose), "in").code == HARNESS


def test_a_plain_code_is_no_seal():
    assert not is_seal(document_of(code_of(PATTERNS["parade_harness_strap"].spec, "in")))


@pytest.mark.parametrize(
    "changes",
    [
        {"sealed": 2}, {"sealed": True}, {"sealed": "1"}, {"sealed": None}, {"sealed": [1]},
        {"pattern": None}, {"pattern": ""}, {"pattern": 7}, {"pattern": "x" * 23}, {"pattern": "?" * 22},
        {"figures": None}, {"figures": []}, {"figures": {}}, {"figures": {"finished": [], "hardware": {}}},
        {"figures": {"finished": {}, "hardware": {}, "pieces": {}}},
        {"figures": {"finished": [True], "hardware": {}, "pieces": {}}},
        {"figures": {"finished": [1.5], "hardware": {}, "pieces": {}}},
        {"figures": {"finished": [10**10], "hardware": {}, "pieces": {}}},
        {"figures": {"finished": [1, 2, 3, 4], "hardware": {}, "pieces": {}}},
        {"figures": {"finished": [], "hardware": {"<b>": [1]}, "pieces": {}}},
        {"figures": {"finished": [], "hardware": {"a": 1}, "pieces": {}}},
        {"figures": {"finished": [], "hardware": {"x" * 41: [1]}, "pieces": {}}},
        {"figures": {"finished": [], "hardware": {f"a{n}": [1] for n in range(201)}, "pieces": {}}},
        {"figures": {"finished": [], "hardware": {}, "pieces": {"body": {}}}},
        {"figures": {"finished": [], "hardware": {}, "pieces": {"body": [1, 2, 3, 4]}}},
        {"figures": {"finished": [], "hardware": {}, "pieces": {"body": [1, {}, 3]}}},
        {"figures": {"finished": [], "hardware": {}, "pieces": {"body": [1, 2, 3, {"joint": {}}]}}},
        {"spec": None}, {"moon": 1},
    ],
)  # fmt: skip
def test_a_spoiled_seal_is_no_code(changes):
    with pytest.raises(CodeError) as caught:
        read_seal(document_of(written(spoiled(**changes))), "in")
    assert caught.value.reason.startswith("it")


@pytest.mark.parametrize("spec", [[], 7, {}, {"construction": "open"}, {"moon": 1}])
def test_a_spec_in_it_that_cannot_be_read_is_told_as_one(spec):
    with pytest.raises(SpecError):
        read_seal(document_of(written(spoiled(spec=spec))), "in")


def test_seals_with_characters_changed_are_read_or_refused_and_never_break():
    """Three thousand of them, alike in every run."""
    dice = random.Random(11)
    outcomes = set()
    for _ in range(3000):
        text = list(HARNESS)
        for _ in range(dice.randint(1, 4)):
            text[dice.randrange(len(text))] = dice.choice("ABCDEFabcdef0123456789-_")
        try:
            document = document_of("".join(text))
            outcomes.add(type(read_seal(document, "in")))
        except (CodeError, SpecError) as error:
            outcomes.add(type(error))
    assert len(outcomes) == 3


def test_a_long_seal_is_read_and_one_beyond_all_reason_is_not():
    with pytest.raises(CodeError):
        document_of("A" * (LONGEST_CODE + 4))


@pytest.mark.parametrize(
    ("body", "code"),
    [
        ({"sealed": HARNESS, "units": "mm"}, "without_meaning"),
        ({"sealed": 7}, "wrong_type"),
        ({"sealed": None}, "wrong_type"),
        ({"sealed": "x"}, "unknown_code"),
        ({"sealed": written({"construction": "open"})}, "unknown_code"),
        ({"sealed": written(spoiled(spec={}))}, "missing"),
    ],
)
def test_a_body_with_a_wrong_seal_is_told_at_the_seal(body, code):
    with pytest.raises(SpecError) as caught:
        posted_seal(body, "in")
    assert {(fault.path, fault.code) for fault in caught.value.faults} == {(("sealed",), code)}


@pytest.mark.parametrize(
    ("figure", "told"),
    [
        (
            Moved(path=("finished", "length"), before=36 * INCH, after=36 * INCH + INCH // 4),
            {"figure": "finished.length", "from": "36 in", "from_mm": 914.4, "to": "36 1/4 in", "to_mm": 920.75,
             "detail": "made up, length: 36 in as it was sealed, 36 1/4 in today."},
        ),
        (
            Moved(path=("hardware", "bell_25", "count"), before=5, after=None),
            {"figure": "hardware.bell_25.count", "from": 5,
             "detail": "bell 25, how many: 5 as it was sealed, none today."},
        ),
        (
            Moved(path=("pieces", "tongue_billet", "size_hole", "first"), before=100 * MM, after=100 * MM + 6000),
            {"figure": "pieces.tongue_billet.size_hole.first", "from": "≈ 3 15/16 in", "from_mm": 100.0,
             "to": "≈ 3 15/16 in", "to_mm": 100.006,
             "detail": "tongue billet, size hole, place of the first: 100.0 mm as it was sealed, 100.006 mm today."},
        ),
    ],
)  # fmt: skip
def test_a_figure_that_moved_is_told_as_a_person_reads_it(figure, told):
    """36 in is 914.4 mm, 1/4 in is 6.35 mm; 100 mm is 3.937 in, nearest 3 15/16 (3.9375) in sixty-fourths."""
    assert moved_document(figure, "in") == told
