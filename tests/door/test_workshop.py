"""The maker's pages: open to everyone, to who holds a key, or to nobody, as the settings say."""

import base64

import pytest

from service.app import create_app
from service.settings import Settings, SettingsError, read_settings
from tests.contract.test_document import assert_valid
from tests.door.test_keys import KEY, KEYS

PATHS = ["/workshop", "/workshop/designs/goat_collar"]


@pytest.fixture(scope="module")
def keyed():
    """A caller of a shop whose workshop asks for a key."""
    return create_app(Settings(keys_file=KEYS, workshop="key")).test_client()


def basic(password, name=""):
    """The header in which a browser sends a password (RFC 7617, section 2)."""
    return {"Authorization": "Basic " + base64.b64encode(f"{name}:{password}".encode()).decode()}


@pytest.mark.parametrize("path", PATHS)
def test_the_workshop_is_open_where_nothing_is_said(client, path):
    assert client.get(path).status_code == 200


@pytest.mark.parametrize("path", PATHS)
def test_a_workshop_that_is_switched_off_is_not_there_and_buyers_notice_nothing(client, path):
    off = create_app(Settings(workshop="off")).test_client()
    assert off.get(path).status_code == 404
    for each in ("/", "/designs/goat_collar"):
        assert off.get(each).data == client.get(each).data


@pytest.mark.parametrize("path", PATHS)
def test_a_browser_is_asked_for_a_key_and_let_in_with_it(keyed, path):
    """RFC 7617, section 2: 401 with a challenge, then the password in `Authorization`."""
    refused = keyed.get(path)
    assert (refused.status_code, refused.json["code"]) == (401, "key_needed")
    assert_valid("Problem", refused.json)
    assert refused.headers["WWW-Authenticate"] == 'Basic realm="workshop", charset="UTF-8"'
    for headers in (basic(KEY), basic(KEY, "anybody"), {"Authorization": f"Bearer {KEY}"}):
        answer = keyed.get(path, headers=headers)
        assert answer.status_code == 200
        assert "no-store" in answer.headers["Cache-Control"]
    seen = keyed.get(path, headers={"Accept": "text/html"})
    assert "This page is for the workshop" in seen.text
    assert seen.status_code == 401


@pytest.mark.parametrize(
    "said",
    ["Basic", "Basic !", "Basic YQ", "Basic /w==", f"Basic {KEY}", basic(f"{KEY}x")["Authorization"], "Digest a"],
)
def test_any_other_key_is_refused(keyed, said):
    assert keyed.get("/workshop", headers={"Authorization": said}).status_code == 401


def test_a_password_opens_nothing_but_the_workshop(keyed):
    """The interface of programs takes a key as a bearer token alone (RFC 6750)."""
    assert keyed.get("/v1/shop", headers=basic(KEY)).status_code == 401
    assert keyed.get("/", headers=basic("wrong")).status_code == 200


def test_a_key_is_not_asked_for_where_none_was_given_out():
    with pytest.raises(SettingsError, match="STRAP_WORKSHOP: no key was given out"):
        read_settings({"STRAP_WORKSHOP": "key"})
    with pytest.raises(SettingsError, match="STRAP_WORKSHOP: 'shut' is not one of open, key, off"):
        read_settings({"STRAP_WORKSHOP": "shut"})
