"""Orders to quotes and cut plans: one story in both, faults and remedies at their place, work bounded."""

import copy
import time
from decimal import Decimal

import pytest

from service.desk.mending import MOST_CURED
from service.desk.ordering import OrdersRefused
from service.desk.quoting import QuoteSubject, make_quote
from service.desk.reckoning import MOST_PIECES, CutPlanSubject, make_cut_plan
from service.desk.sealing import hold
from service.forms.data import JSON
from service.forms.form import OutputOptions
from service.schemas.codes import code_of
from service.schemas.orders import OrdersError, spec_of
from service.schemas.problem import pointer
from service.schemas.spec import read_spec
from service.strap.solve import solve
from service.workshop import labour

GARTER = {"construction": "one_piece", "size": {"girth": "16 in"}, "ornaments": {"item": "bell_25", "count": 5}}
STRAP = {
    "construction": "three_piece",
    "size": {"body_length": "24 in"},
    "body": {"width": "2 1/2 in"},
    "ornaments": {"item": "bell_30", "count": 5},
}
CROWDED = {**GARTER, "ornaments": {"item": "bell_25", "count": 40}}


def quote(document, shop):
    quoted = make_quote(document, shop, time.monotonic)
    return QuoteSubject(quoted, shop, OutputOptions(form=JSON)).data()


def cut(document, shop):
    return CutPlanSubject(make_cut_plan(document, shop, time.monotonic), shop, OutputOptions(form=JSON)).data()


def refused(document, shop):
    with pytest.raises(OrdersRefused) as caught:
        quote(document, shop)
    return caught.value


def applied(document, remedy):
    """The document with each change made at its JSON pointer (RFC 6901)."""
    document = copy.deepcopy(document)
    for change in remedy["changes"]:
        *path, last = [name.replace("~1", "/").replace("~0", "~") for name in change["pointer"].split("/")[1:]]
        here = document
        for name in path:
            here = here[int(name)] if isinstance(here, list) else here[name]
        here[int(last) if isinstance(here, list) else last] = change["value"]
    return document


def test_quote_and_cut_plan_of_one_order_tell_one_story(shop):
    """Every piece of every strap is cut once, and what is cut is what the leather parts are reckoned from."""
    orders = [{"ref": "A1", "spec": GARTER, "quantity": 3}, {"ref": "A2", "spec": STRAP, "quantity": 2}]
    plan = cut({"orders": orders}, shop)
    priced = quote({"lines": orders}, shop)
    places = [piece for sheet in plan["sheets"] for strip in sheet["strips"] for piece in strip["pieces"]]
    expected = {
        (order["ref"], number, piece.name)
        for order in orders
        for number in range(1, order["quantity"] + 1)
        for piece in solve(read_spec(order["spec"], "in"), shop).pieces
    }
    assert len(places) == len(expected)
    assert {(place["ref"], place["copy"], place["piece"]) for place in places} == expected
    cut_m2 = sum(place["length_mm"] * strip["width_mm"] for sheet in plan["sheets"] for strip in sheet["strips"]
                 for place in strip["pieces"]) / 1e6  # fmt: skip
    charged = [part for line in priced["lines"] for part in line["parts"] if part["kind"] == "leather"]
    off_the_shelf = sum(Decimal(part["quantity"]) for part in charged)
    assert float(off_the_shelf * (1 - shop.pricing.waste)) == pytest.approx(cut_m2, abs=2e-4)


def test_a_quote_by_cut_plan_charges_what_the_plan_uses(shop):
    lines = [{"ref": "A2", "spec": STRAP, "quantity": 4}]
    plan = cut({"orders": lines}, shop)
    (leather,) = plan["leathers"]
    share = (leather["used"]["area_mm2"] - leather["offcuts_mm2"]) / leather["pieces_mm2"]
    (line,) = quote({"lines": lines, "leather_by": "cut_plan"}, shop)["lines"]
    (part,) = [part for part in line["parts"] if part["kind"] == "leather"]
    assert float(part["quantity"]) == pytest.approx(leather["pieces_mm2"] / 1e6 * share, abs=2e-4)


def test_what_if_is_the_same_quote_at_other_quantities(shop):
    document = {"lines": [{"ref": "A1", "spec": GARTER, "quantity": 3}], "what_if": [1, 10]}
    found = quote(document, shop)
    for scenario in found["what_if"]:
        alone = quote({"lines": [{**document["lines"][0], "quantity": scenario["quantity"]}]}, shop)
        assert scenario["total"] == alone["total"]
        assert scenario["lines"][0]["unit_price"] == alone["lines"][0]["unit_price"]
    assert [scenario["quantity"] for scenario in found["what_if"]] == [1, 10]


