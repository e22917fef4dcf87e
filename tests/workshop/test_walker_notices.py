"""Wrong lists of steps: the walker stops at them, or it would prove nothing of the right ones.

Five hundred lists, always the same ones, each wrong in one way: a step is left out, done twice, or done before one that
it has to come after. The walker is also tried without `after`: then it has nothing but its knowledge of leather.
"""

from random import Random

import pytest

from service.schemas.spec import read_spec
from tests.walker.bench import Bench
from tests.walker.hands import Botched
from tests.workshop.test_walker import STRAPS, answer_for, answer_of

COUNT = 500
NOTICED = 0.99


def without(steps, random):
    """One of them is left out."""
    gone = random.randrange(len(steps))
    return [*steps[:gone], *steps[gone + 1 :]]


def twice(steps, random):
    """One of them is done once more, at once or at any time later."""
    again = random.randrange(len(steps))
    at = random.randrange(again + 1, len(steps) + 1)
    return [*steps[:at], steps[again], *steps[at:]]


def too_early(steps, random):
    """One of them is done before one that it has to come after."""
    late = random.choice([step for step in steps if step["after"]])
    first = random.choice(late["after"])
    rest = [step for step in steps if step is not late]
    at = next(place for place, step in enumerate(rest) if step["n"] == first)
    return [*rest[:at], late, *rest[at:]]


def too_late(steps, random):
    """One of them is done after one that has to come after it."""
    late = random.choice([step for step in steps if step["after"]])
    number = random.choice(late["after"])
    first = next(step for step in steps if step["n"] == number)
    rest = [step for step in steps if step is not first]
    at = rest.index(late) + 1
    return [*rest[:at], first, *rest[at:]]


WAYS = (without, twice, too_early, too_late)


def mutants():
    """Wrong answers with what is wrong about them."""
    random = Random(15)
    for number in range(COUNT):
        name, way = random.choice(list(STRAPS)), WAYS[number % len(WAYS)]
        answer = answer_of(name)
        yield f"{number} {name} {way.__name__}", answer | {"steps": way(answer["steps"], random)}


def is_noticed(answer, *, heed_after):
    try:
        Bench(answer, heed_after=heed_after).make()
    except Botched:
        return True
    return False


@pytest.mark.parametrize("heed_after", [True, False], ids=["with after", "by leather alone"])
def test_wrong_lists_of_steps_are_noticed(heed_after):
    missed = [name for name, answer in mutants() if not is_noticed(answer, heed_after=heed_after)]
    assert len(missed) <= COUNT * (1 - NOTICED), missed


def other_goods(answer, random):
    """One thing more or less lies ready than the steps take."""
    hardware = [dict(line) for line in answer["hardware"]]
    random.choice(hardware)["count"] += random.choice([-1, 1])
    return {"hardware": hardware}


def other_features(answer, random):
    """A step forgets one of the things that it makes or works on, or does it twice."""
    steps = [dict(step) for step in answer["steps"]]
    step = random.choice([step for step in steps if step["features"]])
    one = random.choice(step["features"])
    rest = [each for each in step["features"] if each != one]
    step["features"] = random.choice([rest, [*rest, one, one]])
    return {"steps": steps}


def other_plies(answer, random):
    """A step goes through one ply more or less than lie there."""
    steps = [dict(step) for step in answer["steps"]]
    step = random.choice([step for step in steps if step["plies"]])
    step["plies"] = random.choice([step["plies"][1:], [*step["plies"], step["plies"][0]]])
    return {"steps": steps}


@pytest.mark.parametrize("change", [other_goods, other_features, other_plies])
def test_goods_features_and_plies_that_do_not_agree_are_noticed(change):
    random, missed = Random(16), []
    changed = ("hardware", "features", "plies")[(other_goods, other_features, other_plies).index(change)]
    for name in [name for name in STRAPS for _ in range(8)]:
        answer = answer_of(name)
        has = answer["hardware"] if changed == "hardware" else [step for step in answer["steps"] if step[changed]]
        if has and not is_noticed(answer | change(answer, random), heed_after=True):
            missed.append(name)
    assert not missed


