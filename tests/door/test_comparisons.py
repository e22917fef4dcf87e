"""Comparisons of shops over HTTP, held against two services: one on each of the shop files."""

import hashlib
import shutil
from decimal import Decimal
from pathlib import Path

import pytest

from service import comparing
from service.app import create_app
from service.desk.comparing import MOST_STRAPS
from service.keys_file import Key, Keys
from service.schemas.comparison import LONGEST_SHOP_FILE, MOST_CODES
from service.settings import Settings
from service.shop_file import DEMO, MOST_DOTS, ShopFileError, demo_shop, load_shop

PATH = "/v1/shop-comparisons"
TEXT = DEMO.read_text(encoding="utf-8")
STRICTER = [('edge_web = "3 mm"', 'edge_web = "4.7 mm"'), ('rate_per_hour = "32.00"', 'rate_per_hour = "40.00"')]
FURTHER = ('joint_end_distance = "3/4 in"', 'joint_end_distance = "7/8 in"')
MORE_BELLS = ("from = 2, to = 10, step = 1, default = 5", "from = 3, to = 12, step = 1, default = 5")
ANOTHER = [*STRICTER, FURTHER, MORE_BELLS]


def changed(changes, text=TEXT):
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return text


def loaded(text, folder):
    for picture in DEMO.parent.glob("*.svg"):
        shutil.copy(picture, folder)
    (folder / "shop.toml").write_text(text, encoding="utf-8")
    return load_shop(folder / "shop.toml")


@pytest.fixture(scope="module")
def compared(tmp_path_factory):
    """What is told of another file, and callers of a service on each of the two."""
    text = changed(ANOTHER)
    now = create_app(Settings()).test_client()
    then = create_app(Settings(), loaded(text, tmp_path_factory.mktemp("shop"))).test_client()
    answer = now.post(PATH, json={"shop_file": text})
    assert answer.status_code == 200
    return answer.json, now, then


def bare(strap):
    return "size" not in strap


def test_what_is_gone_and_what_is_another_is_what_the_other_service_answers(compared):
    told, now, then = compared
    assert [each["design"] for each in told["straps"] if bare(each)] == list(demo_shop().designs)
    seen = set()
    for strap in filter(bare, told["straps"]):
        before, after = (each.get(f"/v1/designs/{strap['design']}/pattern.json") for each in (now, then))
        seen.add(strap["outcome"])
        if strap["outcome"] == "gone":
            assert (before.status_code, after.status_code) == (200, 422)
            assert [each["detail"] for each in strap["errors"]] == [each["detail"] for each in after.json["errors"]]
            continue
        assert after.status_code == 200
        assert (strap["outcome"] == "same") == (before.json["pieces"] == after.json["pieces"])
        assert strap["errors"] == []
    assert seen == {"same", "changed", "gone"}
    assert {each["outcome"] for each in told["straps"]} == {name for name, n in told["counts"].items() if n} - {
        "dearer",
        "cheaper",
    }


def test_what_it_costs_is_the_price_of_each_service(compared):
    told, now, then = compared
    for strap in filter(bare, told["straps"]):
        for caller, price in ((now, strap["price"]["from"]), (then, strap["price"]["to"])):
            answer = caller.get(f"/v1/designs/{strap['design']}/price")
            assert price == (answer.json["net"] if answer.status_code == 200 else None)
    both = [each["price"] for each in told["straps"] if None not in each["price"].values()]
    assert told["counts"]["dearer"] == sum(Decimal(each["to"]) > Decimal(each["from"]) for each in both)
    assert told["counts"]["cheaper"] == sum(Decimal(each["to"]) < Decimal(each["from"]) for each in both)


def makeable(caller, design):
    """Every pair that a service says can be made."""
    answer = caller.get(f"/v1/designs/{design}/choices").json
    step = answer["count_step"] or 1
    return {
        (line["value"], count)
        for line in answer["makeable"]
        for least, most in line["counts"]
        for count in range(least, most + 1, step)
    }


def pairs(listed):
    """Those that a comparison lists; the demo shop's only step of counts beside 1 is the goat collar's."""
    return {(each["length"], tuple(span)) for each in listed for span in each["counts"]}


def test_what_is_lost_and_gained_is_what_the_choices_of_each_service_say(compared):
    told, now, then = compared
    for strap in filter(bare, told["straps"]):
        before, after = makeable(now, strap["design"]), makeable(then, strap["design"])
        design = demo_shop().designs[strap["design"]]
        counts = set(design.count.offer) if design.count else {0}
        choices = strap["choices"]
        assert choices["lost"] == len(before - after)
        assert choices["gained"] == len({pair for pair in after - before if pair[1] in counts})
        assert {length for length, _ in pairs(choices["lost_at"])} == {length for length, _ in before - after}
        assert choices["offered"] == len(counts) * len(design.length.offer)
    assert any(each["choices"]["lost"] for each in told["straps"] if bare(each))


