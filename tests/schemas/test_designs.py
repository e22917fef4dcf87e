"""Designs of the shop file: what a mistake says and where, and how choices are read and written."""

import shutil
import tomllib
from decimal import Decimal

import pytest

from service.app import create_app, start
from service.desk.selling import DesignsError, check_designs, spec_of
from service.door.options import output_parameters
from service.schemas.choosing import (
    ChoiceError,
    choose,
    chosen_document,
    query_text,
    read_value,
    value_title,
)
from service.schemas.designs import RESERVED, path_of, spec_field
from service.schemas.shop import SHOP_SCHEMA
from service.settings import Settings
from service.shop.designs import Range
from service.shop_file import DEMO, ShopFileError, load_shop
from service.strap.plane.lengths import INCH

GARTER = {
    "title": "A garter",
    "about": "For dancing.",
    "spec": {"construction": "one_piece", "body": {"width": "1 in"}, "ornaments": {"item": "bell_25"}},
    "choices": {
        "length": {
            "title": "Round", "pointer": "/size/girth", "from": "12 in", "to": "16 in", "step": "1/4 in",
            "default": "14 in",
        },
        "bells": {"title": "Bells", "pointer": "/ornaments/count", "from": 2, "to": 6, "step": 1, "default": 4},
        "leather": {
            "title": "Leather", "pointer": "/leather", "default": "harness_8_9",
            "values": [{"value": "harness_8_9", "title": "Russet"}, {"value": "latigo_6_7", "title": "Burgundy"}],
        },
        "keeper": {
            "title": "Keeper", "pointer": "/billet/keeper", "default": True,
            "values": [{"value": True, "title": "With a keeper"}, {"value": False, "title": "Without"}],
        },
        "width": {
            "title": "Width", "pointer": "/body/width", "default": "1 in",
            "values": [{"value": "1 in", "title": "Broad"}, {"value": "24 mm", "title": "Narrow"}],
        },
    },
}  # fmt: skip


def changed(**places):
    """The garter with values set at places such as choices__bells__step; `None` takes the member out."""

    def copy(part):
        return {key: copy(value) for key, value in part.items()} if isinstance(part, dict) else part

    design = copy(GARTER)
    for place, value in places.items():
        *parents, last = place.split("__")
        here = design
        for name in parents:
            here = here[name]
        if value is None:
            del here[last]
        else:
            here[last] = value
    return design


def write(tmp_path, design):
    """A shop file: the demo shop with this design for all of its own."""
    path = tmp_path / "ours.toml"
    path.write_text(without_designs(tmp_path) + "\n" + toml(design), encoding="utf-8")
    return path


def without_designs(tmp_path):
    """The demo shop's text up to its designs; its pictures are put where the text is going to be."""
    for picture in DEMO.parent.glob("*.svg"):
        shutil.copy(picture, tmp_path)
    text = DEMO.read_text(encoding="utf-8")
    return text[: text.index("\n[designs.")]


def toml(design):
    def value(part):
        if isinstance(part, dict):
            return "{ " + ", ".join(f'"{key}" = {value(inner)}' for key, inner in part.items()) + " }"
        if isinstance(part, list):
            return "[" + ", ".join(map(value, part)) + "]"
        return str(part).lower() if isinstance(part, bool | int) else f'"{part}"'

    return "[designs.garter]\n" + "\n".join(f"{key} = {value(part)}" for key, part in design.items()) + "\n"


def mistakes(tmp_path, design):
    """The mistakes in a design by dotted key."""
    with pytest.raises(ShopFileError) as refused:
        load_shop(write(tmp_path, design))
    return {".".join(fault.path).removeprefix("designs.garter."): fault for fault in refused.value.faults}


@pytest.fixture
def design(tmp_path):
    return load_shop(write(tmp_path, GARTER)).designs["garter"]


