"""HAProxy, with the configuration of deploy/, in front of some instances."""

import os
import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from tests.support.serving import ROOT, Instance, free_port, program, wait_for


@contextmanager
def haproxy(instances: Sequence[Instance]) -> Iterator[int]:
    """A running HAProxy; gives its port."""
    port = free_port()
    with tempfile.TemporaryDirectory() as folder:
        servers = Path(folder) / "servers.cfg"
        rows = [f"    server n{n} 127.0.0.1:{each.port}\n" for n, each in enumerate(instances)]
        servers.write_text("backend patterns\n" + "".join(rows), encoding="utf-8")
        command = [program("haproxy"), "-db", "-f", str(ROOT / "deploy/proxy/haproxy.cfg"), "-f", str(servers)]
        environment = os.environ | {"STRAP_PROXY_BIND": f"127.0.0.1:{port}"}
        with subprocess.Popen(
            command, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        ) as process:
            try:
                wait_for(port)
                yield port
            finally:
                process.terminate()


@contextmanager
def nginx(instances: Sequence[Instance]) -> Iterator[int]:
    """A running nginx, its two servers, its port and its folders in the place of those in the file; gives its port."""
    port = free_port()
    with tempfile.TemporaryDirectory() as folder:
        text = (ROOT / "deploy/proxy/nginx.conf").read_text(encoding="utf-8")
        text = text.replace("/run/strap-proxy", folder).replace("listen 8080", f"listen 127.0.0.1:{port}")
        for named, instance in zip(("127.0.0.1:8001", "127.0.0.1:8002"), instances, strict=True):
            text = text.replace(named, f"127.0.0.1:{instance.port}")
        file = Path(folder) / "nginx.conf"
        file.write_text(text.replace("events {", "daemon off; user root;\nevents {", 1), encoding="utf-8")
        command = [program("nginx"), "-c", str(file), "-e", "stderr"]
        with _running(command, port):
            yield port


@contextmanager
def _running(command: list[str], port: int, **environment: str) -> Iterator[None]:
    given, nowhere = os.environ | environment, subprocess.DEVNULL
    with subprocess.Popen(command, env=given, stdout=nowhere, stderr=nowhere) as process:
        try:
            wait_for(port)
            yield
        finally:
            process.terminate()
