"""Every environment variable and limit of the service, each declared once with unit, default and range."""

import os
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields
from difflib import get_close_matches
from pathlib import Path
from typing import Annotated, Any, get_type_hints

PREFIX = "STRAP_"


class SettingsError(ValueError):
    """An environment that cannot be used. `mistakes` has every one, each beginning with its variable."""

    def __init__(self, mistakes: tuple[str, ...]) -> None:
        super().__init__("\n  ".join(["the environment cannot be used:", *mistakes]))
        self.mistakes = mistakes


@dataclass(frozen=True, slots=True)
class WholeNumber:
    """What is allowed of a limit: a whole number of `unit` from `least` to `most`."""

    unit: str
    least: int
    most: int

    def read(self, text: str) -> int:
        """The number that a text says. Raises `ValueError` with a sentence."""
        number = int(text) if re.fullmatch(r"[0-9]{1,12}", text) else -1
        if not self.least <= number <= self.most:
            raise ValueError(f"{text[:40]!r} is not {self}")
        return number

    def __str__(self) -> str:
        return f"a whole number from {self.least} to {self.most}"


@dataclass(frozen=True, slots=True)
class ExistingFile:
    """What is allowed of a file: that it is there."""

    unit: str = "path"

    def read(self, text: str) -> Path:
        """The path that a text says. Raises `ValueError` with a sentence."""
        path = Path(text)
        if not path.is_file():
            raise ValueError(f"{text!r} is not {self}")
        return path

    def __str__(self) -> str:
        return "a file that is there"


@dataclass(frozen=True, slots=True)
class Address:
    """What is allowed of an address to listen at."""

    unit: str = "host:port"

    def read(self, text: str) -> str:
        """The address as it stands. Raises `ValueError` with a sentence."""
        port = re.fullmatch(r"\S+:([0-9]{1,5})", text)
        if not text.startswith("unix:") and not (port and int(port[1]) <= 65_535):
            raise ValueError(f"{text!r} is not {self}")
        return text

    def __str__(self) -> str:
        return "host:port or unix:path"


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """The settings in force. The variable of `body_max` is `STRAP_BODY_MAX`, and so on."""

    bind: Annotated[str, Address(), "Where the server listens"] = "127.0.0.1:8000"
    shop_file: Annotated[Path | None, ExistingFile(), "The shop file; without one, the demo shop"] = None
    body_max: Annotated[
        int, WholeNumber("bytes", 1024, 1_048_576), "Longest request body; beyond it the answer is 413"
    ] = 65_536
    url_max: Annotated[
        int,
        WholeNumber("characters", 200, 8000),
        "Longest path with its query, asked for (else 414) or given as `Content-Location`",
    ] = 2000
    cache_seconds: Annotated[
        int, WholeNumber("seconds", 0, 31_536_000), "How long a good answer may be kept without asking again"
    ] = 3600
    pixels_max: Annotated[
        int, WholeNumber("pixels", 100_000, 200_000_000), "Most pixels of one PNG, width times height"
    ] = 24_000_000
    dpi_default: Annotated[
        int, WholeNumber("dots per inch", 10, 1200), "Resolution of a PNG where the caller names none"
    ] = 150
    dpi_max: Annotated[int, WholeNumber("dots per inch", 10, 2400), "Highest resolution that may be asked for"] = 600
    width_px_max: Annotated[
        int, WholeNumber("pixels", 100, 32_767), "Greatest width of a PNG that may be asked for"
    ] = 8000


@dataclass(frozen=True, slots=True)
class Declared:
    """One setting as `Settings` declares it."""

    name: str
    default: object
    allowed: WholeNumber | ExistingFile | Address
    meaning: str

    @property
    def variable(self) -> str:
        """Its environment variable."""
        return PREFIX + self.name.upper()


def _declared() -> tuple[Declared, ...]:
    hints = get_type_hints(Settings, include_extras=True)
    said = {name: hint.__metadata__ for name, hint in hints.items()}
    return tuple(Declared(each.name, each.default, *said[each.name]) for each in fields(Settings))


DECLARED = _declared()


def read_settings(environment: Mapping[str, str] = os.environ) -> Settings:
    """The settings that an environment asks for. Raises `SettingsError` with every mistake in it."""
    values: dict[str, Any] = {}
    mistakes = list(_unknown(environment))
    for each in DECLARED:
        text = environment.get(each.variable, "").strip()
        try:
            values[each.name] = each.allowed.read(text) if text else each.default
        except ValueError as error:
            mistakes.append(f"{each.variable}: {error}")
    if not mistakes and values["dpi_default"] > values["dpi_max"]:
        mistakes.append(f"{PREFIX}DPI_DEFAULT: may not be more than {PREFIX}DPI_MAX")
    if mistakes:
        raise SettingsError(tuple(mistakes))
    return Settings(**values)


def settings_table() -> str:
    """Every setting as a Markdown table, for the documentation."""
    rows = ["| variable | unit | default | allowed | what it does |", "| --- | --- | --- | --- | --- |"]
    for each in DECLARED:
        default = "none" if each.default is None else each.default
        row = (f"`{each.variable}`", each.allowed.unit, default, each.allowed, each.meaning)
        rows.append("| " + " | ".join(map(str, row)) + " |")
    return "\n".join(rows) + "\n"


def _unknown(environment: Mapping[str, str]) -> Iterator[str]:
    known = [each.variable for each in DECLARED]
    for name in sorted(environment):
        if name.startswith(PREFIX) and name not in known:
            close = get_close_matches(name, known, n=1)
            yield f"{name}: unknown variable" + (f"; did you mean {close[0]}?" if close else "")