def test_a_design_is_read_as_it_stands(design):
    assert [choice.name for choice in design.choices] == list(GARTER["choices"])
    assert design.length.offer == Range(least=12 * INCH, most=16 * INCH, step=INCH // 4, default=14 * INCH)
    assert len(design.length.offer) == 17
    assert design.count.name == "bells"
    assert [choice.name for choice in design.others] == ["leather", "keeper", "width"]
    assert design.defaults()["width"] == INCH


WRONG_DESIGNS = [
    # change, key, code
    ({"about": None}, "about", "missing"),
    ({"spec": "a strap"}, "spec", "wrong_type"),
    ({"spec__leathr": "x"}, "spec.leathr", "unknown_field"),
    ({"spec__ornaments__item": 5}, "spec.ornaments.item", "wrong_type"),
    ({"spec__ornaments__spacing": {"pitch": "wide"}}, "spec.ornaments.spacing.pitch", "not_a_length"),
    ({"spec__size": 3}, "spec.size", "wrong_type"),
    ({"choices__length": None}, "choices", "missing"),
    ({"choices__length__pointer": "size/girth"}, "choices.length.pointer", "invalid"),
    ({"choices__length__pointer": "/size/~2"}, "choices.length.pointer", "invalid"),
    ({"choices__length__pointer": "/size"}, "choices.length.pointer", "unknown_member"),
    ({"choices__length__pointer": "/size/wide"}, "choices.length.pointer", "unknown_member"),
    ({"choices__length__from": "12"}, "choices.length.from", "not_a_length"),
    ({"choices__length__from": None}, "choices.length", "one_of"),
    ({"choices__length__step": "3/8 in"}, "choices.length.step", "out_of_order"),
    ({"choices__length__step": "0 in"}, "choices.length.step", "out_of_order"),
    ({"choices__length__step": "1/200 in"}, "choices.length.step", "out_of_range"),
    ({"choices__length__default": "14 1/8 in"}, "choices.length.default", "not_offered"),
    ({"choices__bells__to": 1}, "choices.bells.step", "out_of_order"),
    ({"choices__bells__default": 7}, "choices.bells.default", "not_offered"),
    ({"choices__bells__from": "2"}, "choices.bells.from", "wrong_type"),
    ({"choices__bells__values": []}, "choices.bells.values", "out_of_range"),
    ({"choices__bells__pointer": "/size/body_length", "choices__bells__from": "1 in", "choices__bells__to": "2 in",
      "choices__bells__step": "1 in", "choices__bells__default": "1 in"}, "choices", "missing"),
    ({"choices__leather__values": [{"value": "x"}]}, "choices.leather.values.0.title", "missing"),
    ({"choices__leather__values": [{"value": 5, "title": "Five"}]}, "choices.leather.values.0.value", "wrong_type"),
    ({"choices__leather__default": "no_such"}, "choices.leather.default", "not_offered"),
    ({"choices__keeper__default": 1}, "choices.keeper.default", "wrong_type"),
    ({"choices__leather__from": 1}, "choices.leather", "one_of"),
    ({"choices__leather__pointer": "/body/width"}, "choices.leather.values.0.value", "not_a_length"),
    ({"choices__width__pointer": "/size/girth"}, "choices.width.pointer", "given_twice"),
    ({"choices__keeper": None, "choices__view": GARTER["choices"]["keeper"]}, "choices.view", "given_twice"),
    ({"choices__bells": {"title": "Bells", "pointer": "/ornaments/count", "default": 4,
                         "values": [{"value": 4, "title": "Four"}]}}, "choices.bells.values", "wrong_type"),
    ({"choices__leather__values": [{"value": "latigo_6_7", "title": "One"}] * 2,
      "choices__leather__default": "latigo_6_7"}, "choices.leather.values", "given_twice"),
    ({"choices__leather__values": [{"value": f"l{n}", "title": "One"} for n in range(501)]},
     "choices.leather.values", "out_of_range"),
    ({"choices__leather__values": ["harness_8_9"]}, "choices.leather.values", "wrong_type"),
    ({"choices__length__step": "1/100 in", "choices__bells__to": 40}, "choices.bells.step", "out_of_range"),
    ({"choices__width__pointer": "/body/end/shape"}, "choices.width.values.0.value", "unknown_value"),
]  # fmt: skip


@pytest.mark.parametrize(("change", "key", "code"), WRONG_DESIGNS)
def test_each_mistake_is_told_by_its_key(tmp_path, change, key, code):
    found = mistakes(tmp_path, changed(**change))
    assert key in found, found
    assert found[key].code == code


def test_every_parameter_of_a_pattern_is_a_name_that_no_choice_may_have():
    assert {each.name for each in output_parameters(Settings())} <= RESERVED


def test_a_choice_has_at_most_500_values(tmp_path):
    values = [{"value": f"l{n}", "title": "One"} for n in range(500)]
    design = changed(choices__leather__values=values, choices__leather__default="l499")
    assert len(load_shop(write(tmp_path, design)).designs["garter"].choice("leather").offer) == 500


def test_a_design_whose_default_cannot_be_made_stops_the_start_with_its_reason(tmp_path, monkeypatch, capsys):
    path = write(tmp_path, changed(choices__bells__to=30, choices__bells__default=30))
    with pytest.raises(DesignsError, match=r"designs\.garter: its default cannot be made: An ornament and its"):
        create_app(Settings(shop_file=path))
    monkeypatch.setenv("STRAP_SHOP_FILE", str(path))
    with pytest.raises(SystemExit):
        start()
    assert "designs.garter: its default cannot be made" in capsys.readouterr().err


def test_a_value_that_the_shop_does_not_have_stops_the_start(tmp_path):
    values = [{"value": "harness_8_9", "title": "Russet"}, {"value": "latigo_67", "title": "Burgundy"}]
    shop = load_shop(write(tmp_path, changed(choices__leather__values=values)))
    with pytest.raises(DesignsError, match=r"(?s)designs\.garter\.choices\.leather: latigo_67: .*mean latigo_6_7"):
        check_designs(shop)


def test_a_shop_file_needs_no_designs(tmp_path):
    path = tmp_path / "plain.toml"
    path.write_text(without_designs(tmp_path), encoding="utf-8")
    shop = load_shop(path)
    assert dict(shop.designs) == {}
    check_designs(shop)


def test_the_demo_shop_has_at_least_five_designs_that_can_be_made(shop):
    wanted = {"bell_garter", "herding_dog_collar", "goat_collar", "parade_harness_strap", "door_strap"}
    assert wanted <= set(shop.designs)
    check_designs(shop)


def test_pointers_are_read_as_rfc_6901_has_them():
    """RFC 6901, section 5: `/a~1b` is the key `a/b`, `/m~0n` the key `m~n`, `/` the empty key."""
    assert path_of("/a~1b") == ("a/b",)
    assert path_of("/m~0n") == ("m~n",)
    assert path_of("/~01") == ("~1",)
    assert spec_field(("ornaments", "count")) is not None
    assert spec_field(("ornaments",)) is None


@pytest.mark.parametrize("said", ["15in", "15 in", "15", "381 mm", '15"', 15, Decimal("15.0"), "38.1 cm"])
def test_every_way_to_say_a_length_means_one_value_with_one_text(design, said):
    value = read_value(design.length, said, "in")
    assert value == 15 * INCH
    assert query_text(design.length, value, "in") == "15in"
    assert value_title(design.length, value, "in") == "15 in"


@pytest.mark.parametrize(
    ("name", "said", "value", "text"),
    [
        ("length", "14 1/4 in", 14 * INCH + INCH // 4, "14.25in"),
        ("bells", "05", 5, "5"),
        ("bells", 5, 5, "5"),
        ("leather", "latigo_6_7", "latigo_6_7", "latigo_6_7"),
        ("keeper", "true", True, "true"),
        ("keeper", False, False, "false"),
        ("width", "24 mm", 24_000_000, "24mm"),
        ("width", "24mm", 24_000_000, "24mm"),
        ("width", "1in", INCH, "1in"),
    ],
)
def test_values_are_read_from_texts_and_from_json(design, name, said, value, text):
    read = read_value(design.choice(name), said, "in")
    assert (type(read), read) == (type(value), value)
    assert query_text(design.choice(name), read, "in") == text


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("length", "14 1/8 in"), ("length", "17in"), ("length", ""), ("length", True), ("length", None),
        ("length", "-14in"), ("length", "1/0"), ("length", "9" * 5000), ("bells", "7"), ("bells", "5.0"),
        ("bells", 5.0), ("bells", True), ("bells", "\u0665"), ("bells", "9" * 5000), ("leather", "bridle_10_11"),
        ("leather", 1), ("leather", ["latigo_6_7"]), ("keeper", "yes"), ("keeper", 1), ("width", 24_000_000),
        ("width", "23mm"),
    ],
)  # fmt: skip
def test_what_is_not_offered_is_refused_with_what_is(design, name, said):
    with pytest.raises(ChoiceError) as refused:
        choose(design, {name: said}, "in")
    assert set(refused.value.wrong) == {name}
    assert len(refused.value.wrong[name]) < 200