def with_steps(answer, change):
    """The answer with its steps otherwise, numbered as they stand, without a word of what comes after what."""
    return Bench(answer | {"steps": change([dict(step) for step in answer["steps"]])}, heed_after=False)


def moved_before(steps, late, first):
    """The steps with all that `late` picks before the first that `first` picks."""
    rest = [step for step in steps if not late(step)]
    at = next(place for place, step in enumerate(rest) if first(step))
    return [*rest[:at], *(step for step in steps if late(step)), *rest[at:]]


def glues_lining(step):
    return step["op"] in ("glue", "trim") and "lining" in step["pieces"]


def is_op(*ops):
    return lambda step: step["op"] in ops


@pytest.mark.parametrize(
    ("name", "late", "first", "why"),
    [
        ("lined_bell_strap", glues_lining, is_op("lace"), "shanks that are still to be laced"),
        ("lined_bell_strap", glues_lining, is_op("set"), "a back that is still to come"),
        ("lined_bag_strap", glues_lining, is_op("set"), "a back that is still to come"),
        ("lined_bag_strap", is_op("pierce"), glues_lining, "nothing pricked|go through all|are pierced"),
        ("lined_bell_strap", is_op("stitch"), is_op("pierce"), "the needle finds no hole"),
        ("bells set through a lining that is glued only", glues_lining, is_op("lace"), "lie here"),
    ],
)
def test_a_lining_in_the_wrong_order_is_noticed(name, late, first, why):
    """A back that must be reached is covered, or the needle comes to leather without a hole."""
    bench = with_steps(answer_of(name), lambda steps: moved_before(steps, late, first))
    with pytest.raises(Botched, match=why):
        bench.make()


KEEPERLESS = {
    "lined_bell_strap": {"billet": {"width": "1 1/2 in", "buckle": "heel_bar_38", "keeper": False}},
    "a lined collar, its spots covered": {"billet": {"keeper": False}},
}
"""A keeper of leather so thin is held by no rivet of the shop's."""


@pytest.mark.parametrize("name", ["lined_bell_strap", "lined_bag_strap", "a lined collar, its spots covered"])
def test_backs_that_a_lining_should_cover_and_leaves_bare_are_noticed(name):
    """Done in the order of a lining that carries: all the leather first, then what is set, through both."""
    carried = {"lining": {"leather": "lining_2_3", "purpose": "carry"}, "leather": "latigo_6_7"}
    done = answer_for(read_spec(STRAPS[name] | carried | KEEPERLESS.get(name, {}), "in"))
    Bench(done).make()
    pieces = [piece | ({"purpose": "cover"} if piece["name"] == "lining" else {}) for piece in done["pieces"]]
    with pytest.raises(Botched):
        Bench(done | {"pieces": pieces}, heed_after=False).make()


def test_a_lining_that_is_cut_through_where_it_should_cover_is_noticed():
    """Slots for shanks punched once the lining is on go through it too."""
    answer = answer_of("conchos covered, their fold sewn")

    def late(steps):
        """The conchos' holes are cut and the conchos screwed on once the edges are burnished with the lining on."""
        cut = [step for step in steps if step["op"] == "set" or (step["op"] == "punch" and not step["plies"])]
        rest = [step for step in steps if step not in cut]
        at = next(place for place, step in enumerate(rest) if step["op"] == "burnish") + 1
        return [*rest[:at], *cut, *rest[at:]]

    with pytest.raises(Botched, match="a back that is still to come"):
        with_steps(answer, late).make()
    works = with_steps(answer, lambda steps: steps)
    works.make()
    works.works["strap"].pierced["strap.ornament.1"] = ("strap", "lining")
    with pytest.raises(Botched, match="goes through other plies"):
        works.look_it_over()
