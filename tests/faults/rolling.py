"""Three instances behind either proxy lose one and change their shop under load: `tests/heavy rolling`.

One is killed with SIGKILL, master and workers, and comes back; then one after the other is restarted with a
new shop file. No request may fail.
"""

import json
import shutil
import tempfile
import threading
import time
from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from pathlib import Path

from tests.benchmarks._timing import line
from tests.load.figures import ANOTHER
from tests.load.wrk import Figures, wrk
from tests.support.proxied import haproxy, nginx
from tests.support.serving import ROOT, Instance, ask

SECONDS = 4
LONGEST = 120
CONNECTIONS = 6
NEW = "The other bench"
Proxy = Callable[[Sequence[Instance]], AbstractContextManager[int]]


def other_shop(folder: Path) -> Path:
    """The demo shop under another name, its pictures beside it."""
    shutil.copytree(ROOT / "service/shop", folder, ignore=shutil.ignore_patterns("*.py", "__pycache__"))
    file = folder / "demo.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace('name = "The bell bench"', f'name = "{NEW}"'), encoding="utf-8")
    return file


def shop_name(port: int) -> str:
    """The name of the shop that an instance works for."""
    name: str = json.loads(ask(port, "/v1/shop")[2])["name"]
    return name


def change(instances: list[Instance], shop: Path) -> None:
    """Kill the first and let it come back; restart all with the shop, one after the other."""
    time.sleep(2)
    instances[0].kill()
    time.sleep(4)
    instances[0].start(workers=1)
    time.sleep(3)
    for each in instances:
        each.stop()
        each.start(workers=1, shop_file=shop)
        time.sleep(2.5)


def rolled(name: str, proxy: Proxy) -> bool:
    """Whether all went well behind a proxy; prints what was asked and what failed."""
    with tempfile.TemporaryDirectory() as folder:
        shop = other_shop(Path(folder) / "shop")
        instances = [Instance(workers=1) for _ in range(3)]
        try:
            with proxy(instances) as port:
                time.sleep(3)  # until the checks have found all three
                runs = _under_load(port, instances, shop)
            names = {shop_name(each.port) for each in instances}
        finally:
            for each in instances:
                each.stop()
    failed, broken = sum(each.refused for each in runs), sum(each.socket_errors for each in runs)
    line(f"{name}: requests by POST, another strap each", sum(each.requests for each in runs), "")
    line(f"{name}: the slowest in a hundred, of the worst run", max(each.p99_ms for each in runs), "ms")
    line(f"{name}: answers other than 2xx", failed, "", "aim: none")
    line(f"{name}: connections that broke", broken, "", "aim: none")
    line(f"{name}: instances with the new shop", len(instances) if names == {NEW} else 0, f"of {len(instances)}")
    return not failed and not broken and names == {NEW}


def main() -> None:
    """Print the figures of both proxies; fail if a request failed, or an instance kept the old shop."""
    went_well = [rolled("HAProxy", haproxy), rolled("nginx", nginx)]
    if not all(went_well):
        raise SystemExit("a request failed, or a shop is not the new one")


def _under_load(port: int, instances: list[Instance], shop: Path) -> list[Figures]:
    """Load by short runs until all changes are done, and one run more."""
    changes = threading.Thread(target=change, args=(instances, shop))
    changes.start()
    runs, until = [], time.monotonic() + LONGEST
    while changes.is_alive() and time.monotonic() < until:
        runs.append(wrk(port, "/v1/patterns", seconds=SECONDS, connections=CONNECTIONS, body=ANOTHER))
    changes.join()
    return [*runs, wrk(port, "/v1/patterns", seconds=SECONDS, connections=CONNECTIONS, body=ANOTHER)]


if __name__ == "__main__":
    main()
