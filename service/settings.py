"""Every environment variable and limit of the service, each declared once with unit, default and range."""

import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields
from functools import cache
from pathlib import Path
from typing import Annotated, Any, get_type_hints

from service.allowed import (
    ANY_HOST,
    Address,
    ExistingFile,
    Forwarded,
    HostNames,
    OneOf,
    Origins,
    Site,
    Store,
    WholeNumber,
)
from service.keys_file import Keys, KeysFile
from service.near_names import near_names
from service.words import say

PREFIX = "STRAP_"
SPARE_THREADS = 4
"""Threads that no render may take, so that probes are answered while all others are busy."""


class SettingsError(ValueError):
    """An environment that cannot be used. `mistakes` has every one, each beginning with its variable."""

    def __init__(self, mistakes: tuple[str, ...]) -> None:
        super().__init__("\n  ".join(["the environment cannot be used:", *mistakes]))
        self.mistakes = mistakes


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """The settings in force. The variable of `body_max` is `STRAP_BODY_MAX`, and so on."""

    bind: Annotated[str, Address(), "Where the server listens"] = "127.0.0.1:8000"
    shop_file: Annotated[Path | None, ExistingFile(), "The shop file; without one, the demo shop"] = None
    body_max: Annotated[
        int, WholeNumber("bytes", 1024, 1_048_576), "Longest request body; beyond it the answer is 413"
    ] = 65_536
    orders_body_max: Annotated[
        int, WholeNumber("bytes", 1024, 16_777_216), "Longest body of a quote or cut plan; beyond it the answer is 413"
    ] = 1_048_576
    head_seconds: Annotated[
        int,
        WholeNumber("seconds", 1, 300),
        "Longest that a request's head may take to come; beyond it the answer is 408",
    ] = 10
    body_seconds: Annotated[
        int, WholeNumber("seconds", 1, 300), "Longest that a body may take to come; beyond it the answer is 408"
    ] = 10
    send_seconds: Annotated[
        int, WholeNumber("seconds", 1, 600), "Longest that a caller may take over an answer; beyond it the line is cut"
    ] = 60
    url_max: Annotated[
        int,
        WholeNumber("characters", 200, 8000),
        "Longest path with its query, asked for (else 414) or given as `Content-Location`",
    ] = 2000
    cache_seconds: Annotated[
        int, WholeNumber("seconds", 0, 31_536_000), "How long a good answer may be kept without asking again"
    ] = 3600
    pixels_max: Annotated[
        int, WholeNumber("pixels", 100_000, 200_000_000), "Most pixels of one PNG or WebP, width times height"
    ] = 50_000_000
    pages_max: Annotated[int, WholeNumber("pages", 1, 500), "Most pages of one PDF"] = 60
    work_order_pages_max: Annotated[
        int,
        WholeNumber("pages", 1, 1000),
        "Most pages of the PDF of one work order, all its patterns in it, or of one offer",
    ] = 240
    dpi_default: Annotated[
        int, WholeNumber("dots per inch", 10, 1200), "Resolution of a PNG where the caller names none"
    ] = 150
    dpi_max: Annotated[int, WholeNumber("dots per inch", 10, 2400), "Highest resolution that may be asked for"] = 600
    width_px_default: Annotated[
        int,
        WholeNumber("pixels", 100, 8000),
        "Width of a picture of the finished look where the caller names none",
    ] = 1200
    width_px_max: Annotated[
        int, WholeNumber("pixels", 100, 32_767), "Greatest width or height of a picture that may be asked for"
    ] = 8000
    workers: Annotated[int, WholeNumber("processes", 1, 64), "Worker processes; about one a core"] = 2
    threads: Annotated[
        int, WholeNumber("threads", 6, 128), "Threads of a worker: one for each that runs or waits, and some to spare"
    ] = 32
    small_at_once: Annotated[
        int,
        WholeNumber("requests", 1, 32),
        "JSON, SVG and small picture answers that a worker makes at the same time",
    ] = 2
    small_waiting: Annotated[
        int,
        WholeNumber("requests", 0, 64),
        "How many more of them may wait for their turn; beyond it the answer is 503",
    ] = 16
    large_at_once: Annotated[
        int,
        WholeNumber("requests", 1, 32),
        "Large picture, PDF and reckoning answers that a worker makes at the same time",
    ] = 1
    large_waiting: Annotated[
        int,
        WholeNumber("requests", 0, 64),
        "How many more of them may wait for their turn; beyond it the answer is 503",
    ] = 8
    wait_ms: Annotated[
        int, WholeNumber("milliseconds", 0, 60_000), "Longest wait for one's turn; beyond it the answer is 503"
    ] = 2000
    kept_bytes: Annotated[
        int, WholeNumber("bytes", 0, 4_294_967_296), "Memory of a worker for answers made before; 0 keeps none"
    ] = 67_108_864
    rate_per_minute: Annotated[
        int, WholeNumber("requests", 0, 1_000_000), "Requests of one caller in a minute; beyond it 429. 0: no limit"
    ] = 0
    rate_store: Annotated[
        str,
        Store(),
        "Where callers' requests are counted: in memory for all workers of an instance, in Redis for all instances",
    ] = "memory://"
    proxies: Annotated[
        int, WholeNumber("proxies", 0, 8), "Proxies in front whose `X-Forwarded-For` tells the caller apart"
    ] = 0
    forwarded: Annotated[
        tuple[str, ...] | None,
        Forwarded(),
        "What these proxies are believed beside: `X-Forwarded-Host`, `-Prefix`, `-Proto`; each of them has to set it",
    ] = None
    keys_file: Annotated[
        Keys | None,
        KeysFile(),
        "API keys, as SHA-256, one a line; without it costs, purchase prices, cut plans and work orders are everyone's",
    ] = None
    workshop: Annotated[
        str,
        OneOf(("open", "key", "off")),
        "Who sees the maker's pages under `/workshop`: everyone, holders of a key (a browser asks for it), or nobody",
    ] = "open"
    guesses_per_minute: Annotated[
        int,
        WholeNumber("keys", 1, 1000),
        "Wrong keys that one caller may show in a minute; beyond it 429 to every key from there",
    ] = 10
    public_url: Annotated[
        str | None,
        Site(),
        "Where others reach the service, with its path if it has one: every link is built on this; without it, on the "
        "host that was asked for",
    ] = None
    hosts: Annotated[
        tuple[str, ...] | None,
        HostNames(),
        "Hosts that are answered for beside the public URL's, the address listened at and this machine's own; else 421",
    ] = None
    cors_origins: Annotated[str, Origins(), "Origins whose scripts may read answers"] = "*"
    head_fields_max: Annotated[int, WholeNumber("fields", 20, 1000), "Header fields of a request; beyond it 431"] = 64
    head_field_max: Annotated[
        int, WholeNumber("bytes", 1024, 32_768), "Longest header field of a request; beyond it 431"
    ] = 8190
    connections: Annotated[int, WholeNumber("connections", 10, 100_000), "Connections open at a worker"] = 1000
    keep_alive: Annotated[
        int, WholeNumber("seconds", 1, 600), "How long an idle connection stays open; more than the proxy keeps it"
    ] = 75
    deadline: Annotated[
        int, WholeNumber("seconds", 1, 300), "Longest that one request is worked on; beyond it the answer is 503"
    ] = 20
    timeout: Annotated[
        int, WholeNumber("seconds", 5, 600), "A worker that gives no sign of life for so long is replaced"
    ] = 30
    grace: Annotated[int, WholeNumber("seconds", 1, 600), "How long requests may run on after a stop is asked for"] = 25


