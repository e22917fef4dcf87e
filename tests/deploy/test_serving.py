"""The service as gunicorn runs it: settings from the environment, counts of all workers, a quiet end."""

import json
import os
import re
import signal
import socket
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from tests.support.door import HANGING, HARNESS
from tests.support.serving import ROOT, Instance, ask, free_port, serving

pytestmark = pytest.mark.slow

JSON = {"Content-Type": "application/json"}
WRONG_CONFIGURATION = 78
"""sysexits(3), EX_CONFIG; systemd.exec(5), "Process exit codes": CONFIG."""
COMMAND = [sys.executable, "-m", "gunicorn", "--config", "deploy/gunicorn.conf.py", "service.wsgi:app"]


def post(port, spec, accept="application/json", query=""):
    return ask(port, "/v1/patterns" + query, "POST", json.dumps(spec).encode(), JSON | {"Accept": accept})


def started(**environment):
    kept = {name: value for name, value in os.environ.items() if not name.startswith("STRAP_")}
    given = kept | environment
    return subprocess.run(COMMAND, cwd=ROOT, env=given, capture_output=True, text=True, timeout=300, check=False)


def test_every_mistake_is_told_at_start_and_nothing_is_served():
    done = started(STRAP_WORKERS="none", STRAP_THREADS="3", STRAP_KEYS="x", STRAP_BIND=f"127.0.0.1:{free_port()}")
    assert done.returncode == WRONG_CONFIGURATION
    told = done.stdout + done.stderr
    for name in ("STRAP_WORKERS", "STRAP_THREADS", "STRAP_KEYS: unknown variable; did you mean STRAP_KEYS_FILE?"):
        assert name in told


def test_a_bad_shop_file_is_told_by_key_and_nothing_is_served(tmp_path):
    shop = tmp_path / "shop.toml"
    shop.write_text('[shop]\nname = 3\ncurrency = "EURO"\n', encoding="utf-8")
    done = started(STRAP_SHOP_FILE=str(shop), STRAP_BIND=f"127.0.0.1:{free_port()}")
    assert done.returncode == WRONG_CONFIGURATION
    assert "shop.name" in done.stdout + done.stderr
    assert "shop.currency" in done.stdout + done.stderr


def test_counts_of_all_workers_are_told_together():
    with serving(workers=2) as server:
        for n in range(12):
            assert post(server.port, HANGING | {"size": {"body_length": f"{20 + n} in"}})[0] == 200
        text = ask(server.port, "/metrics")[2].decode()
    assert re.search(r'strap_requests_total\{method="POST",route="make_pattern",status="200"\} 12.0', text)
    assert re.search(r'strap_renders_running\{lane="small"\} 0.0', text)


def wait_until(is_so):
    until = time.monotonic() + 120
    while not is_so():
        assert time.monotonic() < until
        time.sleep(0.02)


def test_a_worker_that_is_killed_is_replaced_and_leaves_the_figures_of_the_living():
    with serving(workers=2) as server:
        first = server.workers
        assert post(server.port, HANGING)[0] == 200
        os.kill(first[0], signal.SIGKILL)
        wait_until(lambda: first[0] not in server.workers and len(server.workers) == 2)
        answers = [post(server.port, HANGING)[0] for _ in range(10)]
        assert answers == [200] * 10
        assert b"strap_requests_total" in ask(server.port, "/metrics")[2]


def test_a_stop_lets_what_was_asked_be_answered():
    server = Instance(workers=1)
    with ThreadPoolExecutor(4) as pool:
        asked = [pool.submit(post, server.port, HARNESS, "image/png", f"?width_px={width}") for width in (6000, 6001)]
        wait_until(lambda: b'strap_renders_waiting{lane="large"} 1.0' in ask(server.port, "/metrics")[2])
        server.stop()
        answers = [each.result() for each in asked]
    assert [status for status, _, _ in answers] == [200, 200]
    assert all(content.startswith(b"\x89PNG") for _, _, content in answers)
    with pytest.raises(ConnectionRefusedError):
        socket.create_connection(("127.0.0.1", server.port), timeout=1)


def raw(port, text, seconds=60.0):
    with socket.create_connection(("127.0.0.1", port), timeout=seconds) as connection:
        connection.sendall(text)
        connection.settimeout(seconds)
        got = b""
        try:
            while chunk := connection.recv(65536):
                got += chunk
        except TimeoutError:
            pass
        return got


def test_the_servers_own_limits_at_the_edge_and_one_beyond():
    """gunicorn answers these itself, in HTML: the proxy in front says them as problems."""
    with serving(workers=1, head_field_max=2000, head_fields_max=20) as server:

        def ask_with(*fields):
            head = b"".join(field + b"\r\n" for field in (b"Host: localhost", b"Connection: close", *fields))
            return raw(server.port, b"GET /health/live HTTP/1.1\r\n" + head + b"\r\n").split(b" ", 2)[1]

        # The limit holds the field with its line's end; Host and Connection are two of the twenty fields.
        assert ask_with(b"X: " + b"a" * (2000 - 5)) == b"200"
        assert ask_with(b"X: " + b"a" * (2000 - 4)) == b"431"
        assert ask_with(*[b"X: a"] * 18) == b"200"
        assert ask_with(*[b"X: a"] * 19) == b"431"

        def ask_for(length):
            path = b"/v1/patterns/".ljust(length, b"a")
            return raw(server.port, b"GET " + path + b" HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n")

        assert b"unknown_code" in ask_for(2000)
        assert b"url_too_long" in ask_for(2001)
        assert ask_for(4000).startswith(b"HTTP/1.1 414 ")


def test_no_folder_of_counts_is_left_behind():
    """The folder is found by what its worker has mapped, since other tests serve at the same time."""
    with serving(workers=1) as server:
        (worker,) = server.workers
        mapped = Path(f"/proc/{worker}/maps").read_text()
        (folder,) = {Path(each) for each in re.findall(r"(/\S*/strap-metrics-\w+)/", mapped)}
        assert folder.is_dir()
    assert not folder.exists()
