"""The deadline behind all counts of work: what runs on for ever is ended, and its thread goes on to other work."""

import threading
import time

import pytest

from service.app import create_app
from service.door.errors import TookTooLong
from service.door.machine.deadline import Deadline
from service.settings import Settings
from tests.support.door import GARTER


class Clock:
    """The time as the deadline sees it, which runs only while something runs on for ever."""

    def __init__(self):
        self.now = 0.0

    def __call__(self):
        return self.now

    def for_ever(self, *_):
        while True:
            self.now += 0.001


@pytest.fixture
def clock(monkeypatch):
    made = Clock()
    monkeypatch.setattr("service.door.machine.deadline.monotonic", made)
    return made


def test_what_runs_on_for_ever_is_503_and_the_next_is_answered(shop, monkeypatch, clock):
    client = create_app(Settings(deadline=1), shop).test_client()
    with monkeypatch.context() as patched:
        patched.setattr("service.desk.pipeline.PatternRequest.make", clock.for_ever)
        answer = client.post("/v1/patterns", json=GARTER)
    assert (answer.status_code, answer.json["code"]) == (503, "took_too_long")
    assert client.post("/v1/patterns", json=GARTER).status_code == 200


def test_a_lane_is_free_again_after_the_deadline(shop, monkeypatch, clock):
    client = create_app(Settings(deadline=1, small_at_once=1, small_waiting=0), shop).test_client()
    with monkeypatch.context() as patched:
        patched.setattr("service.desk.pipeline.PatternRequest.make", clock.for_ever)
        assert client.post("/v1/patterns", json=GARTER).status_code == 503
    assert client.post("/v1/patterns", json=GARTER).status_code == 200


def test_what_ends_in_time_is_left_alone():
    """Many threads begin and end close to their deadline: each ends by itself or is told so, never later."""
    deadline, odd = Deadline(0.02), []

    def work(loops):
        for _ in range(40):
            try:
                deadline.run(lambda: sum(range(loops)) and [None for _ in range(loops)])
            except TookTooLong:
                pass
            except BaseException as error:  # noqa: BLE001 # an end that comes too late could come anywhere
                odd.append(error)

    threads = [threading.Thread(target=work, args=(loops,)) for loops in (10, 100_000, 400_000, 1_000_000)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert odd == []
    assert deadline._until == {}


def test_one_thread_is_ended_and_no_other():
    """Two work at the same time, and the time of one is over."""
    deadline, ended = Deadline(3600), []

    def for_ever():
        while True:
            pass

    def idle():
        try:
            deadline.run(for_ever)
        except TookTooLong:
            ended.append("idle")

    def go_on():
        thread = threading.Thread(target=idle, daemon=True)
        thread.start()
        while thread.ident not in deadline._until:
            time.sleep(0.001)
        deadline._until[thread.ident] = 0.0
        deadline.look()
        thread.join(60)
        return "went on"

    assert deadline.run(go_on) == "went on"
    assert ended == ["idle"]
    assert deadline._until == {}