def test_the_same_file_changes_nothing(client):
    told = client.post(PATH, data=TEXT, headers={"Content-Type": "application/toml; charset=utf-8"}).json
    assert told["counts"]["same"] == len(told["straps"]) > len(demo_shop().designs)
    assert sum(told["counts"].values()) == told["counts"]["same"]
    assert told["shop"] == told["other"]
    assert all(each["choices"]["lost"] == each["choices"]["gained"] == 0 for each in told["straps"] if bare(each))


def test_a_code_follows_the_shop_and_a_seal_is_held_against_what_was_sealed(client):
    """What moves is what the two patterns differ by."""
    made = client.get("/v1/designs/bell_garter/pattern.json").json
    text = changed([FURTHER])
    told = client.post(PATH, json={"shop_file": text, "codes": [made["code"], made["sealed"]]}).json
    follows, sealed = told["straps"]
    assert follows["code"] == made["code"]
    assert (follows["outcome"], sealed["outcome"]) == ("changed", "same")
    assert follows["moved"]
    figure = next(each for each in follows["moved"] if each["figure"].startswith("pieces.strap.length"))
    assert figure["from_mm"] == made["pieces"][0]["length_mm"]
    assert "by the other file" in figure["detail"]
    thicker = changed([("ounces = [6, 7]", "ounces = [7, 8]")])
    (sealed,) = client.post(PATH, json={"shop_file": thicker, "codes": [made["sealed"]]}).json["straps"]
    assert sealed["outcome"] in ("changed", "gone")


def test_designs_and_sizes_that_only_one_file_has_are_told(client):
    without = TEXT.replace("[designs.goat_collar", "[designs.kid_collar").replace('"goat_collar"', '"door_strap"')
    without = changed([('S = "12 1/2 in", M = "14 in"', 'XS = "12 1/2 in", M = "14 in"')], without)
    told = client.post(PATH, json={"shop_file": without}).json["straps"]
    by_name = {(each["design"], each.get("size")): each for each in told}
    assert by_name["goat_collar", None]["outcome"] == "gone"
    assert by_name["goat_collar", None]["errors"][0]["code"] == "unknown_design"
    assert by_name["kid_collar", None]["outcome"] == "new"
    assert by_name["bell_garter", "S"]["outcome"] == "gone"
    assert by_name["bell_garter", "XS"]["outcome"] == "new"


def test_every_mistake_of_the_other_file_is_told_by_key_as_at_the_start(client, tmp_path):
    text = changed([("edge_web =", "edge_wab ="), ('currency = "EUR"', 'currency = "Euro"'), ("density =", "densty =")])
    with pytest.raises(ShopFileError) as caught:
        loaded(text, tmp_path)
    answer = client.post(PATH, json={"shop_file": text})
    assert (answer.status_code, answer.json["code"]) == (422, "shop_file_unusable")
    told = tuple(f"{each['key']}: {each['detail']}" for each in answer.json["errors"])
    assert told == caught.value.mistakes
    assert len(told) > 3


@pytest.mark.parametrize("name", ["secret.svg", "demo.toml", "../door/pages/favicon.svg", "/etc/passwd"])
def test_no_file_is_read_for_who_sends_a_name(client, monkeypatch, name):
    """A picture is one that the shop holds already, or none."""
    client.get("/health/live")  # what is read at first is read

    def refuse(*_: object, **__: object):
        raise AssertionError("a file is read")

    for way in ("open", "read_bytes", "read_text", "is_file", "resolve"):
        monkeypatch.setattr(Path, way, refuse)
    answer = client.post(PATH, json={"shop_file": changed([('"mark.svg"', f'"{name}"')])})
    assert (answer.status_code, answer.json["code"]) == (422, "shop_file_unusable")
    assert [each["key"] for each in answer.json["errors"]] == ["shop.mark"]
    held = changed([('"mark.svg"', '"star_concho.svg"')])
    assert client.post(PATH, json={"shop_file": held, "designs": ["goat_collar"]}).status_code == 200


@pytest.mark.parametrize(
    "text",
    [
        "x",
        "[" * 1999,
        "x = " + "[" * 1900,
        "\n".join(["x = ", *["["] * 5000]),
        "x = " + "{a=" * 600,
        "\n".join(["[a]", *(f"b{n} = [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[]]]" for n in range(9))]),
        ".".join(["a"] * (MOST_DOTS + 3)) + " = 1",
        "x = 1" + "0" * 5000,
        "x = 1e" + "9" * 1900,
        "\n".join(f"[{'.'.join(f'a{n}b{m}' for m in range(MOST_DOTS - 20))}]" for n in range(600)),
        "\n".join(f"[designs.d{n}]" for n in range(9000)),
    ],
)
def test_a_text_that_readers_choke_on_is_refused_with_a_reason(client, text):
    answer = client.post(PATH, json={"shop_file": text})
    assert (answer.status_code, answer.json["code"]) == (422, "shop_file_unusable")
    assert len(answer.data) < 40_000