def test_every_sum_in_the_document_is_exact(shop):
    lines = [{"ref": "A1", "spec": GARTER, "quantity": 7}, {"ref": "A2", "spec": STRAP, "quantity": 30}]
    found = quote({"lines": lines}, shop)
    for line in found["lines"]:
        assert sum(Decimal(part["amount"]) for part in line["parts"]) == Decimal(line["total"])
        assert Decimal(line["unit_price"]) * line["quantity"] == Decimal(line["total"])
    assert sum(Decimal(line["total"]) for line in found["lines"]) == Decimal(found["net"])
    assert Decimal(found["net"]) + Decimal(found["tax"]) == Decimal(found["total"])


def test_a_spec_a_code_and_a_design_are_priced_alike(shop):
    spec = read_spec(GARTER, shop.defaults.units)
    lines = [{"ref": "A1", "spec": GARTER}, {"ref": "A2", "code": code_of(spec, shop.defaults.units)}]
    first, second = quote({"lines": lines}, shop)["lines"]
    assert first["total"] == second["total"]
    assert first["parts"] == second["parts"]


def test_one_that_cannot_be_made_is_told_with_remedies_that_help(shop):
    document = {"lines": [{"ref": "A1", "spec": GARTER}, {"ref": "A2", "spec": CROWDED}]}
    error = refused(document, shop)
    assert all(pointer(fault.path).startswith("/lines/1/spec") for fault in error.faults)
    assert error.documents
    for remedy in error.documents:
        quote(applied(document, remedy), shop)


def test_remedies_of_a_code_are_new_codes(shop):
    code = code_of(read_spec(CROWDED, shop.defaults.units), shop.defaults.units)
    document = {"lines": [{"ref": "A1", "code": code}]}
    error = refused(document, shop)
    assert {pointer(fault.path) for fault in error.faults} == {"/lines/0/code"}
    assert error.documents
    for remedy in error.documents:
        quote(applied(document, remedy), shop)


def test_remedies_of_several_mend_them_all_at_once(shop):
    crowded = {**STRAP, "ornaments": {"item": "bell_30", "count": 60}}
    document = {"lines": [{"ref": "A1", "spec": CROWDED}, {"ref": "A2", "spec": crowded}]}
    error = refused(document, shop)
    assert error.documents
    for remedy in error.documents:
        quote(applied(document, remedy), shop)


def test_remedies_of_a_design_are_other_choices(shop):
    design, choices = crowded_design(shop)
    for order in ({"ref": "A1", "design": design, "choices": choices},):
        document = {"lines": [order]}
        error = refused(document, shop)
        assert error.documents
        for remedy in error.documents:
            quote(applied(document, remedy), shop)


def crowded_design(shop):
    """A design at its shortest with the most ornaments, where those do not go together."""
    for design in shop.designs.values():
        if design.count is None:
            continue
        shortest, most = design.length.offer.least, design.count.offer.most
        choices = {design.length.name: f"{shortest / 1e6} mm", design.count.name: most}
        try:
            quote({"lines": [{"ref": "A1", "design": design.name, "choices": choices}]}, shop)
        except OrdersRefused:
            return design.name, choices
    pytest.skip("every design of this shop can be made at its shortest with the most")


def test_with_very_many_refused_no_remedies_are_looked_for(shop):
    lines = [
        {"ref": str(n), "spec": {**GARTER, "ornaments": {"item": "bell_25", "count": 40 + n}}}
        for n in range(MOST_CURED + 1)
    ]
    error = refused({"lines": lines}, shop)
    assert {fault.path[1] for fault in error.faults} == {str(n) for n in range(MOST_CURED + 1)}
    assert error.documents == ()


def test_work_is_bounded_by_the_holes_and_marks_of_all_lines_together(shop):
    """Each is a strap of 84 in with 200 spots in a row and a close border: by itself it can be made."""
    lines = [
        {
            "ref": str(n),
            "spec": {
                "construction": "open",
                "size": {"body_length": f"{84 - n / 64} in"},
                "body": {"width": "2 1/2 in"},
                "ends": {"head": {"shape": "square"}, "foot": {"shape": "square"}},
                "ornaments": {"item": "spot_6", "count": 190, "spacing": "even"},
                "border": {"item": "spot_6", "inset": "1/2 in", "step": "3/8 in"},
            },
        }
        for n in range(120)
    ]
    with pytest.raises(OrdersError) as caught:
        quote({"lines": lines}, shop)
    assert [fault.code for fault in caught.value.faults] == ["too_much_work"]


def test_too_many_pieces_are_refused_before_any_is_cut(shop):
    piece = {"name": "p", "leather": "harness_8_9", "width": "1 in", "length": "5 in"}
    document = {"orders": [{"ref": "A1", "pieces": [piece], "quantity": MOST_PIECES + 1}]}
    with pytest.raises(OrdersError) as caught:
        cut(document, shop)
    (fault,) = caught.value.faults
    assert (fault.code, fault.limit, fault.found) == ("too_many_pieces", MOST_PIECES, MOST_PIECES + 1)


