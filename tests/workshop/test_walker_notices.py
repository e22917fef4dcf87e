"""Wrong lists of steps: the walker stops at them, or it would prove nothing of the right ones.

Five hundred lists, always the same ones, each wrong in one way: a step is left out, done twice, or done before one that
it has to come after. The walker is also tried without `after`: then it has nothing but its knowledge of leather.
"""

from random import Random

import pytest

from tests.walker.bench import Bench
from tests.walker.hands import Botched
from tests.workshop.test_walker import STRAPS, answer_of

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
