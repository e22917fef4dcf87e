"""What is counted, timed and logged; and what never is."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from prometheus_client.parser import text_string_to_metric_families

from service.door.machine import logs
from service.door.machine.logs import LineHandler, LineWriter, trace_of
from tests.support.door import HANGING, REFUSED

PARENT = "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01"
TRACE = "4bf92f3577b34da6a3ce929d0e0e4736"


def counted(client):
    """Every sample: name and labels to value."""
    families = text_string_to_metric_families(client.get("/metrics").text)
    return {(each.name, *sorted(each.labels.values())): each.value for family in families for each in family.samples}


def lines(capfd):
    return [json.loads(line) for line in capfd.readouterr().out.splitlines()]


def test_requests_stages_cache_and_refusals_are_counted(client):
    before = counted(client)
    spec = HANGING | {"size": {"body_length": "23 3/64 in"}}
    assert [client.post("/v1/patterns", json=spec).status_code for _ in range(2)] == [200, 200]
    never_asked = REFUSED | {"size": {"body_length": "16 1/64 in"}}
    assert client.post("/v1/patterns", json=never_asked).status_code == 422
    after = counted(client)

    def more(*key):
        return after.get(key, 0) - before.get(key, 0)

    assert more("strap_requests_total", "200", "POST", "make_pattern") == 2
    assert more("strap_requests_total", "422", "POST", "make_pattern") == 1
    assert more("strap_request_seconds_count", "make_pattern") == 3
    assert more("strap_stage_seconds_count", "solve") == 2
    assert more("strap_stage_seconds_count", "read") == 2
    assert more("strap_cache_lookups_total", "hit") == 1
    assert more("strap_cache_lookups_total", "miss") == 2
    assert more("strap_refusals_total", "cannot_be_made") == 1
    assert more("strap_faults_total", "ornaments_crowded") == 1
    assert after["strap_cache_bytes",] > 0


def test_a_path_or_method_of_the_callers_making_is_no_label(client):
    client.get("/made-up-by-a-caller")
    client.open("/v1/shop", method="BREW")
    text = client.get("/metrics").text
    assert "made-up" not in text
    assert "BREW" not in text
    assert 'route="none"' in text
    assert 'method="other"' in text


def test_probes_are_not_counted_nor_logged(client, capfd):
    before = counted(client)
    client.get("/health/live")
    client.get("/health/ready")
    assert counted(client) == before
    assert lines(capfd) == []


def test_an_answer_is_one_line_with_what_helps_and_nothing_of_the_callers(client, capfd):
    headers = {"X-Request-Id": "order-17", "traceparent": PARENT, "User-Agent": "Mozilla/9", "Cookie": "a=b"}
    made = client.post("/v1/patterns?units=mm", json=HANGING, headers=headers)
    client.get(f"/v1/patterns/{made.json['code']}.svg", environ_base={"REMOTE_ADDR": "203.0.113.77"})
    written = capfd.readouterr().out
    first, second = map(json.loads, written.splitlines())
    assert (first["request_id"], first["trace_id"], first["route"]) == ("order-17", TRACE, "make_pattern")
    assert (first["status"], first["method"], first["bytes"]) == (200, "POST", len(made.data))
    assert first["ms"] >= 0
    assert "trace_id" not in second
    for private in (made.json["code"], "Mozilla", "a=b", "203.0.113.77", "units=mm", HANGING["construction"]):
        assert private not in written


def test_a_refusal_says_its_code(client, capfd):
    client.post("/v1/patterns", json=REFUSED)
    assert [line["code"] for line in lines(capfd)] == ["cannot_be_made"]


@pytest.mark.parametrize("text", ["a\r\nb", '"}\n{"event":"forged"}', "\u2028", "\x1b[2J", "\x00", "%s %(x)s {y}"])
def test_no_text_can_forge_a_line(client, capfd, text):
    client.post("/v1/patterns", json={text: 1, "construction": text})
    client.get("/v1/patterns/" + "x", headers={"traceparent": text.replace("\n", "").replace("\r", "")})
    client.get("/v1/shop", query_string={text: text})
    said = lines(capfd)
    assert [line["event"] for line in said] == ["answered"] * 3
    assert text not in json.dumps(said, ensure_ascii=False)


@pytest.mark.parametrize(
    ("given", "trace"),
    [
        (PARENT, TRACE),
        (PARENT.replace("00-", "cc-", 1) + "-later", TRACE),
        (PARENT + "-later", None),
        (PARENT.replace("00-", "ff-", 1), None),
        (PARENT.upper(), None),
        (f"00-{'0' * 32}-00f067aa0ba902b7-01", None),
        (f"00-{TRACE}-{'0' * 16}-01", None),
        ("", None),
        (f"00-{TRACE}", None),
    ],
)
def test_traceparent(given, trace):
    """W3C Trace Context, section 3.2.2: version ff and ids of zeros are invalid; later versions may say more."""
    assert trace_of(given) == trace


def test_what_the_server_says_is_a_line_too_without_the_callers_address():
    """gunicorn repeats the address and the text of a request that it cannot read."""
    script = (
        "import logging; from service.door.machine.logs import configure_logs; configure_logs();"
        "log = logging.getLogger('gunicorn.error');"
        "log.warning('Invalid request from ip=203.0.113.77: Invalid HTTP request line: /v1/patterns/secret');"
        "log.error('Error handling request %s', '/v1/patterns/secret');"
        "log.info('Booting worker with pid: 7')"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    said = [json.loads(line) for line in done.stdout.splitlines()]
    assert [line["event"] for line in said] == [
        "Invalid request",
        "Error handling request",
        "Booting worker with pid: 7",
    ]
    assert [line["level"] for line in said] == ["warning", "error", "info"]
    assert "secret" not in done.stdout
    assert "203.0" not in done.stdout


def test_of_an_exception_is_told_where_it_came_from_and_never_its_words():
    script = (
        "import logging, sys; from service.door.machine.logs import configure_logs; configure_logs()\n"
        "def inner(): raise KeyError(sys.argv[1])\n"
        "try:\n"
        "    try: inner()\n"
        "    except KeyError as error: raise ValueError(sys.argv[2]) from error\n"
        "except ValueError: logging.getLogger('service.door').exception('failed')\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, "the secret", "another secret"], capture_output=True, text=True, check=True
    )
    told = json.loads(done.stdout)["exception"]
    assert re.search(r"in inner\n(    .*\n)*KeyError\n.*ValueError$", told, re.DOTALL)
    assert "secret" not in told


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full here")
def test_a_full_disk_loses_lines_and_no_answers(client, monkeypatch):
    full = os.open("/dev/full", os.O_WRONLY)
    before = counted(client).get(("strap_log_lines_lost_total",), 0)
    try:
        monkeypatch.setattr(logs.LineWriter, "__init__", lambda self: setattr(self, "_descriptor", full))
        LineWriter().msg(b"{}")
        handler = LineHandler()
        handler.handle(handler_record())
    finally:
        os.close(full)
    assert counted(client)["strap_log_lines_lost_total",] == before + 2


def handler_record():
    return logs.logging.LogRecord("x", logs.logging.ERROR, "x", 1, "said", None, None)


def test_the_time_of_each_stage_is_told(client):
    """W3C Server Timing: a list of metrics with durations in milliseconds."""
    spec = HANGING | {"size": {"body_length": "23 5/64 in"}}
    told = client.post("/v1/patterns", json=spec, headers={"Accept": "image/svg+xml"}).headers["Server-Timing"]
    names = re.findall(r"([a-z]+)(?:;desc=[a-z]+)?;dur=[0-9]+\.[0-9]+", told)
    assert names == ["cache", "read", "wait", "solve", "draw", "encode", "total"]
    assert client.get("/health/live").headers.get("Server-Timing") is None
    assert client.get("/v1/shop").headers["Timing-Allow-Origin"] == "*"


def test_what_a_caller_has_is_timed_as_a_whole(client):
    """Server Timing: a list of metrics, none of them empty, also of a 304 that no stage took time for."""
    path = "/v1/designs/bell_garter/pattern"
    tag = client.get(path).headers["ETag"]
    again = client.get(path, headers={"If-None-Match": tag})
    assert again.status_code == 304
    assert re.fullmatch("total;dur=[0-9.]+", again.headers["Server-Timing"])


def test_a_line_is_written_whole():
    read, write = os.pipe()
    LineWriter(write).msg(b'{"a":1}')
    os.close(write)
    with os.fdopen(read, "rb") as end:
        assert end.read() == b'{"a":1}\n'
