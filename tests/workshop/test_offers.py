"""What is offered of designs made at random: each pair as the solver has it, and ways out that lead out."""

import json

from hypothesis import given, settings
from hypothesis import strategies as st

from service.desk.selling import offers_of, spec_of
from service.schemas.spec import spec_document
from service.shop.designs import Choice, Design, Option, Options, Range
from service.shop_file import demo_shop
from service.strap.offers.makeable import is_accepted
from service.strap.plane.lengths import INCH, MM
from service.workshop.offers import Line
from service.workshop.withheld import why_not, withheld
from tests.support.straps import specs

SHOP = demo_shop()
SIZES = ("body_length", "finished_length", "girth")


def ranges(low, high, steps):
    """A range of a few values, and one of them as its default."""
    return st.tuples(st.integers(low, high), st.sampled_from(steps), st.integers(1, 3), st.integers(0, 3)).map(
        lambda each: Range(
            least=each[0], most=each[0] + each[1] * each[2], step=each[1], default=each[0] + each[1] * min(each[2:])
        )
    )


@st.composite
def designs(draw):
    """A design with a choice of length, of leather, and of a count where there are ornaments."""
    kinds = st.sampled_from(["three_piece", "one_piece", "open"])
    spec = draw(kinds.flatmap(specs).filter(lambda spec: spec.size.table is None))
    size = next(name for name in SIZES if getattr(spec.size, name) is not None)
    lengths = draw(ranges(8, 40, [1, 2]))
    leathers = tuple(Option(value=each.id, title=each.title) for each in SHOP.leathers.values())
    choices = [
        Choice(name="length", title="Length", path=("size", size), is_length=True, offer=inches(lengths)),
        Choice(
            name="leather",
            title="Leather",
            path=("leather",),
            is_length=False,
            offer=Options(options=leathers, default=leathers[0].value),
        ),
    ]
    if spec.ornaments:
        counts = draw(ranges(0 if not spec.between else 1, 12, [1, 2]))
        choices.append(Choice(name="n", title="N", path=("ornaments", "count"), is_length=False, offer=counts))
    text = json.dumps(spec_document(spec, spec.units or "in"))
    return Design(name="any", title="Any", about="Any.", spec=text, choices=tuple(choices))


def inches(lengths):
    return Range(
        least=lengths.least * INCH, most=lengths.most * INCH, step=lengths.step * INCH, default=lengths.default * INCH
    )


def accepted(design, chosen):
    return is_accepted(spec_of(design, chosen, SHOP), SHOP)


@settings(max_examples=50)
@given(designs())
def test_what_is_offered_of_any_design_is_accepted_and_what_is_withheld_refused(design):
    offers, chosen = offers_of(design, SHOP), design.defaults()
    counts = tuple(design.count.offer) if design.count else (0,)
    lines = offers.lines(chosen, design.length.offer, counts)
    assert [line.length for line in lines] == list(design.length.offer)
    step = design.count.offer.step if design.count else 1
    for line in lines:
        offered = {count for low, high in line.counts for count in range(low, high + 1, step)}
        for count in counts:
            said = {"n": count} if design.count else {}
            assert accepted(design, {**chosen, "length": line.length, **said}) == (count in offered), (line, count)
    assert set(offers.lengths(chosen)) == {line.length for line in lines if line.counts}


@settings(max_examples=30)
@given(designs())
def test_every_count_that_is_not_offered_has_one_reason_and_what_it_names_can_be_made(design):
    offers, chosen = offers_of(design, SHOP), design.defaults()
    counts = tuple(design.count.offer) if design.count else (0,)
    lines = offers.lines(chosen, design.length.offer, counts)
    had = [line.length for line in lines if line.counts]
    for line in lines:
        found = tuple(withheld(line, counts, had))
        for count in counts:
            said = {"n": count} if design.count else {}
            wanted = {**chosen, "length": line.length, **said}
            reasons = [each for each in found if each.holds(count)]
            assert len(reasons) == (not accepted(design, wanted))
            for each in reasons:
                assert all(accepted(design, {**wanted, "n": near}) for near in each.nearest)
                assert each == why_not(wanted, design, offers)


@settings(max_examples=50)
@given(designs())
def test_ways_out_of_any_refusal_lead_to_something_that_can_be_made(design):
    chosen = design.defaults()
    if accepted(design, chosen):
        return
    for way in offers_of(design, SHOP).ways_out(chosen):
        assert way.changes
        assert all(chosen[name] != value for name, value in way.changes.items())
        assert accepted(design, {**chosen, **way.changes}), way


@settings(max_examples=30)
@given(designs())
def test_a_value_is_offered_where_any_pair_can_be_made_with_it(design):
    offers, chosen = offers_of(design, SHOP), design.defaults()
    counts = tuple(design.count.offer) if design.count else (0,)
    leather = design.choice("leather")
    offered = offers.values(chosen, leather, design.length.offer, counts)
    for value in leather.offer:
        lines = offers.lines({**chosen, "leather": value}, design.length.offer, counts)
        assert (value in offered) == any(line.counts for line in lines)


def test_counts_are_told_as_closed_ranges_in_steps():
    design = SHOP.designs["goat_collar"]
    lines = offers_of(design, SHOP).lines(design.defaults(), (14 * INCH, 20 * INCH), design.count.offer)
    assert lines == (Line(length=14 * INCH, counts=((1, 3),)), Line(length=20 * INCH, counts=((1, 5),)))


def test_lengths_that_are_no_whole_inches_are_offered_too():
    design = SHOP.designs["door_strap"]
    (line,) = offers_of(design, SHOP).lines(design.defaults(), (555 * MM,), (1, 2, 40))
    assert line.counts == ((1, 2),)
