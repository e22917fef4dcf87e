"""The pages on which designs are tried, as HTML. They work without a script; scripts only make them quicker."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from html import escape
from urllib.parse import quote

from service.shop.designs import Choice, Design

CARD = (1200, 630)
"""Width and height of a social card's picture, in pixels (common practice)."""
PAGE_POLICY = (
    "default-src 'none'; img-src 'self'; script-src 'self'; style-src 'self'; connect-src 'self'; form-action 'self'; "
    "base-uri 'none'; frame-ancestors 'none'"
)
HTML = "text/html; charset=utf-8"


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

    reasons: tuple[str, ...]
    ways: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """A choice with the texts and titles that may be chosen; what is not makeable stays, greyed out."""

    choice: Choice
    value: str
    options: tuple[tuple[str, str, bool], ...]
    """Text, title, and whether it can be made."""


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


def index_page(shop: str, designs: Iterable[Shown], root: str) -> str:
    """Every design with its picture. `root` is the path that the service lies below, without a slash at its end."""
    cards = "\n".join(_card(each) for each in designs)
    body = (
        '<h1>Straps made to measure</h1>\n<p class="lead">Choose a design. Every measure that is offered here can be '
        f'made.</p>\n<ul class="designs">\n{cards}\n</ul>'
    )
    return whole_page(shop, shop, "", body, root)


def _card(shown: Shown) -> str:
    design = shown.design
    return (
        f'<li><a href="{escape(shown.link)}"><img src="{escape(shown.picture)}" alt="" width="800" height="200">'
        f"<h2>{escape(design.title)}</h2></a><p>{escape(design.about)}</p></li>"
    )


def design_page(shop: str, shown: Shown, details: Details) -> str:
    """One design: its look, its choices, its working pattern, and what to take away."""
    design = shown.design
    body = "\n".join(
        [
            f'<nav aria-label="Way back"><a href="{details.root}/">All designs</a></nav>',
            f'<h1>{escape(design.title)}</h1>\n<p class="lead">{escape(design.about)}</p>',
            *_notices(details),
            _element(shown, details),
            *_facts(details),
            *_drawing(details),
            *_downloads(details),
            *_snippets(shown, details),
        ]
    )
    return whole_page(f"{design.title} · {shop}", shop, _head(shown, details), body, details.root)


def _notices(details: Details) -> Iterator[str]:
    if details.notices:
        sentences = "".join(f"<p>{escape(each)}</p>" for each in details.notices)
        yield f'<div class="notice">{sentences}</div>'


def _element(shown: Shown, details: Details) -> str:
    design = shown.design
    attributes = "".join(f' {field.choice.name}="{escape(field.value)}"' for field in details.fields)
    return (
        f'<strap-design design="{design.name}"{attributes}>\n{_figure(shown, details)}\n'
        f'<form action="{details.root}/designs/{design.name}">{"".join(map(_select, details.fields))}'
        f"<button>Show</button></form>\n{_price(details)}</strap-design>"
    )


def _price(details: Details) -> str:
    return f'<p class="price">{escape(details.price)}</p>\n' if details.price else ""


def _figure(shown: Shown, details: Details) -> str:
    if details.refused is None:
        alt = escape(alternative(shown.design, details.fields))
        return f'<img class="look" src="{escape(shown.picture)}" alt="{alt}" width="1200" height="300">'
    ways = "".join(f'<li><a href="{escape(url)}">{escape(text)}</a></li>' for text, url in details.refused.ways)
    reasons = "".join(f"<p>{escape(reason)}</p>" for reason in details.refused.reasons)
    return f'<div class="refused" role="status">{reasons}<ul>{ways}</ul></div>'


def alternative(design: Design, fields: Iterable[Field]) -> str:
    """The text that stands for a picture: the design, and everything that is chosen of it."""
    chosen = (f"{field.choice.title}: {_title(field)}" for field in fields)
    return f"{design.title}. " + "; ".join(chosen)


def _title(field: Field) -> str:
    return next(title for text, title, _ in field.options if text == field.value)


def _select(field: Field) -> str:
    """What cannot be made is greyed out, but for what is chosen: a browser would leave it out of what it sends."""
    options = "".join(
        f'<option value="{escape(text)}"{state}>{escape(title)}</option>'
        for text, title, makeable in field.options
        for state in (" selected" if text == field.value else "" if makeable else " disabled",)
    )
    name = escape(field.choice.name)
    label = f'<label for="choose-{name}">{escape(field.choice.title)}</label>'
    return f'<div>{label}<select id="choose-{name}" name="{name}">{options}</select></div>'


