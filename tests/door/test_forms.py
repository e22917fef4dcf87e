"""What holds for every form of output in the list, so that a new one is asked all of this."""

import os
import subprocess
import sys

import pytest

from service.app import create_app
from service.forms.form import View
from service.forms.listed import FORMS
from service.settings import Settings
from service.words import say_list
from tests.support.door import HANGING

CODE = "eyJjb25zdHJ1Y3Rpb24iOiJvcGVuIiwic2l6ZSI6eyJib2R5X2xlbmd0aCI6IjI0IGluIn19"
BY_NAME = {form.name: form for form in FORMS}
VIEWS = View.__args__
VALUES = {
    "view": "{view}", "piece": "strap", "units": "mm", "dpi": "40", "width_px": "200", "height_px": "90",
    "background": "f4efe6", "paper": "letter", "sheet": "only", "kerf": "0.2 mm",
}  # fmt: skip
"""A value for each parameter of a drawing."""
NEEDS = {
    "height_px": {"width_px": "200", "view": "finished"},
    "background": {"view": "finished"},
    "kerf": {"view": "cutter"},
}
ELSEWHERE = """
import hashlib, sys
from service.app import create_app
from service.words import say_list
client = create_app().test_client()
for path in sys.argv[1:]:
    print(hashlib.sha256(client.get(path).data).hexdigest(), file=sys.stderr)
"""
"""Prints a digest of each answer, in a process of its own."""

forms = pytest.mark.parametrize("form", FORMS, ids=lambda form: form.name)


def test_no_two_forms_are_alike():
    for member in ("name", "title", "media_type"):
        assert len({getattr(form, member) for form in FORMS}) == len(FORMS)


@forms
def test_suffix_and_accept_give_the_same_bytes(client, form):
    named = client.get(f"/v1/patterns/{CODE}{form.suffix}")
    liked = client.get(f"/v1/patterns/{CODE}", headers={"Accept": form.media_type})
    posted = client.post("/v1/patterns", json=HANGING, headers={"Accept": form.media_type})
    assert (named.status_code, named.mimetype) == (200, form.media_type)
    assert (liked.status_code, liked.mimetype, liked.data) == (200, form.media_type, named.data)
    assert (posted.status_code, posted.mimetype) == (200, form.media_type)


@forms
@pytest.mark.parametrize("view", VIEWS)
def test_a_view_is_given_or_refused_by_name(client, form, view):
    answer = client.get(f"/v1/patterns/{CODE}{form.suffix}", query_string={"view": view})
    if view in form.views:
        assert answer.status_code == 200
        if view == form.views[0]:
            assert answer.data == client.get(f"/v1/patterns/{CODE}{form.suffix}").data
        return
    assert (answer.status_code, answer.json["errors"][0]["parameter"]) == (422, "view")
    assert answer.json["errors"][0]["code"] == "without_meaning"


@forms
@pytest.mark.parametrize("name", VALUES)
def test_a_parameter_has_a_meaning_or_is_refused_with_the_forms_that_it_has_one_for(client, form, name):
    values = {name: VALUES[name].format(view=form.views[0] if form.views else "pattern")}
    needed = NEEDS.get(name, {}) if name in form.parameters else {}
    answer = client.get(f"/v1/patterns/{CODE}{form.suffix}", query_string=values | needed)
    if name in form.parameters:
        assert answer.status_code == 200, answer.text
        return
    fault = next(each for each in answer.json["errors"] if each["parameter"] == name)
    takers = [each.name for each in FORMS if name in each.parameters]
    assert (fault["code"], fault["detail"]) == (
        "without_meaning",
        f"belongs to {say_list(takers)} only, not to {form.name}",
    )


@forms
def test_the_document_tells_what_a_form_takes(client, form):
    operation = client.get("/openapi.json").json["paths"][f"/v1/patterns/{{code}}{form.suffix}"]["get"]
    told = {each["name"] for each in operation["parameters"] if each["in"] == "query"}
    assert told == form.parameters
    assert list(operation["responses"]["200"]["content"]) == [form.media_type]


@forms
def test_a_page_offers_what_the_form_says(client, form):
    page = client.get("/workshop/designs/bell_garter").text
    for offer in form.downloads:
        assert f">{offer.title}</a>" in page
    assert page.count(f'data-form="{form.name}" data-more="') >= len(form.downloads)


def test_the_same_bytes_come_from_another_process(shop):
    paths = [f"/v1/patterns/{CODE}{form.suffix}" for form in FORMS]
    command = [sys.executable, "-c", ELSEWHERE, *paths]
    found = [
        subprocess.run(
            command, env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, text=True, check=True
        ).stderr.split()
        for seed in ("1", "2")
    ]
    assert found[0] == found[1]
    assert len(set(found[0])) == len(FORMS)
    tags = [create_app(Settings(), shop).test_client().get(path).headers["ETag"] for path in paths]
    assert len(set(tags)) == len(FORMS)
