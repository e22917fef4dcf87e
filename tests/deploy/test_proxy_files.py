"""What stands in more than one place is the same in all of them: limits of the proxies, and the service's own."""

import re
from pathlib import Path

import pytest

from service.door.routes import routes
from service.settings import Settings

PROXY = Path(__file__).parents[2] / "deploy" / "proxy"
NGINX = "\n".join(path.read_text(encoding="utf-8") for path in sorted(PROXY.rglob("*.conf")))
HAPROXY = (PROXY / "haproxy.cfg").read_text(encoding="utf-8")
UNITS = {"": 1, "k": 1024, "m": 1024**2}


def every(pattern, text):
    """What a pattern finds, each once."""
    found = re.findall(pattern, text)
    assert found, pattern
    return set(found)


def test_the_longest_bodies_are_those_that_the_service_reads():
    settings = Settings()
    sizes = every(r"client_max_body_size ([0-9]+)([km]?);", NGINX)
    assert {int(number) * UNITS[unit] for number, unit in sizes} == {settings.body_max, settings.orders_body_max}
    assert every(r"!lists_orders \{ req\.body_size gt ([0-9]+) \}", HAPROXY) == {str(settings.body_max)}
    assert every(r"413 default-errorfiles if \{ req\.body_size gt ([0-9]+) \}", HAPROXY) == {
        str(settings.orders_body_max)
    }


def test_what_lists_orders_is_what_the_service_reckons():
    longer = sorted(route.path for route in routes(Settings()) if route.turn == "large")
    (nginx,) = every(r'location ~\* "(\S+)" \{\s+client_max_body_size', NGINX)
    (haproxy,) = every(r"acl lists_orders var\(txn\.path\) -m reg '(\S+)'", HAPROXY)
    assert nginx == haproxy
    paths = {route.path for route in routes(Settings())}
    assert sorted(path for path in paths if re.search(nginx, path)) == longer


def test_a_whole_request_has_room_in_haproxy():
    """A body as long as is read, and a head of some ten kilobytes before it."""
    (room,) = every(r"tune\.bufsize ([0-9]+)", HAPROXY)
    assert int(room) >= Settings().orders_body_max + 2 * Settings().head_field_max


def test_an_idle_connection_is_closed_by_the_proxy_and_not_by_the_instance():
    """Else a request may go out on a connection that is just being closed."""
    assert {int(each) for each in every(r"\n\s+keepalive_timeout ([0-9]+)s;\n\}", NGINX)} <= set(
        range(Settings().keep_alive)
    )
    assert max(int(each) for each in every(r"timeout http-keep-alive ([0-9]+)s", HAPROXY)) < Settings().keep_alive


def test_a_proxy_is_more_patient_than_the_longest_answer():
    longest = Settings().wait_ms / 1000 + Settings().deadline
    waits = every(r"proxy_read_timeout ([0-9]+)s", NGINX) | every(r"timeout server ([0-9]+)s", HAPROXY)
    assert min(map(int, waits)) > longest


def test_both_proxies_let_one_caller_ask_as_much():
    """Over ten seconds: a burst and a rate at one, a count at the other."""
    (rate,), (burst,) = every(r"rate=([0-9]+)r/s", NGINX), every(r"burst=([0-9]+)", NGINX)
    assert every(r"sc0_gpc0_rate gt ([0-9]+)", HAPROXY) == {str(int(burst) + 10 * int(rate))}
    assert every(r"limit_conn at_once ([0-9]+);", NGINX) == every(r"or \{ sc0_conn_cur gt ([0-9]+) \}", HAPROXY)


@pytest.mark.parametrize(
    ("in_nginx", "in_haproxy"),
    [
        (r"ssl_ciphers (\S+);", r"ssl-default-bind-ciphers (\S+)"),
        (r'on "(max-age=[0-9]+)"', r'Strict-Transport-Security "(max-age=[0-9]+)"'),
    ],
    ids=["ciphers", "HSTS"],
)
def test_both_proxies_say_the_same_of_tls(in_nginx, in_haproxy):
    assert every(in_nginx, NGINX) == every(in_haproxy, HAPROXY)


def test_every_problem_of_a_proxy_says_one_status_and_has_a_code():
    """RFC 9457, section 3.1.2."""
    said = re.findall(r'(?:return|status) ([0-9]{3}) .*?"status":([0-9]{3}),"code":"([a-z0-9_]+)"', NGINX + HAPROXY)
    assert len(said) > 15
    assert all(status == in_body for status, in_body, _ in said)