@dataclass(frozen=True, slots=True)
class Declared:
    """One setting as `Settings` declares it."""

    name: str
    default: object
    allowed: WholeNumber | OneOf | ExistingFile | KeysFile | Address | Origins | Site | HostNames | Forwarded | Store
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
    mistakes += () if mistakes else _at_odds(Settings(**values))
    if mistakes:
        raise SettingsError(tuple(mistakes))
    return Settings(**values)


@cache
def settings_at_start() -> Settings:
    """The settings of this process, read once. Raises `SettingsError` as `read_settings` does."""
    return read_settings()


def _at_odds(settings: Settings) -> Iterator[str]:
    """What is wrong between settings that are each right."""
    if settings.dpi_default > settings.dpi_max:
        yield say("{prefix}DPI_DEFAULT: may not be more than {prefix}DPI_MAX", prefix=PREFIX)
    if settings.forwarded and not settings.proxies:
        yield say("{prefix}FORWARDED: there is nobody to believe: {prefix}PROXIES is 0", prefix=PREFIX)
    if settings.workshop == "key" and not settings.keys_file:
        yield say("{prefix}WORKSHOP: no key was given out: {prefix}KEYS_FILE is not set", prefix=PREFIX)
    if settings.hosts == (ANY_HOST,) and not settings.public_url:
        yield say(
            "{prefix}HOSTS: any host needs {prefix}PUBLIC_URL, or links would lead wherever a caller says",
            prefix=PREFIX,
        )
    taken = settings.small_at_once + settings.small_waiting + settings.large_at_once + settings.large_waiting
    if settings.threads < taken + SPARE_THREADS:
        yield (
            say(
                "{prefix}THREADS: has to be at least {least}, one for each request that may run or wait "
                "({taken}) and {spare} for probes and refusals",
                prefix=PREFIX,
                least=taken + SPARE_THREADS,
                taken=taken,
                spare=SPARE_THREADS,
            )
        )


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
            close = near_names(name, known)
            unknown = say("{name}: unknown variable", name=name)
            yield say("{unknown}; did you mean {close}?", unknown=unknown, close=close[0]) if close else unknown
