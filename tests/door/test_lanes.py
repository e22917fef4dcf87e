"""Turns: bounded work, bounded waiting, and everything else quick meanwhile."""

import threading
import time

import pytest

from service.app import create_app
from service.desk.pipeline import PatternRequest
from service.door.errors import Busy
from service.door.machine.deadline import Deadline
from service.door.machine.lanes import Lane
from service.settings import Settings
from tests.support.door import GARTER, HANGING, HARNESS


def start(*jobs):
    threads = [threading.Thread(target=job) for job in jobs]
    for each in threads:
        each.start()
    return threads


def anybody():
    """Whose turn it is: all are one caller here."""
    return "anybody"


def test_no_more_than_so_many_are_inside_and_all_get_their_turn():
    lane, inside, most, done = Lane("small", 2, 20, 10, Deadline(10), anybody), [], [], []

    def job():
        with lane.turn():
            inside.append(1)
            most.append(len(inside))
            time.sleep(0.01)
            inside.pop()
        done.append(1)

    patience = start(*[job] * 12)
    for each in patience:
        each.join()
    assert (len(done), max(most)) == (12, 2)


PATIENT = 3600


@pytest.fixture
def held(request):
    """A lane of one place that is taken, and the event that frees it; who waits is patient for 0.2 s unless told."""
    patience = getattr(request, "param", 0.2)
    lane, free, taken = Lane("small", 1, 1, patience, Deadline(10), anybody), threading.Event(), threading.Event()

    def hold():
        with lane.turn():
            taken.set()
            free.wait()

    thread = start(hold)[0]
    taken.wait()
    yield lane, free
    free.set()
    thread.join()


@pytest.mark.parametrize("held", [PATIENT], indirect=True)
def test_beyond_the_queue_the_refusal_is_at_once(held, app):
    """Who waited would wait beyond the end of this test."""
    lane, free = held
    waits = []

    def wait():
        with app.test_request_context(), lane.turn():
            waits.append(1)

    with app.test_request_context():
        waiting = start(wait)
        while not lane._queue:
            time.sleep(0.001)
        with pytest.raises(Busy), lane.turn():
            pass
        with pytest.raises(Busy):
            lane.refuse_if_full()
        free.set()
        waiting[0].join()
        assert waits == [1]


def test_who_waits_too_long_is_refused_and_leaves_the_queue(held, app):
    lane, free = held
    with app.test_request_context():
        started = time.monotonic()
        with pytest.raises(Busy), lane.turn():
            pass
        assert time.monotonic() - started > 0.19
        assert not lane._queue
        free.set()


def test_a_place_is_free_again_after_an_error(app):
    lane = Lane("small", 1, 0, 0, Deadline(10), anybody)
    with app.test_request_context():
        for _ in range(3):
            with pytest.raises(ZeroDivisionError), lane.turn():
                raise ZeroDivisionError


@pytest.fixture
def busy(shop, monkeypatch):
    """A service whose one place for small answers is taken by a strap that takes its time."""
    entered, free = threading.Event(), threading.Event()
    original = PatternRequest.make

    def slow(asked, shop):
        entered.set()
        free.wait(120)
        return original(asked, shop)

    app = create_app(Settings(small_at_once=1, small_waiting=0, large_at_once=1, large_waiting=0), shop)
    kept = app.test_client().post("/v1/patterns", json=HANGING)
    monkeypatch.setattr(PatternRequest, "make", slow)
    answers = []
    thread = start(lambda: answers.append(app.test_client().post("/v1/patterns", json=GARTER)))[0]
    entered.wait(120)
    yield app.test_client(), kept
    free.set()
    thread.join()
    assert answers[0].status_code == 200


def test_busy_is_503_with_retry_after_and_the_rest_goes_on(busy):
    client, kept = busy
    refused = client.post("/v1/patterns", json=HARNESS)
    assert (refused.status_code, refused.json["code"]) == (503, "busy")
    assert int(refused.headers["Retry-After"]) >= 1
    assert refused.headers["Cache-Control"] == "no-store"
    assert client.get("/health/live").status_code == 200
    assert client.get("/health/ready").status_code == 200
    assert client.post("/v1/patterns", json=HANGING).data == kept.data
    assert b"strap_renders_running" in client.get("/metrics").data


def test_a_large_picture_has_a_lane_of_its_own(busy, monkeypatch):
    client, _ = busy
    monkeypatch.setattr(PatternRequest, "make", PatternRequest.make.__closure__ and _original_of(PatternRequest.make))
    large = client.post("/v1/patterns?width_px=1300", json=HARNESS, headers={"Accept": "image/png"})
    small = client.post("/v1/patterns?width_px=1200", json=HARNESS, headers={"Accept": "image/png"})
    assert (large.status_code, small.status_code) == (200, 503)


def _original_of(slow):
    names = slow.__code__.co_freevars
    return slow.__closure__[names.index("original")].cell_contents
