"""Writes the table of settings into deploy/README.md: `python -m tests.deploy.limits`."""

import re
from pathlib import Path

from service.settings import settings_table

README = Path(__file__).parents[2] / "deploy" / "README.md"


def main() -> None:
    """Put the current table in the place of the old one."""
    text = README.read_text(encoding="utf-8")
    table = re.compile(r"\| variable \| unit .*?\n(?!\|)", re.DOTALL)
    README.write_text(table.sub(lambda _: settings_table(), text, count=1), encoding="utf-8")


if __name__ == "__main__":
    main()
