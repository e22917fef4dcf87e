"""A few of the requests of `tests/heavy hostile` and `slowest`, without their times."""

from collections import Counter

import pytest

from tests.attacks.hostile import SEED
from tests.attacks.hostile_requests import goods_of, request_of
from tests.attacks.judging import a_client, judge
from tests.attacks.slowest import Climb


@pytest.fixture(scope="module")
def caller():
    client = a_client()
    return client, goods_of(client)


@pytest.mark.parametrize("part", range(5))
def test_hostile_requests_are_answered_and_their_remedies_accepted(part, caller):
    client, goods = caller
    doors = Counter()
    for seed in range(SEED + 60 * part, SEED + 60 * (part + 1)):
        request = request_of(seed, goods)
        verdict = judge(client, request, timed=False)
        assert verdict.wrong == (), (seed, request.door)
        doors[request.door, verdict.status] += 1
    assert len({door for door, _ in doors}) > 5
    assert {status for _, status in doors} >= {200, 422}


def test_a_climb_keeps_the_slowest_and_goes_on_from_them():
    climb = Climb(1)
    for _ in range(40):
        climb.step()
    shares = [each.share for best in climb.best.values() for each in best]
    assert climb.tried == 40
    assert 0 < min(shares) <= max(shares)
    for best in climb.best.values():
        assert [each.share for each in best] == sorted((each.share for each in best), reverse=True)
