"""Wrong keys are counted by caller: who guesses is slowed down, who holds a key elsewhere is not (RFC 6585, 4)."""

import hashlib
import subprocess
import sys

import pytest

from service.app import create_app
from service.door.machine.rates import Guesses
from service.door.machine.shared_counts import SharedCounts
from service.keys_file import Key, Keys
from service.settings import Settings
from tests.support.serving import ROOT, ask, serving

KEY = "harness-brass-linden-7"
KEYS = Keys((Key(hashlib.sha256(KEY.encode()).digest()),))
HOLDER = {"Authorization": f"Bearer {KEY}"}
HERE, THERE = {"REMOTE_ADDR": "203.0.113.5"}, {"REMOTE_ADDR": "203.0.113.6"}


@pytest.fixture(autouse=True)
def alone(monkeypatch):
    """No master, so that each app counts for itself."""
    monkeypatch.delenv("PROMETHEUS_MULTIPROC_DIR", raising=False)


@pytest.fixture
def guarded(shop):
    return create_app(Settings(keys_file=KEYS, guesses_per_minute=3), shop).test_client()


def shown(client, key, whom=HERE):
    return client.get("/v1/shop", headers={"Authorization": f"Bearer {key}"}, environ_base=whom)


def test_who_shows_too_many_wrong_keys_is_told_when_to_come_again(guarded):
    assert [shown(guarded, f"guess-{n}").status_code for n in range(4)] == [401, 401, 401, 429]
    refused = shown(guarded, "guess-4")
    assert refused.json["code"] == "too_often"
    assert "wrong key" in refused.json["detail"]
    assert 1 <= int(refused.headers["Retry-After"]) <= 60


def test_the_right_key_is_no_way_out_for_who_guesses_and_stays_good_elsewhere(guarded):
    for n in range(3):
        shown(guarded, f"guess-{n}")
    assert shown(guarded, KEY).status_code == 429
    assert shown(guarded, KEY, THERE).status_code == 200


def test_without_a_key_everything_for_buyers_goes_on(guarded):
    for n in range(5):
        shown(guarded, f"guess-{n}")
    assert guarded.get("/v1/shop", environ_base=HERE).status_code == 200


def test_good_keys_are_not_counted(guarded):
    assert {shown(guarded, KEY).status_code for _ in range(20)} == {200}


def test_without_keys_there_is_nothing_to_guess(shop):
    client = create_app(Settings(guesses_per_minute=1), shop).test_client()
    assert {shown(client, "anything").status_code for _ in range(5)} == {200}


def test_where_the_shared_counts_cannot_be_had_each_process_counts(monkeypatch, tmp_path):
    monkeypatch.setenv("PROMETHEUS_MULTIPROC_DIR", str(tmp_path / "not there"))
    guesses = Guesses(1)
    guesses.require_patience("someone")
    guesses.count("someone")
    with pytest.raises(Exception, match="show a wrong key 1 times a minute"):
        guesses.require_patience("someone")
    guesses.require_patience("another")


def uri_of(tmp_path):
    return (tmp_path / "a folder" / "rates.sqlite").as_uri()


def counts(tmp_path):
    return SharedCounts(uri_of(tmp_path))


ADD = """
import sys
from service.door.machine.shared_counts import SharedCounts
counts = SharedCounts(sys.argv[1])
for _ in range(250):
    counts.incr("a", 600)
"""


@pytest.mark.slow
def test_processes_add_to_one_count(tmp_path):
    """Four add two hundred and fifty each: none of it is lost."""
    (tmp_path / "a folder").mkdir()
    here = counts(tmp_path)
    assert here.incr("a", 600) == 1
    others = [subprocess.Popen([sys.executable, "-c", ADD, uri_of(tmp_path)], cwd=ROOT) for _ in range(4)]
    assert [each.wait(120) for each in others] == [0] * 4
    assert here.get("a") == 1001
    assert here.get("b") == 0


def test_a_count_begins_anew_once_its_time_is_over(tmp_path, monkeypatch):
    (tmp_path / "a folder").mkdir()
    here, now = counts(tmp_path), [1000.0]
    monkeypatch.setattr("service.door.machine.shared_counts.time.time", lambda: now[0])
    assert [here.incr("a", 60), here.incr("a", 60)] == [1, 2]
    assert here.get_expiry("a") == 1060
    now[0] = 1059.9
    assert here.get("a") == 2
    now[0] = 1060.0
    assert here.get("a") == 0
    assert here.incr("a", 60) == 1
    here.clear("a")
    assert here.get("a") == 0
    here.incr("b", 60)
    now[0] = 2000.0
    here.incr("c", 60)
    assert here.reset() == 1  # "b" was swept away


@pytest.mark.slow
def test_all_workers_of_an_instance_count_together(tmp_path):
    keys = tmp_path / "keys"
    keys.write_text(f"{KEYS.keys[0].digest.hex()} the counter\n", encoding="utf-8")
    with serving(workers=2, rate_per_minute=20, guesses_per_minute=4, keys_file=keys) as server:
        wrong = [ask(server.port, "/v1/shop", headers={"Authorization": f"Bearer {n}"})[0] for n in range(10)]
        answers = [ask(server.port, "/v1/shop")[0] for _ in range(30)]
    assert wrong == [401] * 4 + [429] * 6
    assert answers == [200] * 10 + [429] * 20
