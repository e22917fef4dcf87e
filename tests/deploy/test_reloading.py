"""A hang-up (SIGHUP) at a running server: shop and keys are taken anew, or stay with a loud word; nobody is dropped."""

import fcntl
import hashlib
import http.client
import json
import os
import shutil
import signal
import threading
import time
from pathlib import Path

import pytest
from prometheus_client.mmap_dict import MmapedDict

from service import reloading
from service.door.machine.metrics import fold
from tests.support.door import HANGING
from tests.support.serving import ROOT, Instance, ask

pytestmark = pytest.mark.slow

FIRST, SECOND = "quay-otter-marble-31", "fern-anvil-cobalt-77"
ORDER = json.dumps({"lines": [{"ref": "A1", "spec": HANGING}]}).encode()
JSON = {"Content-Type": "application/json"}
SECONDS = 30


class Bench:
    """A server with a shop file and a keys file of its own, and a log that can be read."""

    def __init__(self, folder):
        ignored = shutil.ignore_patterns("*.py", "__pycache__")
        self.shop = shutil.copytree(ROOT / "service/shop", folder / "shop", ignore=ignored) / "demo.toml"
        self.keys = folder / "keys"
        self.log = folder / "log"
        self.text = self.shop.read_text(encoding="utf-8")
        self.give_out(FIRST, SECOND)
        self.server = Instance(workers=2, shop_file=self.shop, keys_file=self.keys, log=self.log)

    def rename(self, name):
        self.shop.write_text(self.text.replace('name = "The bell bench"', f'name = "{name}"'), encoding="utf-8")

    def give_out(self, *keys):
        lines = [f"{hashlib.sha256(key.encode()).hexdigest()} somebody\n" for key in keys]
        self.keys.write_text("".join(lines), encoding="utf-8")

    def reload(self):
        """Hang up, and wait until no worker of before is left."""
        before = set(self.server.workers)
        self.server.process.send_signal(signal.SIGHUP)
        until = time.monotonic() + SECONDS
        while before & set(self.server.workers) or not self.server.workers:
            assert time.monotonic() < until, "the workers of before are still there"
            assert self.server.process.poll() is None, "the master ended"
            time.sleep(0.05)

    def ask(self, *request):
        return ask(self.server.port, *request)

    def name(self):
        return json.loads(self.ask("/v1/shop")[2])["name"]

    def quote(self, key):
        headers = JSON | {"Authorization": f"Bearer {key}"}
        return self.ask("/v1/quotes", "POST", ORDER, headers)[0]

    def refused(self):
        """The gauge that says whether the last reload was refused."""
        rows = self.ask("/metrics")[2].decode().splitlines()
        return next(float(row.split()[1]) for row in rows if row.startswith("strap_reload_refused "))

    def said(self, level, logger="service.reloading"):
        lines = [json.loads(line) for line in self.log.read_text(encoding="utf-8").splitlines()]
        return [line for line in lines if line.get("level") == level and line.get("logger") == logger]


@pytest.fixture
def bench(tmp_path):
    made = Bench(tmp_path)
    yield made
    made.server.stop()


def test_a_reload_serves_the_new_shop_and_refuses_the_revoked_key(bench):
    assert (bench.name(), bench.quote(FIRST), bench.quote(SECOND)) == ("The bell bench", 200, 200)
    bench.rename("The other bench")
    bench.give_out(SECOND)
    bench.reload()
    assert [(bench.name(), bench.quote(FIRST), bench.quote(SECOND)) for _ in range(4)] == [
        ("The other bench", 401, 200)
    ] * 4
    (line,) = bench.said("info")
    assert (line["event"], line["shop"], line["keys"]) == ("reloaded", "The other bench", 1)
    assert bench.refused() == 0


WRONG = {
    "an empty keys file": (lambda bench: bench.keys.write_text(""), ["STRAP_KEYS_FILE"]),
    "a key where its digest should be": (lambda bench: bench.keys.write_text(f"{FIRST}\n"), ["STRAP_KEYS_FILE"]),
    "no keys file": (lambda bench: bench.keys.unlink(), ["STRAP_KEYS_FILE"]),
    "no shop file": (lambda bench: bench.shop.unlink(), ["STRAP_SHOP_FILE", "(file)"]),
    "a shop file that is no TOML": (lambda bench: bench.shop.write_text("[shop"), ["(file)"]),
    "a shop file with two mistakes": (
        lambda bench: bench.shop.write_text(
            bench.text.replace('currency = "EUR"', 'currency = "EURO"').replace("[rules]", "[rules]\nedge_wub = 1", 1)
        ),
        ["rules.edge_wub", "shop.currency"],
    ),
    "a picture that is gone": (lambda bench: (bench.shop.parent / "mark.svg").unlink(), ["shop.mark"]),
    "both files": (
        lambda bench: (bench.keys.write_text(""), bench.shop.write_text("")),
        ["STRAP_KEYS_FILE", "shop"],
    ),
}