def test_straps_and_bare_pieces_are_cut_together(shop):
    piece = {"name": "sample", "leather": "harness_8_9", "width": "2 1/2 in", "length": "11 in"}
    plan = cut({"orders": [{"ref": "P", "pieces": [piece], "quantity": 2}, {"ref": "S", "spec": STRAP}]}, shop)
    refs = [place["ref"] for sheet in plan["sheets"] for strip in sheet["strips"] for place in strip["pieces"]]
    assert sorted(set(refs)) == ["P", "S"]
    assert refs.count("P") == 2
    assert plan["missing"] == []


def test_faults_among_mixed_orders_keep_their_place(shop):
    piece = {"name": "sample", "leather": "harness_8_9", "width": "1 in", "length": "11 in"}
    document = {"orders": [{"ref": "P", "pieces": [piece]}, {"ref": "S", "spec": CROWDED}]}
    with pytest.raises(OrdersRefused) as caught:
        cut(document, shop)
    assert {fault.path[:3] for fault in caught.value.faults} == {("orders", "1", "spec")}


def test_the_plans_steps_name_every_piece_and_every_setting(shop):
    plan = cut({"orders": [{"ref": "A1", "spec": STRAP, "quantity": 3}]}, shop)
    told = " ".join(step["do"] for step in plan["steps"])
    assert [step["n"] for step in plan["steps"]] == list(range(1, len(plan["steps"]) + 1))
    assert told.count("Set the strap cutter to") == plan["settings"]
    assert "A1/1 to 3 body 24 in each" in told
    assert "A1/1 to 3 keeper" in told


def test_equal_straps_are_laid_out_once_however_many_lines_they_stand_in(shop, monkeypatch):
    laid_out = []
    monkeypatch.setattr(
        "service.desk.ordering.attempt", lambda spec, *more: laid_out.append(spec) or solve(spec, *more)
    )
    specs = [{**STRAP, "size": {"body_length": f"{24 + n / 8} in"}} for n in range(5)]
    quote({"lines": [{"ref": str(n), "spec": specs[n % 5], "quantity": 1 + n % 3} for n in range(100)]}, shop)
    assert len(laid_out) == 5


def test_prices_of_one_quote_are_bounded_by_straps_times_quantities(shop):
    """29 straps at 21 quantities are 609 prices, 28 are 588."""
    specs = [{**STRAP, "size": {"body_length": f"{24 + n / 8} in"}} for n in range(29)]
    lines = [{"ref": str(n), "spec": spec} for n, spec in enumerate(specs)]
    document = {"lines": lines, "what_if": list(range(2, 22))}
    with pytest.raises(OrdersError) as caught:
        quote(document, shop)
    assert [(fault.path, fault.code) for fault in caught.value.faults] == [(("what_if",), "too_much_work")]
    quote({**document, "lines": lines[:28]}, shop)


def test_the_work_of_a_strap_is_counted_once_for_all_its_quantities(shop, monkeypatch):
    counted = []
    count = labour._counted
    monkeypatch.setattr(labour, "_counted", lambda *args: counted.append(args) or count(*args))
    quote({"lines": [{"ref": "1", "spec": STRAP}], "what_if": [2, 5, 10, 50]}, shop)
    assert len(counted) == 1


def test_no_remedy_is_offered_that_more_pieces_than_one_plan_cuts_would_undo(shop):
    """5,001 open straps have as many pieces, so that fewer bells on one would not make the plan; 5,000 would do."""
    crowded = {**STRAP, "construction": "open", "ornaments": {"item": "bell_38", "count": 60}}
    order = {"ref": "A1", "spec": crowded, "quantity": MOST_PIECES + 1}
    with pytest.raises(OrdersRefused) as caught:
        make_cut_plan({"orders": [order]}, shop, time.monotonic)
    assert caught.value.documents == ()
    with pytest.raises(OrdersRefused) as caught:
        make_cut_plan({"orders": [order | {"quantity": MOST_PIECES}]}, shop, time.monotonic)
    assert caught.value.documents


def test_a_code_is_read_and_a_seal_held_once_however_many_lines_they_stand_in(shop, monkeypatch):
    sealed = quote({"lines": [{"ref": "1", "spec": STRAP}]}, shop)["lines"][0]["sealed"]
    read, held = [], []
    monkeypatch.setattr("service.schemas.sets.spec_of", lambda *args: read.append(args) or spec_of(*args))
    monkeypatch.setattr("service.desk.ordering.hold", lambda *args: held.append(args) or hold(*args))
    lines = quote({"lines": [{"ref": str(n), "code": sealed} for n in range(50)]}, shop)["lines"]
    assert [line["sealed"] for line in lines] == [sealed] * 50
    assert (len(read), len(held)) == (1, 1)
