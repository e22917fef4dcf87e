"""Turns go round the callers, and places come from who holds most of them.

As packets are queued by flow (RFC 970, on fairness; RFC 8290, sections 4.1 and 4.2): one sender's long queue is its
own loss.
"""

import threading
import time

import pytest

from service.app import create_app
from service.desk.pipeline import PatternRequest
from service.door.errors import Busy
from service.door.machine.deadline import Deadline
from service.door.machine.fair_queue import FairQueue
from service.door.machine.lanes import Lane
from service.settings import Settings
from tests.support.door import HANGING

PATIENT, LONGEST = 3600, 30


def until(is_so):
    """Wait for what is bound to come; fail where it does not."""
    last = time.monotonic() + LONGEST
    while not is_so():
        assert time.monotonic() < last
        time.sleep(0.001)


def filled(places, callers):
    """A queue, and those who wait in it: each letter a request of the caller of that name."""
    queue = FairQueue(places)
    return queue, [queue.add(each) for each in callers]


def called(queue, waiting):
    """The callers in the order in which their turns come."""
    names, left = "", list(waiting)
    while queue:
        queue.call_next()
        (turn,) = [each for each in left if each.has_turn]
        left.remove(turn)
        names += turn.caller
    return names


@pytest.mark.parametrize(
    ("came", "turns"),
    [
        ("aaaa", "aaaa"),
        ("aaab", "abaa"),
        ("aaabbc", "abcaba"),
        ("abcabc", "abcabc"),
    ],
)
def test_turns_go_round_the_callers_in_their_order(came, turns):
    assert called(*filled(16, came)) == turns


def test_who_was_served_lately_is_behind_who_was_not_however_long_that_is_ago():
    """Also where who waited between the two turns has given up: a place in the round is not lost by that."""
    queue, _ = filled(16, "")
    for each in "bab":
        queue.served(each)
    given_up = queue.add("b")
    queue.remove(given_up)
    assert called(queue, [queue.add(each) for each in "bac"]) == "cab"


def test_where_all_is_full_a_place_comes_from_who_holds_most_and_its_latest_goes():
    queue, waiting = filled(4, "aaab")
    assert queue.takes("b")
    assert queue.takes("c")
    assert not queue.takes("a")
    assert queue.add("a") is None
    came = queue.add("c")
    assert [(each.called.is_set(), each.has_turn) for each in waiting] == [(False, False)] * 2 + [
        (True, False),
        (False, False),
    ]
    assert called(queue, [*waiting, came]) == "abca"


def test_alike_shares_are_left_as_they_are():
    """Nobody is sent away for somebody who would hold as much."""
    queue, _ = filled(4, "aabb")
    assert not queue.takes("a")
    assert queue.add("b") is None
    assert len(queue) == 4
    assert queue.add("c") is not None
    assert len(queue) == 4


def test_no_more_wait_than_there_are_places_and_an_empty_queue_has_none():
    queue, _ = filled(0, "")
    assert not queue.takes("a")
    assert queue.add("a") is None
    assert len(queue) == 0


def test_what_is_remembered_of_callers_is_bounded():
    queue = FairQueue(1)
    for n in range(5000):
        queue.served(str(n))
    assert len(queue._last_turn) <= 1024


@pytest.fixture
def lane():
    """A lane of one place, whose caller is the first letter of the thread's name."""
    return Lane("small", 1, 3, PATIENT, Deadline(10), lambda: threading.current_thread().name[0])


def test_a_caller_who_fills_the_queue_keeps_nobody_out(lane):
    """Four of one caller, one inside and three waiting; then one of another: it is next."""
    free, told, threads = threading.Event(), [], []

    def ask():
        name = threading.current_thread().name
        try:
            with lane.turn():
                told.append(name)
                free.wait(LONGEST)
        except Busy:
            told.append(f"{name} busy")

    def come(name, waiting):
        threads.append(threading.Thread(target=ask, name=name))
        threads[-1].start()
        until(lambda: len(lane._queue) == waiting and told)

    for n in range(4):
        come(f"a{n}", n)
    come("b", 3)
    threads[3].join()
    assert told == ["a0", "a3 busy"]
    free.set()
    for each in threads:
        each.join()
    assert told == ["a0", "a3 busy", "b", "a1", "a2"]


@pytest.mark.parametrize("other", ["203.0.113.2", "2001:db8:1:3::1"])
def test_a_caller_who_loops_on_heavy_work_takes_no_other_callers_turn(shop, monkeypatch, other):
    """By address, and by /64 of IPv6: told apart as they are for the rate, here through one trusted proxy."""
    entered, free, original = threading.Event(), threading.Event(), PatternRequest.make

    def slow(asked, shop):
        entered.set()
        free.wait(LONGEST)
        return original(asked, shop)

    monkeypatch.setattr(PatternRequest, "make", slow)
    settings = Settings(small_at_once=1, small_waiting=2, wait_ms=60_000, proxies=1, kept_bytes=0)
    app, answers = create_app(settings, shop), []
    looper = "203.0.113.1" if "." in other else "2001:db8:1:2::1"

    def ask(address, inches):
        spec = HANGING | {"size": {"body_length": f"{inches} in"}}
        answer = app.test_client().post("/v1/patterns", json=spec, headers={"X-Forwarded-For": address})
        answers.append((address, answer.status_code))

    threads = [threading.Thread(target=ask, args=(looper, 21 + n)) for n in range(3)]
    threads[0].start()
    entered.wait(LONGEST)
    for each in threads[1:]:
        each.start()
    until(lambda: b'strap_renders_waiting{lane="small"} 2.0' in app.test_client().get("/metrics").data)
    threads.append(threading.Thread(target=ask, args=(other, 20)))
    threads[-1].start()
    until(lambda: answers)
    assert answers == [(looper, 503)]
    free.set()
    for each in threads:
        each.join()
    assert sorted(answers[1:]) == sorted([(looper, 200), (looper, 200), (other, 200)])
