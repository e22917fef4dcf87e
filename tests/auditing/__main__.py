"""Asks about known vulnerabilities of locked packages by pip-audit, and believes no silence: `tests/audit`."""

import json
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

KNOWN = "jinja2==2.10"
"""A release with a published vulnerability (CVE-2019-10906; from memory): who does not name one knows none."""
CLEAN, VULNERABLE, NOT_AUDITED = 0, 1, 2
Report = dict[str, Any]


class NotAudited(Exception):
    """It could not be asked, or not about everything, or nobody there knows."""


def ask(lock: Path) -> Report:
    """What pip-audit reports of a lock. Raises `NotAudited` where it gives no report."""
    command = [
        sys.executable, "-m", "pip_audit", "--requirement", str(lock), "--disable-pip", "--no-deps",
        "--format", "json", "--progress-spinner", "off", "--timeout", "15",
    ]  # fmt: skip
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    try:
        report: Report = json.loads(done.stdout)
    except ValueError:
        lines = done.stderr.strip().splitlines() or ["it said nothing"]
        raise NotAudited(f"{lock}: {lines[-1][:300]}") from None
    return report


def found_in(report: Report) -> list[str]:
    """A line for each vulnerability. Raises `NotAudited` where a package was left out, or there is none."""
    packages = report.get("dependencies", [])
    left_out = [f"{each['name']} ({each['skip_reason']})" for each in packages if "skip_reason" in each]
    if left_out or not packages:
        raise NotAudited("; ".join(left_out) or "the report has no package in it")
    return [
        f"{each['name']} {each['version']}: {one['id']}, mended in {', '.join(one['fix_versions']) or 'no release'}"
        for each in packages
        for one in each["vulns"]
    ]


def require_knowledge(asked: Callable[[Path], Report]) -> None:
    """Pass who knows of a vulnerability that is known. Raises `NotAudited`."""
    with tempfile.TemporaryDirectory() as folder:
        trial = Path(folder) / "requirements.txt"
        trial.write_text(f"{KNOWN}\n", encoding="utf-8")
        if not found_in(asked(trial)):
            raise NotAudited(f"who was asked knows of no vulnerability in {KNOWN}, which has some")


def audit(locks: Iterable[Path], asked: Callable[[Path], Report] = ask) -> int:
    """Print what is known of each lock; gives the status to end with."""
    try:
        require_knowledge(asked)
        found = {lock: found_in(asked(lock)) for lock in locks}
    except NotAudited as reason:
        print(f"not audited: {reason}")
        return NOT_AUDITED
    for lock, lines in found.items():
        print("\n  ".join([f"{lock}: {len(lines) or 'no'} known vulnerabilities", *lines]))
    return VULNERABLE if any(found.values()) else CLEAN


if __name__ == "__main__":
    raise SystemExit(audit([Path(name) for name in sys.argv[1:]]))