@pytest.mark.parametrize(
    ("document", "pointer", "code"),
    [
        ({}, "/shop_file", "missing"),
        ({"shop_file": ["x"]}, "/shop_file", "wrong_type"),
        ({"shop_file": "#" * (LONGEST_SHOP_FILE + 1)}, "/shop_file", "out_of_range"),
        ({"shop_file": TEXT, "path": "/etc/passwd"}, "/path", "unknown_field"),
        ({"shop_file": TEXT, "designs": ["goat_colar"]}, "/designs/0", "unknown_design"),
        ({"shop_file": TEXT, "codes": ["eyJ9"]}, "/codes/0", "unknown_code"),
        ({"shop_file": TEXT, "codes": ["e30"]}, "/codes/0", "missing"),
        ({"shop_file": TEXT, "codes": ["e30"] * (MOST_CODES + 1)}, "/codes", "out_of_range"),
    ],
)
def test_what_cannot_be_read_is_told_by_its_place(client, document, pointer, code):
    answer = client.post(PATH, json=document)
    assert (answer.status_code, answer.json["code"]) == (422, "comparison_unreadable")
    assert (pointer, code) in {(each["pointer"], each["code"]) for each in answer.json["errors"]}


def test_it_needs_a_key_once_there_are_keys():
    keys = Keys((Key(hashlib.sha256(b"a key of the workshop's").digest()),))
    caller = create_app(Settings(keys_file=keys)).test_client()
    assert caller.post(PATH, json={"shop_file": TEXT}).status_code == 401
    shown = {"Authorization": "Bearer a key of the workshop's"}
    assert caller.post(PATH, json={"shop_file": TEXT, "designs": ["goat_collar"]}, headers=shown).status_code == 200


def test_more_straps_than_are_compared_are_refused_with_the_limit(client):
    labels = "".join(f'L{n} = "14 in"\n' for n in range(MOST_STRAPS))
    begin, _, rest = TEXT.partition('sizes = { S = "12 1/2 in"')
    text = f"{begin}\n[size_tables.garter.sizes]\n{labels}{rest.partition(chr(10))[2]}"
    answer = client.post(PATH, json={"shop_file": text})
    assert (answer.status_code, answer.json["code"]) == (422, "comparison_unreadable")
    assert [each["code"] for each in answer.json["errors"]] == ["too_many_straps"]
    assert str(MOST_STRAPS) in answer.json["detail"]


def told_at_a_desk(capsys, *arguments):
    status = comparing.main([str(each) for each in arguments])
    return status, capsys.readouterr()


def test_the_same_is_told_at_a_desk(tmp_path, capsys, client):
    """By `deploy/compare_shops`: the counts and reasons of the answer over HTTP."""
    text = changed([('edge_web = "3 mm"', 'edge_web = "9 mm"')])
    loaded(text, tmp_path)
    codes = [client.get(f"/v1/designs/{name}/pattern.json").json["code"] for name in ("bell_garter", "door_strap")]
    told = client.post(PATH, json={"shop_file": text, "codes": codes}).json
    (tmp_path / "codes").write_text("\n".join(codes))
    status, said = told_at_a_desk(capsys, tmp_path / "shop.toml", "--codes", tmp_path / "codes")
    assert status == 1
    assert f"{len(codes)} straps: {told['counts']['same']} the same" in said.out
    assert told["counts"]["gone"]
    for strap in told["straps"]:
        for fault in strap["errors"]:
            assert fault["detail"] in said.out
    assert told_at_a_desk(capsys, DEMO, "--codes", tmp_path / "codes")[0] == 0


def test_at_a_desk_kept_codes_are_held_against_a_file_and_mistakes_told(tmp_path, capsys, client):
    made = client.get("/v1/designs/bell_garter/pattern.json").json
    (tmp_path / "codes").write_text(f"{made['code']}\n{made['sealed']}\n")
    loaded(changed([FURTHER]), tmp_path)
    status, said = told_at_a_desk(capsys, tmp_path / "shop.toml", "--codes", tmp_path / "codes")
    assert (status, "2 straps: 1 the same, 1 another pattern" in said.out) == (1, True)
    assert "by the other file" in said.out
    (tmp_path / "codes").write_text("no.code")
    assert told_at_a_desk(capsys, DEMO, "--codes", tmp_path / "codes")[0] == 2
    (tmp_path / "shop.toml").write_text(changed([("edge_web =", "edge_wab =")]))
    status, said = told_at_a_desk(capsys, tmp_path / "shop.toml")
    assert (status, "rules.edge_wab: " in said.err) == (2, True)
