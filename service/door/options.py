"""The query parameters that say how an answer is put out: their bounds, and what they mean for which form and view."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, get_args

from service.door.errors import ParameterFault, QueryError
from service.door.query import Parameter, a_length, colour, one_of, whole
from service.drawing.printed.document import BenchSheet
from service.drawing.printed.paper import PaperName
from service.forms.form import Form, OutputOptions, View
from service.forms.listed import FORMS, forms_in, forms_with
from service.schemas.spec import UNITS
from service.schemas.variations import asked
from service.settings import Settings
from service.strap.model.pattern import PieceName
from service.strap.plane.lengths import MM, parse_length
from service.words import say, say_list

NAMES = ("view", "piece", "units", "dpi", "width_px", "height_px", "background", "paper", "sheet", "kerf", "hole")
"""Of the parameters, in the order in which a canonical URL has them."""
_VIEWS_OF: Mapping[str, tuple[View, ...]] = {
    "piece": ("pattern", "cutter"),
    "height_px": ("finished", "worn"),
    "background": ("finished", "worn"),
    "paper": ("pattern",),
    "sheet": ("pattern",),
    "kerf": ("cutter",),
    "vary": ("pattern",),
    "hole": ("worn",),
}
"""The views that each of these has a meaning for."""
_TITLES: Mapping[View, str] = {
    "pattern": "working drawings",
    "finished": "finished looks",
    "cutter": "cut lines",
    "worn": "straps as they are worn",
}
_WIDEST_KERF = 5 * MM
_MOST_HOLES = 100
"""Size holes, or studs, that `hole` may count."""


def output_parameters(settings: Settings, forms: Sequence[Form] = FORMS) -> tuple[Parameter, ...]:
    """Every query parameter of an answer in one of these forms, bounded by the settings."""
    no_cutter = _titles(form for form in forms if form.views and "cutter" not in form.views)
    by_dpi, by_width, framed = (
        _titles(form for form in forms if name in form.parameters) for name in ("dpi", "width_px", "height_px")
    )
    return (
        one_of(
            "view",
            say(
                "Which drawing: the working drawing, the finished look, the strap as it is worn (closed to a loop, or "
                "hung up), or cut lines only for a cutter, in layers text, fold, mark, punch and cut (no {no_cutter})",
                no_cutter=no_cutter,
            ),
            *get_args(View),
        ),
        one_of("piece", "One piece of the strap alone", *get_args(PieceName)),
        one_of("units", "Units of all readings, instead of the spec's own", *UNITS),
        whole("dpi", say("Resolution of a {by_dpi}; not together with width_px", by_dpi=by_dpi), 10, settings.dpi_max),
        whole(
            "width_px",
            say("Width of a {by_width} in pixels; not together with dpi", by_width=by_width),
            16,
            settings.width_px_max,
        ),
        whole(
            "height_px",
            say(
                "Height of a {framed} of the finished or the worn look, together with width_px: the background "
                "fills the frame",
                framed=framed,
            ),
            16,
            settings.width_px_max,
        ),
        colour("background", "Behind the finished or the worn look, instead of the shop's: rrggbb, or transparent"),
        one_of("paper", "Paper of a printed pattern; a4 where nothing is said", *get_args(PaperName)),
        one_of(
            "sheet",
            "Whether the bench sheet follows a printed pattern, is left out, or comes alone; one piece alone has none "
            "unless it is asked for",
            *get_args(BenchSheet),
        ),
        a_length("kerf", "How wide the cutter's cut is, up to 5 mm; with view=cutter", _WIDEST_KERF),
        whole(
            "hole",
            "At which hole (or stud) a strap is closed as it is worn, counted as its pattern counts them; the one "
            "of its nominal size where nothing is said; with view=worn",
            1,
            _MOST_HOLES,
        ),
    )


MOST_VARIED = 4
"""Things that one request may turn."""
_LONGEST = 200


def vary_parameters() -> tuple[Parameter, ...]:
    """What shows a strap before and after something is turned, and whether prices are told with it."""

    def read(text: str) -> str:
        if len(text) > _LONGEST:
            raise ValueError(say("has to have 1 to {most} characters", most=_LONGEST))
        asked(text)
        return text

    meaning = (
        "What is turned, to be seen before and after: a figure of the shop's rules (`rules.edge_web:5 mm`), a member "
        "of the spec by its place (`size.girth:15 in`, `ornaments.count:7`) or a good (`buckle:heel_bar_32`, `ring:`, "
        "`fastener:`, `ornament:`). It may be given four times. The answer is that of the strap as it is asked for, "
        "with `varied` beside; a drawing is the working drawing as it is turned, what it was thin and dashed over it"
    )
    item = {"type": "string", "minLength": 3, "maxLength": _LONGEST, "examples": ["rules.edge_web:5 mm"]}
    schema = {"type": "array", "items": item, "maxItems": MOST_VARIED}
    return (
        Parameter(name="vary", meaning=meaning, schema=schema, read=read, most=MOST_VARIED),
        one_of("price", "Whether the price before and after is told, with vary", "true"),
    )


def refusals_of(forms: Iterable[Form]) -> tuple[str, ...]:
    """The codes of what can be refused of any of these forms."""
    return tuple(code for form in forms for code in form.refusals)


def _titles(forms: Iterable[Form]) -> str:
    return say_list((form.title for form in forms), "{most} or {last}")


def options_of(form: Form, values: Mapping[str, Any], settings: Settings) -> OutputOptions:
    """The options of an answer. Raises `QueryError` for parameters without a meaning for its form or view."""
    view: View = values["view"] if "view" in values else _usual_view(form)
    faults = tuple(_faults(form, view, values))
    if faults:
        raise QueryError(faults)
    dpi, width_px = values.get("dpi"), values.get("width_px")
    if dpi is None and width_px is None:
        dpi, width_px = _default_size(form, view, settings)
    return OutputOptions(
        form=form,
        view=view,
        units=values.get("units"),
        piece=values.get("piece"),
        dpi=dpi,
        width_px=width_px,
        height_px=values.get("height_px"),
        background=values.get("background"),
        paper=values.get("paper", "a4"),
        sheet=values.get("sheet", "false" if "piece" in values else "true"),
        kerf=parse_length(values["kerf"], "mm") if "kerf" in values else 0,
        hole=values.get("hole"),
        vary=values.get("vary", ()),
        price="price" in values,
    )


def _usual_view(form: Form) -> View:
    """The view that is meant where the caller names none."""
    return form.views[0] if form.views else "pattern"


def _default_size(form: Form, view: View, settings: Settings) -> tuple[int | None, int | None]:
    """Resolution and width of a raster picture where the caller names neither."""
    if view == "pattern" and "dpi" in form.parameters:
        return settings.dpi_default, None
    if "width_px" in form.parameters:
        return None, min(settings.width_px_default, settings.width_px_max)
    return None, None


def _faults(form: Form, view: View, values: Mapping[str, Any]) -> Iterator[ParameterFault]:
    yield from _of_other_forms(form, values)
    if "dpi" in values and "width_px" in values:
        yield ParameterFault("width_px", "one_of", "give dpi or width_px, not both")
    yield from _of_other_views(form, view, values)
    for name in ("piece", "paper", "sheet"):
        if name in values and "vary" in values:
            yield ParameterFault(name, "without_meaning", "belongs to patterns of which nothing is varied")
    if "price" in values and "vary" not in values:
        yield ParameterFault("price", "without_meaning", "belongs to vary")
    if "height_px" in values and "width_px" not in values:
        yield ParameterFault("height_px", "one_of", "give width_px as well: the two make the frame")


def _of_other_forms(form: Form, values: Mapping[str, Any]) -> Iterator[ParameterFault]:
    for name in values:
        if name not in form.takes:
            names = say_list(each.name for each in forms_with(name))
            yield ParameterFault(
                name, "without_meaning", say("belongs to {names} only, not to {form}", names=names, form=form.name)
            )


def _of_other_views(form: Form, view: View, values: Mapping[str, Any]) -> Iterator[ParameterFault]:
    """Parameters that another view has a meaning for, and a view that does not come in this form."""
    for name, views in _VIEWS_OF.items():
        if name in values and view not in views:
            detail = say(
                "belongs to {views} only, not to view={view}",
                views=say_list(f"view={each}" for each in views),
                view=view,
            )
            yield ParameterFault(name, "without_meaning", detail)
    if form.views and view not in form.views:
        names = say_list(each.name for each in forms_in(view))
        detail = say("{titles} come as {names} only, not as {form}", titles=_TITLES[view], names=names, form=form.name)
        yield ParameterFault("view", "without_meaning", detail)