def _facts(details: Details) -> Iterator[str]:
    rows = "".join(f"<div><dt>{escape(name)}</dt><dd>{escape(value)}</dd></div>" for name, value in details.facts)
    yield f'<dl id="facts" data-made{"" if details.facts else " hidden"}>{rows}</dl>'


def _drawing(details: Details) -> Iterator[str]:
    url = f'"{escape(details.drawing)}" data-form="svg" data-more=""'
    yield from (
        _section("drawing", "The working pattern", details),
        "<p>All pieces at one scale: what is punched, what is marked, where it folds. The file is at true size.</p>",
        '<div class="wide" tabindex="0" role="group" aria-label="The working pattern, to be moved sideways">',
        f'<a href={url}><img class="sheet" src={url} alt="The working pattern, alone and at true size" width="1200" ',
        'height="700" loading="lazy"></a></div></section>',
    )


def _downloads(details: Details) -> Iterator[str]:
    links = "".join(
        f'<li><a href="{escape(each.url)}" data-form="{each.form}" data-more="{escape(each.more)}" download>'
        f"{escape(each.title)}</a></li>"
        for each in details.downloads
    )
    yield f'{_section("take", "To take away", details)}<ul class="downloads">{links}</ul></section>'


def _section(name: str, title: str, details: Details) -> str:
    """The beginning of a section that is there only for what can be made."""
    hidden = " hidden" * bool(details.refused)
    return f'<section data-made{hidden} aria-labelledby="{name}"><h2 id="{name}">{title}</h2>'


def _snippets(shown: Shown, details: Details) -> Iterator[str]:
    name, site = shown.design.name, details.origin + details.root
    curl = f"curl -s '{site}/v1/designs/{name}/pattern.json{details.query}'"
    element = f'<script src="{site}/embed.js" async></script>\n<strap-design design="{name}"></strap-design>'
    image = f'<img src="{details.origin}{details.image}" alt="{shown.design.title}">'
    yield (
        '<section class="screen" aria-labelledby="machines"><h2 id="machines">The same from a terminal</h2>'
        f'<pre tabindex="0"><code id="curl" data-site="{escape(site)}">{escape(curl)}</code></pre>'
        "<h2>In a page of your own</h2><p>With its choices:</p>"
        f'<pre tabindex="0"><code>{escape(element)}</code></pre><p>Or as a picture alone:</p>'
        f'<pre tabindex="0"><code id="image" data-site="{escape(site)}">{escape(image)}</code></pre></section>'
    )


def _head(shown: Shown, details: Details) -> str:
    """What crawlers read: the page's own address, its card and its oEmbed."""
    origin, root, design = details.origin, details.root, shown.design
    properties: dict[str, object] = {
        "og:type": "website",
        "og:title": design.title,
        "og:description": design.about,
        "og:url": origin + shown.link,
        "og:image": origin + details.card,
        "og:image:width": CARD[0],
        "og:image:height": CARD[1],
        "og:image:alt": alternative(design, details.fields),
    }
    if details.refused:
        properties = {name: value for name, value in properties.items() if not name.startswith("og:image")}
    metas = "".join(f'<meta property="{name}" content="{escape(str(each))}">\n' for name, each in properties.items())
    return (
        f'<meta name="description" content="{escape(design.about)}">\n'
        f'<link rel="canonical" href="{escape(origin + shown.link)}">\n{metas}'
        '<meta name="twitter:card" content="summary_large_image">\n'
        f'<link rel="alternate" type="application/json+oembed" href="{escape(oembed_url(origin, root, shown.link))}" '
        f'title="{escape(design.title)}">\n<script src="{root}/embed.js" defer></script>\n'
        f'<script src="{root}/page.js" defer></script>\n'
    )


def oembed_url(origin: str, root: str, link: str) -> str:
    """Where the oEmbed of a page is."""
    return f"{origin}{root}/oembed?url={quote(origin + link, safe='')}"


def whole_page(title: str, shop: str, head: str, body: str, root: str) -> str:
    """A page with the shop's name above and its foot below."""
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="color-scheme" content="light dark">\n'
        f'<title>{escape(title)}</title>\n<link rel="icon" href="{root}/favicon.svg">\n'
        f'<link rel="stylesheet" href="{root}/page.css">\n{head}</head>\n<body>\n'
        f'<header><a href="{root}/">{escape(shop)}</a></header>\n<main>\n{body}\n</main>\n'
        f'<footer><p>Made to be cut from leather. <a href="{root}/docs">How to ask for more</a></p></footer>\n'
        "</body>\n</html>\n"
    )
