"""The pages on which designs are tried, as HTML. They work without a script; scripts only make them quicker."""

from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import quote

from service.door.pages.rendering import render
from service.shop.designs import Choice, Design
from service.words import say

CARD = (1200, 630)
"""Width and height of a social card's picture, in pixels (common practice)."""
PAGE_POLICY = (
    "default-src 'none'; img-src 'self'; script-src 'self'; style-src 'self'; connect-src 'self'; form-action 'self'; "
    "base-uri 'none'; frame-ancestors 'none'"
)
HTML = "text/html; charset=utf-8"


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """Whom a page is for. What is for the bench (patterns, sheets, codes, terminals) is for the maker alone."""

    home: str
    """The path of the page with every design."""
    designs: str
    """The path that designs' pages lie below."""
    for_maker: bool


BUYERS = Face(home="/", designs="/designs", for_maker=False)
MAKERS = Face(home="/workshop", designs="/workshop/designs", for_maker=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A design as one page shows it."""

    design: Design
    picture: str
    """The URL of its finished look."""
    link: str
    """The URL of its page, with everything chosen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """Why a design cannot be made as chosen, and ways out: each a sentence and the URL that takes it."""

    reason: str
    ways: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """A choice with the texts and titles that may be chosen; what cannot be had stays, and says why."""

    choice: Choice
    value: str
    title: str
    """Of what is chosen, without a reason."""
    options: tuple[tuple[str, str], ...]
    """Text, and title with the reason behind it where it cannot be had."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Download:
    """One form of the pattern to take away. `more` goes behind the choices in the query."""

    title: str
    form: str
    more: str
    url: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Details:
    """What one design's page tells beside the picture. URLs that begin with a slash are this host's."""

    fields: tuple[Field, ...]
    facts: tuple[tuple[str, str], ...]
    price: str | None
    """What one costs, in words; None where it cannot be made or this shop has no price for it."""
    refused: Refused | None
    drawing: str
    """The URL of the working pattern."""
    image: str
    """The URL of the picture for other pages, on the shop's own background."""
    card: str
    """The URL of the picture for a social card."""
    downloads: tuple[Download, ...]
    origin: str
    """Scheme and host of this service."""
    root: str
    """The path that it lies below, without a slash at its end."""
    query: str
    """Every choice, as a query with its question mark."""
    notices: tuple[str, ...] = ()
    """What the link asked for in vain, a sentence each."""


def index_page(shop: str, designs: Iterable[Shown], root: str, face: Face) -> str:
    """Every design with its picture. `root` is the path that the service lies below, without a slash at its end."""
    return render("index.html", shop=shop, root=root, designs=designs, face=face)


def design_page(shop: str, shown: Shown, details: Details, face: Face) -> str:
    """One design: its look and its choices; for the maker its working pattern too, and what to take away."""
    name, site = shown.design.name, details.origin + details.root
    return render(
        "design.html",
        shop=shop,
        root=details.root,
        face=face,
        shown=shown,
        details=details,
        card=CARD,
        alternative=alternative(shown.design, details.fields),
        oembed=oembed_url(details.origin, details.root, shown.link),
        element=f'<script src="{site}/embed.js" async></script>\n<strap-design design="{name}"></strap-design>',
        image=f'<img src="{details.origin}{details.image}" alt="{shown.design.title}">',
    )


def alternative(design: Design, fields: Iterable[Field]) -> str:
    """The text that stands for a picture: the design, and everything that is chosen of it."""
    chosen = (say("{title}: {value}", title=field.choice.title, value=field.title) for field in fields)
    return say("{title}. {choices}", title=design.title, choices="; ".join(chosen))


def oembed_url(origin: str, root: str, link: str) -> str:
    """Where the oEmbed of a page is."""
    return f"{origin}{root}/oembed?url={quote(origin + link, safe='')}"
