"""HAProxy and nginx, with the configurations of deploy/proxy, in front of some instances.

Unless `limited` they let one caller ask as much as it likes: all that tests ask comes from one address. `edits` are
further changes of what the files say; each old text has to be there.
"""

import os
import re
import shutil
import subprocess
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tests.support.serving import ROOT, Instance, free_port, program, wait_for

PROXY = ROOT / "deploy/proxy"
PUBLIC_URL = "https://straps.example"
_NGINX_UNLIMITED = {"rate=30r/s": "rate=100000r/s", "burst=300": "burst=10000", "at_once 100": "at_once 10000"}
_HAPROXY_UNLIMITED = {"gpc0_rate gt 600": "gpc0_rate gt 10000000", "gt 100 }": "gt 10000 }", "gt 200 }": "gt 10000 }"}


@dataclass(frozen=True, slots=True)
class Certificate:
    """A certificate in files: `chain` and `key`, and `both` one after the other, as HAProxy takes them."""

    chain: Path
    key: Path
    both: Path


@dataclass(frozen=True, slots=True)
class Doors:
    """Where a proxy listens with TLS, and where without."""

    plain: int
    tls: int


@contextmanager
def haproxy(
    instances: Sequence[Instance], *, limited: bool = False, edits: Mapping[str, str] | None = None
) -> Iterator[int]:
    """A running HAProxy without TLS; gives its port."""
    port = free_port()
    with _haproxy(instances, _all(edits, {} if limited else _HAPROXY_UNLIMITED), port):
        yield port


@contextmanager
def haproxy_tls(instances: Sequence[Instance], certificate: Certificate, *, limited: bool = False) -> Iterator[Doors]:
    """A running HAProxy with TLS, for https://straps.example; gives its ports."""
    doors = Doors(free_port(), free_port())
    with _haproxy(
        instances, {} if limited else _HAPROXY_UNLIMITED, doors.tls, STRAP_PROXY_BIND=f"127.0.0.1:{doors.plain}",
        STRAP_PROXY_TLS_BIND=f"127.0.0.1:{doors.tls}", STRAP_PROXY_PEM=str(certificate.both),
        STRAP_PUBLIC_URL=PUBLIC_URL,
    ):  # fmt: skip
        yield doors


@contextmanager
def nginx(
    instances: Sequence[Instance], *, limited: bool = False, edits: Mapping[str, str] | None = None
) -> Iterator[int]:
    """A running nginx without TLS; gives its port."""
    port = free_port()
    unlimited = {} if limited else _NGINX_UNLIMITED
    with _nginx(instances, "nginx.conf", _all({"listen 8080": f"listen 127.0.0.1:{port}"}, unlimited, edits), port):
        yield port


@contextmanager
def nginx_tls(instances: Sequence[Instance], certificate: Certificate, *, limited: bool = False) -> Iterator[Doors]:
    """A running nginx with TLS; gives its ports."""
    doors = Doors(free_port(), free_port())
    moved = {
        "listen 80 ": f"listen 127.0.0.1:{doors.plain} ",
        "listen 443 ": f"listen 127.0.0.1:{doors.tls} ",
        "/etc/strap-patterns/tls/fullchain.pem": str(certificate.chain),
        "/etc/strap-patterns/tls/privkey.pem": str(certificate.key),
    }
    with _nginx(instances, "nginx-tls.conf", _all(moved, {} if limited else _NGINX_UNLIMITED), doors.tls):
        yield doors


def _all(*edits: Mapping[str, str] | None) -> dict[str, str]:
    return {old: new for each in edits for old, new in (each or {}).items()}


@contextmanager
def _haproxy(instances: Sequence[Instance], edits: Mapping[str, str], port: int, **environment: str) -> Iterator[None]:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        rows = [f"    server n{n} 127.0.0.1:{each.port}\n" for n, each in enumerate(instances)]
        (folder / "servers.cfg").write_text("backend patterns\n" + "".join(rows), encoding="utf-8")
        shutil.copy(PROXY / "haproxy.cfg", folder)
        _edit(folder, edits)
        command = [program("haproxy"), "-db", "-f", str(folder / "haproxy.cfg"), "-f", str(folder / "servers.cfg")]
        with _running(command, port, **({"STRAP_PROXY_BIND": f"127.0.0.1:{port}"} | environment)):
            yield


@contextmanager
def _nginx(instances: Sequence[Instance], main: str, edits: Mapping[str, str], port: int) -> Iterator[None]:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "proxy"
        shutil.copytree(PROXY, folder)
        servers = "".join(f"server 127.0.0.1:{each.port} max_fails=0;\n" for each in instances)
        _edit(folder, {"/run/strap-proxy": name, "events {": "daemon off; user root;\nevents {", **edits})
        for each in folder.rglob("*.conf"):
            text = re.sub(r" +listen \[::\].*;\n", "", each.read_text(encoding="utf-8"))
            text = re.sub(r"(    server 127\.0\.0\.1:[0-9]+ max_fails=0;\n)+", servers, text)
            each.write_text(text, encoding="utf-8")
        with _running([program("nginx"), "-c", str(folder / main), "-e", "stderr"], port):
            yield


def _edit(folder: Path, edits: Mapping[str, str]) -> None:
    """Change what the files in a folder say. Raises `RuntimeError` for a text that none of them has."""
    files = {path: path.read_text(encoding="utf-8") for path in folder.rglob("*.c*") if path.is_file()}
    for old, new in edits.items():
        if not any(old in text for text in files.values()):
            raise RuntimeError(f"no file of the proxy says {old!r}")
        files = {path: text.replace(old, new) for path, text in files.items()}
    for path, text in files.items():
        path.write_text(text, encoding="utf-8")


@contextmanager
def _running(command: list[str], port: int, **environment: str) -> Iterator[None]:
    given, nowhere = os.environ | environment, subprocess.DEVNULL
    with subprocess.Popen(command, env=given, stdout=nowhere, stderr=nowhere) as process:
        try:
            wait_for(port)
            yield
        finally:
            process.terminate()