def test_what_cannot_be_used_is_told_by_key_and_what_was_there_goes_on(bench):
    """All at one server, one after the other: a refused reload leaves it as good as it was."""
    for n, (name, (spoil, keys)) in enumerate(WRONG.items(), 1):
        kept = {path: path.read_bytes() for path in (bench.shop, bench.keys, bench.shop.parent / "mark.svg")}
        spoil(bench)
        bench.reload()
        told = bench.said("error")
        assert len(told) == n, name
        assert told[-1]["event"] == "reload refused: shop and keys stay as they were", name
        beginnings = {mistake.partition(":")[0] for mistake in told[-1]["mistakes"]}
        assert set(keys) <= beginnings, name
        assert (bench.name(), bench.quote(FIRST), bench.refused()) == ("The bell bench", 200, 1), name
        for path, content in kept.items():
            path.write_bytes(content)
    assert FIRST not in bench.log.read_text(encoding="utf-8")
    bench.rename("The other bench")
    bench.reload()
    assert (bench.name(), bench.quote(FIRST), bench.refused()) == ("The other bench", 200, 0)


def test_no_request_is_dropped_while_it_reloads(bench):
    """Callers on new connections and on kept ones, through good and refused reloads."""
    done, answers, broken = threading.Event(), [], []
    body = json.dumps(HANGING).encode()

    def caller(kept):
        connection = http.client.HTTPConnection("127.0.0.1", bench.server.port, timeout=30)
        while not done.is_set():
            try:
                connection.request("POST", "/v1/patterns", body, JSON)  # connects anew where the server closed it
                answer = connection.getresponse()
                answers.append((answer.status, len(answer.read())))
            except (OSError, http.client.HTTPException) as error:
                broken.append(repr(error))
            if not kept:
                connection.close()
        connection.close()

    callers = [threading.Thread(target=caller, args=(kept,)) for kept in (True, True, False, False)]
    for each in callers:
        each.start()
    for n in range(4):
        bench.rename(f"Bench {n}")
        bench.give_out(FIRST, SECOND) if n % 2 else bench.keys.write_text("")
        bench.reload()
    done.set()
    for each in callers:
        each.join()
    assert broken == []
    assert {status for status, _ in answers} == {200}
    assert len(answers) > 50
    assert bench.name() == "Bench 3"


def test_counts_go_on_over_reloads_and_take_no_more_room(bench):
    """Every reload ends all workers: what they counted is kept, in as many files as before."""

    def asked():
        rows = bench.ask("/metrics")[2].decode().splitlines()
        return next(row for row in rows if row.startswith('strap_requests_total{method="GET",route="get_shop"'))

    (folder,) = {
        Path(row.split()[-1]).parent
        for row in Path(f"/proc/{bench.server.workers[0]}/maps").read_text().splitlines()
        if "strap-metrics-" in row
    }
    for n in range(5):
        for _ in range(4):
            bench.name()
        assert asked().endswith(f" {4.0 * (n + 1)}")
        bench.reload()
    assert asked().endswith(" 20.0")
    assert bench.ask("/metrics")[2].count(b"\nstrap_shop{") == 1
    assert len(list(folder.glob("counter_*.db"))) <= 4  # the master's, two workers' and that of all that have ended


def counted(file, **counts):
    """A file of counts as a worker leaves it behind."""
    written = MmapedDict(str(file))
    for name, value in counts.items():
        written.write_value(name, value, 0.0)
    written.close()


def read(file):
    return {key: value for key, value, _, _ in MmapedDict.read_all_values_from_file(str(file))}


def test_counts_of_the_ended_are_added_up_unless_somebody_reads_them(tmp_path, monkeypatch):
    monkeypatch.setenv("PROMETHEUS_MULTIPROC_DIR", str(tmp_path))
    counted(tmp_path / "counter_7.db", a=2.0, b=1.0)
    counted(tmp_path / "counter_8.db", a=3.0)
    counted(tmp_path / "gauge_livesum_7.db", c=9.0)
    fold(7)
    reader = os.open(tmp_path, os.O_RDONLY)
    fcntl.flock(reader, fcntl.LOCK_SH)
    fold(8)
    assert {each.name for each in tmp_path.iterdir()} == {"counter_ended.db", "counter_8.db"}
    os.close(reader)
    fold(8)
    assert {each.name: read(each) for each in tmp_path.iterdir()} == {"counter_ended.db": {"a": 5.0, "b": 1.0}}


@pytest.mark.parametrize(
    "content",
    [b"", b"\x40\0\0\0" + b"\xff" * 60, b"\x40\0\0\0\0\0\0\0\x10\0\0\0" + b"\xff" * 52, b"\x40\0\0\0\0\0\0\0\x90"],
    ids=["empty", "no length", "no text", "cut off"],
)
def test_counts_that_cannot_be_read_end_nobody(tmp_path, monkeypatch, content):
    """A worker may be killed in the middle of a write."""
    monkeypatch.setenv("PROMETHEUS_MULTIPROC_DIR", str(tmp_path))
    (tmp_path / "counter_7.db").write_bytes(content)
    fold(7)
    assert {each.name for each in tmp_path.iterdir()} == {"counter_7.db"}


def test_a_fault_of_ours_at_a_reload_leaves_the_service_as_it_is(app, monkeypatch, caplog):
    def fail(*_):
        raise ZeroDivisionError

    monkeypatch.setattr(reloading, "create_app", fail)
    assert reloading.reloaded(app) is app
    assert [record.mistakes for record in caplog.records if hasattr(record, "mistakes")] == [
        ("(service): ZeroDivisionError",)
    ]
    assert "reload refused" in caplog.text
