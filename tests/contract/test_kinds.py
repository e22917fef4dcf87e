"""The page of what can be asked for names every kind that there is, and each of its specs can be made."""

from typing import get_args

import pytest

from openapi.kinds import KINDS, PICTURES, TEXT, entries, file_of, text
from service.schemas.spec import read_spec
from service.shop.fixings import FIXINGS
from service.shop_file import demo_shop
from service.strap.ends.kinds import KINDS as ENDS
from service.strap.model.spec import EndKind, Hold
from service.strap.model.spec_edges import BodyEdge, EdgingLies
from service.strap.model.spec_set import Arrange
from service.strap.solve import solve

SHOP = demo_shop()


def test_every_kind_of_end_fixing_hold_and_order_is_there():
    assert {kind.name for kind in ENDS} | {"billet"} == set(get_args(EndKind)) <= set(KINDS["Ends"])
    fixed = {SHOP.ornaments[spec["ornaments"]["item"]].fixing.word for spec in KINDS["Fixings"].values()}
    assert fixed >= {
        fixing.word for fixing in FIXINGS if any(o.fixing.word == fixing.word for o in SHOP.ornaments.values())
    }
    holds = {spec["ends"]["head"].get("hold") for spec in KINDS["What holds an end"].values()}
    assert holds >= set(get_args(Hold))
    assert {name.split(",")[0] for name in KINDS["Rows"]} >= set(get_args(Arrange))


def test_every_edge_and_edging_and_keepers_between_are_there():
    edges = {solve(read_spec(spec, "in"), SHOP).pieces[0].outline.cut for spec in KINDS["Outlines"].values()}
    assert {cut.shape for cut in edges if cut} | {"straight"} == set(get_args(BodyEdge))
    edgings = [solve(read_spec(spec, "in"), SHOP).spec.edging for spec in KINDS["Edgings"].values()]
    assert {each.shape for each in edgings} == set(get_args(BodyEdge))
    assert {each.lies for each in edgings} == set(get_args(EdgingLies))
    kept = [solve(read_spec(spec, "in"), SHOP) for spec in KINDS["Keepers between ornaments"].values()]
    assert all(pattern.piece("keeper_between") for pattern in kept)
    assert any(pattern.piece("keeper_between_2") for pattern in kept)


@pytest.mark.parametrize("spec", [spec for *_, spec in entries()], ids=[name for _, name, _ in entries()])
def test_each_is_made_by_the_demo_shop(spec):
    assert solve(read_spec(spec, "in"), SHOP).pieces


def test_the_page_is_made_of_them_and_has_their_pictures():
    assert TEXT.read_text(encoding="utf-8") == text()
    assert {each.name for each in PICTURES.iterdir()} == {file_of(name) for _, name, _ in entries()}