def test_names_that_are_no_choice_are_refused_with_the_nearest(design):
    with pytest.raises(ChoiceError, match="unknown choice 'bell'; did you mean 'bells'"):
        choose(design, {"bell": 3}, "in")


def test_choices_are_set_upon_the_base_spec_and_nothing_else_is(design):
    chosen = choose(design, {"bells": 3, "width": "24 mm"}, "in")
    assert chosen_document(design, chosen, "in") == {
        "construction": "one_piece",
        "body": {"width": "24 mm"},
        "ornaments": {"item": "bell_25", "count": 3},
        "size": {"girth": "14 in"},
        "leather": "harness_8_9",
        "billet": {"keeper": True},
    }


def test_the_default_of_every_demo_design_reads_back(shop):
    for design in shop.designs.values():
        spec = spec_of(design, design.defaults(), shop)
        assert spec.construction in design.spec


def test_toml_dates_and_decimals_in_a_base_spec(tmp_path):
    """TOML has dates, JSON has none; a TOML decimal is the number it says."""
    text = write(tmp_path, changed(spec__body__width="@")).read_text().replace('"@"', "0.75")
    read = SHOP_SCHEMA.load(tomllib.loads(text, parse_float=Decimal))["designs"]["garter"]
    assert '"width":"0.75"' in read.spec
    path = tmp_path / "dated.toml"
    path.write_text(text.replace("0.75", "2026-01-01"))
    with pytest.raises(ShopFileError, match=r"designs\.garter\.spec: holds a value that JSON does not have") as refused:
        load_shop(path)
    assert [fault.code for fault in refused.value.faults] == ["wrong_type"]
